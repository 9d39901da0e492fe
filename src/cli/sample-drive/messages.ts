import { EVENTS_MS, type Moment } from './drive.ts';

/** A physical value, a state by its name, or no value. */
export type Told = number | string | null;

/** A message of the logs: what its sender says at a moment; signals left out are at their first state, or zero. */
export interface LoggedMessage {
  /** `side:Message`. */
  readonly ref: string;
  readonly values: (moment: Moment) => Readonly<Record<string, Told>>;
}

const onOff = (on: boolean): string => (on ? 'On' : 'Off');
const pressed = (down: boolean): string => (down ? 'Pressed' : 'Released');
const within = (ms: number, from: number, forMs: number): boolean => ms >= from && ms < from + forMs;
/** A button is held for so long. */
export const PRESS_MS = 250;
const pressedAt = (ms: number, moments: readonly number[]): string =>
  pressed(moments.some((at) => within(ms, at, PRESS_MS)));

/** The messages that routes of the sample map read, without the fastest that say nothing about the drive. */
export const MESSAGES: readonly LoggedMessage[] = [
  {
    ref: 'donor:EngineData1',
    values: ({ engineRpm, torquePercent, runState }) => ({
      EngineSpeed: engineRpm,
      ActualTorque: torquePercent,
      DemandTorque: torquePercent,
      RunState: runState,
    }),
  },
  {
    ref: 'donor:EngineData2',
    values: ({ pedalPercent, brake, torquePercent, kmh }) => ({
      PedalPosition: pedalPercent,
      Throttle: pedalPercent * 0.8,
      Load: Math.max(0, torquePercent),
      BrakeSeen: pressed(brake),
      IdleControl: onOff(kmh === 0),
    }),
  },
  {
    ref: 'donor:EngineLimits',
    values: ({ engineRpm }) => ({
      MinTorque: engineRpm > 0 ? -10 : 0,
      MaxTorque: engineRpm > 0 ? 100 : 0,
      ReferenceTorque: 600,
    }),
  },
  {
    ref: 'donor:CruiseData',
    values: ({ cruise }) => ({
      State: cruise,
      SetSpeed: cruise === 'Active' ? 48 : null,
      CruiseTorque: cruise === 'Active' ? 14 : 0,
    }),
  },
  {
    ref: 'donor:TransData1',
    values: ({ outputRpm, inputRpm, shift, converter }) => ({
      OutputSpeed: outputRpm,
      InputSpeed: inputRpm,
      Shift: shift,
      Converter: converter,
    }),
  },
  {
    ref: 'donor:TransData2',
    values: ({ range, gear }) => ({
      LeverRange: range,
      CurrentGear: String(gear),
      TargetGear: String(gear),
      ReverseSelected: onOff(gear === 'R'),
      ActualRatio: null,
      MaxGear: '8',
    }),
  },
  {
    ref: 'donor:EngineTemps',
    values: ({ coolantC }) => ({ Coolant: coolantC, Oil: coolantC + 4.5, Intake: 31, Fuel: 28, Exhaust: 320 }),
  },
  {
    ref: 'donor:EnginePressures',
    values: ({ engineRpm, torquePercent, compressorOn }) => ({
      Oil: engineRpm === 0 ? 0 : 100 + engineRpm * 0.11,
      Manifold: engineRpm === 0 ? 98.5 : 34 + Math.max(0, torquePercent) * 0.6,
      Baro: 98.5,
      Rail: engineRpm === 0 ? 0 : 12_000,
      Refrigerant: compressorOn ? 1296 : 720,
    }),
  },
  { ref: 'donor:TransModes', values: () => ({ DriveMode: 'Normal' }) },
  {
    ref: 'donor:TransTemps',
    values: ({ coolantC }) => ({ Fluid: coolantC - 6, ConverterOut: coolantC, Pan: coolantC - 8 }),
  },
  {
    ref: 'donor:Charging',
    values: ({ volts, engineRpm }) => ({
      FieldDuty: engineRpm > 400 ? 44 : 0,
      RegulatedVoltage: 14.2,
      SystemVoltage: volts,
    }),
  },
  {
    ref: 'donor:FuelData',
    values: ({ litresPerHour, kmh, torquePercent, engineRpm }) => ({
      FuelRate: litresPerHour,
      Consumption: kmh >= 5 ? Math.max(2, Math.min(400, (litresPerHour / kmh) * 100)) : null,
      PowerOut: (Math.max(0, torquePercent) * engineRpm * 6) / 9549,
    }),
  },
  {
    ref: 'donor:EngineLamps',
    values: ({ key, engineRpm, cruise }) => ({
      Mil: onOff(engineRpm === 0 && key !== 'Off'),
      OilLow: onOff(engineRpm === 0),
      ChargeFault: onOff(engineRpm === 0),
      CruiseLamp: onOff(cruise === 'Active'),
    }),
  },
  { ref: 'donor:FuelTotals', values: ({ litres }) => ({ TripFuel: 41 + litres, TotalFuel: 8210.5 + litres }) },
  { ref: 'donor:TransStates', values: ({ range }) => ({ ManualActive: onOff(range === 'M') }) },
  { ref: 'donor:EngineService', values: () => ({ RunningTime: 1234.5, OilLife: 72, StartCount: 4021 }) },
  {
    ref: 'donor:EngineTotals',
    values: ({ revolutions }) => ({ TotalRevolutions: 154_000_000 + Math.floor(revolutions) }),
  },
  {
    ref: 'donor:Cooling',
    values: ({ coolantC, compressorOn }) => ({
      FanRequest: compressorOn ? 40 : coolantC > 88 ? 20 : 0,
      ShutterRequest: 100,
      CompressorOn: onOff(compressorOn),
      CompressorTorque: compressorOn ? 12 : 0,
    }),
  },
  { ref: 'donor:KeyUnitStatus', values: () => ({ Authorization: 'Authorized', KeysLearned: 3 }) },
  {
    ref: 'host:BrakeStatus1',
    values: ({ kmh, brakeKpa }) => ({ VehicleSpeed: kmh / 1.609344, BrakePressure: brakeKpa }),
  },
  {
    ref: 'host:CruiseSwitches',
    values: ({ ms }) => ({
      CruiseMain: onOff(ms >= EVENTS_MS.cruise && ms < EVENTS_MS.keyOff),
      CruiseSet: pressedAt(ms, [EVENTS_MS.cruiseSet]),
      CruiseCancel: pressedAt(ms, [EVENTS_MS.cruiseCancel]),
      ShiftUp: pressedAt(ms, EVENTS_MS.shiftUp),
      ShiftDown: pressedAt(ms, EVENTS_MS.shiftDown),
    }),
  },
  {
    ref: 'host:BodyStatus1',
    values: ({ key, range, brake }) => ({
      KeyState: key,
      ParkBrake: range === 'P' ? 'Applied' : 'Released',
      BrakePedal: pressed(brake),
    }),
  },
  { ref: 'host:BrakeLamps', values: () => ({}) },
  { ref: 'host:KeyFob', values: () => ({}) },
  {
    ref: 'host:HvacStatus',
    values: ({ evaporatorF }) => ({
      AmbientTemp: 26.5,
      CabinTemp: 27,
      SunLoad: 400,
      Humidity: 45,
      BlowerCurrent: 6,
      DuctLeft: (evaporatorF - 32) / 1.8 + 3,
      DuctRight: (evaporatorF - 32) / 1.8 + 3,
    }),
  },
  {
    ref: 'host:ChargeRequest',
    values: ({ engineRpm }) => ({ VoltageSetpoint: engineRpm > 400 ? 14.2 : 12.6, BodyCurrent: 18 }),
  },
  { ref: 'host:BodyStatus2', values: () => ({ TyreSpeedLimit: 190, AmbientTemp: 26.5 }) },
  {
    ref: 'host:HvacRequest',
    values: ({ acWanted, evaporatorF, compressorOn }) => ({
      AcRequest: onOff(acWanted),
      EvapTemp: evaporatorF,
      Blower: 60,
      FanRequest: compressorOn ? 30 : 0,
      SetLeft: 70,
      SetRight: 70,
    }),
  },
  { ref: 'host:TrailerStatus', values: () => ({ SpeedLimit: 250 }) },
  {
    ref: 'host:Odometer',
    values: ({ metres }) => ({
      TotalDistance: 61_204.3 + metres / 1609.344,
      TripA: 12 + metres / 1609.344,
      TripB: 212.5 + metres / 1609.344,
    }),
  },
  {
    ref: 'host:BatteryStatus',
    values: ({ volts, runState }) => ({
      Current: runState === 'Cranking' ? -310 : runState === 'Running' ? 12 : -9,
      Voltage: volts,
      Temp: 31,
      StateOfCharge: 84,
      StateOfHealth: 92,
    }),
  },
];
