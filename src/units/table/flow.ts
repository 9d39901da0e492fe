import { NIST_8, type Row, SI, rowsOf } from './row.ts';

const LITRE = 'litre 0.001 m³, SI Brochure, 9th ed. (2019), Table 8';
const US_GALLON = '231*0.0254*0.0254*0.0254';
const US_VOLUME = `${NIST_8}: US gallon, 231 cubic inches`;
const UK_VOLUME = `${NIST_8}: imperial gallon 4.546 09 E−03 m³, exact`;
const POUND = 'NIST SP 811 (2008), B.8: pound (avoirdupois) 4.535 9237 E−01 kg, exact';
const GASOLINE = '40 CFR part 600: 33 705 W·h per gallon of gasoline (from memory)';
const STROKE = 'one stroke of one cylinder, declared here; never converted to an amount without it';

/** Volume and mass flow, amounts per stroke and per distance, fuel and energy use both ways. */
export const FLOW: readonly Row[] = [
  ...rowsOf('volume-flow', [
    ['m3/s', 'cubic metre per second', 'm³/s', '1', SI],
    ['m3/min', 'cubic metre per minute', 'm³/min', '1/60', SI],
    ['m3/h', 'cubic metre per hour', 'm³/h', '1/3600', SI],
    ['L/s', 'litre per second', 'L/s', '0.001', LITRE],
    ['L/min', 'litre per minute', 'L/min', '0.001/60', LITRE],
    ['L/h', 'litre per hour', 'L/h', '0.001/3600', LITRE],
    ['mL/s', 'millilitre per second', 'mL/s', '1e-6', LITRE],
    ['mL/min', 'millilitre per minute', 'mL/min', '1e-6/60', LITRE],
    ['mL/h', 'millilitre per hour', 'mL/h', '1e-6/3600', LITRE],
    ['cm3/s', 'cubic centimetre per second', 'cm³/s', '1e-6', SI],
    ['cm3/min', 'cubic centimetre per minute', 'cm³/min', '1e-6/60', SI],
    ['mm3/s', 'cubic millimetre per second', 'mm³/s', '1e-9', SI],
    ['[gal_us]/h', 'US gallon per hour', 'gal (US)/h', `${US_GALLON}/3600`, US_VOLUME],
    ['[gal_us]/min', 'US gallon per minute', 'gal (US)/min', `${US_GALLON}/60`, US_VOLUME],
    ['[gal_br]/h', 'imperial gallon per hour', 'gal (UK)/h', '0.00454609/3600', UK_VOLUME],
    ['[gal_br]/min', 'imperial gallon per minute', 'gal (UK)/min', '0.00454609/60', UK_VOLUME],
    ['[cft_i]/min', 'cubic foot per minute', 'ft³/min', '0.3048*0.3048*0.3048/60', NIST_8],
  ]),
  ...rowsOf('mass-flow', [
    ['kg/s', 'kilogram per second', 'kg/s', '1', SI],
    ['kg/min', 'kilogram per minute', 'kg/min', '1/60', SI],
    ['kg/h', 'kilogram per hour', 'kg/h', '1/3600', SI],
    ['t/h', 'tonne per hour', 't/h', '1000/3600', SI],
    ['g/s', 'gram per second', 'g/s', '0.001', SI],
    ['g/min', 'gram per minute', 'g/min', '0.001/60', SI],
    ['g/h', 'gram per hour', 'g/h', '0.001/3600', SI],
    ['mg/s', 'milligram per second', 'mg/s', '1e-6', SI],
    ['mg/min', 'milligram per minute', 'mg/min', '1e-6/60', SI],
    ['[lb_av]/s', 'pound per second', 'lb/s', '0.45359237', POUND],
    ['[lb_av]/min', 'pound per minute', 'lb/min', '0.45359237/60', POUND],
    ['[lb_av]/h', 'pound per hour', 'lb/h', '0.45359237/3600', POUND],
  ]),
  ...rowsOf('mass-per-stroke', [
    ['mg/{stroke}', 'milligram per stroke', 'mg/stroke', '1e-6', STROKE],
    ['g/{stroke}', 'gram per stroke', 'g/stroke', '0.001', STROKE],
  ]),
  ...rowsOf('volume-per-stroke', [['mm3/{stroke}', 'cubic millimetre per stroke', 'mm³/stroke', '1e-9', STROKE]]),
  ...rowsOf('mass-per-distance', [
    ['g/km', 'gram per kilometre', 'g/km', '1e-6', SI],
    ['mg/km', 'milligram per kilometre', 'mg/km', '1e-9', SI],
    ['kg/m', 'kilogram per metre', 'kg/m', '1', SI],
  ]),
  ...rowsOf('fuel-consumption', [
    ['L/(100.km)', 'litre per 100 kilometres', 'L/100 km', '0.001/100000', LITRE],
    ['L/km', 'litre per kilometre', 'L/km', '0.001/1000', LITRE],
    ['mL/(100.km)', 'millilitre per 100 kilometres', 'mL/100 km', '1e-6/100000', LITRE],
    ['mL/km', 'millilitre per kilometre', 'mL/km', '1e-6/1000', LITRE],
    ['[gal_us]/[mi_i]', 'US gallon per mile', 'gal (US)/mi', `${US_GALLON}/1609.344`, US_VOLUME],
  ]),
  ...rowsOf('fuel-economy', [
    ['km/L', 'kilometre per litre', 'km/L', '1000/0.001', LITRE],
    ['m/L', 'metre per litre', 'm/L', '1/0.001', LITRE],
    ['[mi_i]/[gal_us]', 'mile per US gallon', 'mpg (US)', `1609.344/231/0.0254/0.0254/0.0254`, US_VOLUME],
    ['[mi_i]/[gal_br]', 'mile per imperial gallon', 'mpg (UK)', '1609.344/0.00454609', UK_VOLUME],
    ['[mi_i]/L', 'mile per litre', 'mi/L', '1609.344/0.001', LITRE],
  ]),
  ...rowsOf('energy-consumption', [
    ['kW.h/(100.km)', 'kilowatt hour per 100 kilometres', 'kWh/100 km', '3.6e6/100000', SI],
    ['kW.h/km', 'kilowatt hour per kilometre', 'kWh/km', '3600', SI],
    ['W.h/km', 'watt hour per kilometre', 'Wh/km', '3.6', SI],
    ['W.h/[mi_i]', 'watt hour per mile', 'Wh/mi', '3600/1609.344', NIST_8],
    ['kW.h/[mi_i]', 'kilowatt hour per mile', 'kWh/mi', '3.6e6/1609.344', NIST_8],
  ]),
  ...rowsOf('energy-economy', [
    ['km/(kW.h)', 'kilometre per kilowatt hour', 'km/kWh', '1000/3.6e6', SI],
    ['[mi_i]/(kW.h)', 'mile per kilowatt hour', 'mi/kWh', '1609.344/3.6e6', NIST_8],
    ['[mi_i]/(33705.W.h)', 'mile per gallon of gasoline equivalent', 'mpge', '1609.344/33705/3600', GASOLINE],
  ]),
  ...rowsOf('specific-consumption', [['g/(kW.h)', 'gram per kilowatt hour', 'g/kWh', '0.001/3.6e6', SI]]),
];
