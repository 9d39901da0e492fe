import type { Electrical } from '../../model/index.ts';
import type { CavityConductor } from '../../wiring/index.ts';
import type { Wiring } from './wiring.ts';

/**
 * What a meter shows at a cavity against ground, by the electrical class of the circuit: common practice for a 12 V system.
 * Null where neither end says enough.
 */
export function nominalText({ plan }: Wiring, { key }: CavityConductor): string | null {
  const planned = plan.conductors.find(({ circuit }) => circuit.key === key);
  if (!planned) return null;
  const { circuit } = planned;
  const { fromElectrical, toElectrical } = circuit;
  switch (circuit.kind) {
    case 'bus':
      return '2.5 V idle; 1.5 … 3.5 V with traffic; off: 0 V or floating';
    case 'ground':
    case 'sensor-return':
      return '0 V in every key state';
    case 'sensor-supply':
      return '5 V key on; 0 V off';
    case 'feed':
      return `battery voltage in ${liveText(plan.fuses.find(({ fuse }) => fuse === circuit.fuse?.id)?.liveIn ?? [])}; else 0 V`;
    default:
      return byClass(fromElectrical) ?? byClass(toElectrical);
  }
}

function liveText(states: readonly string[]): string {
  return states.length === 0 ? 'key states not said' : states.length === 4 ? 'every key state' : states.join(', ');
}

function byClass(electrical: Electrical | null): string | null {
  if (electrical === null) return null;
  const { minV, maxV, ohm, frequencyHz, pullToV, openV } = electrical;
  switch (electrical.class) {
    case 'feed':
      return 'battery voltage where its feed is live';
    case 'power-ground':
    case 'sensor-return':
    case 'shield-drain':
      return '0 V in every key state';
    case 'can-high':
    case 'can-low':
      return '2.5 V idle; 1.5 … 3.5 V with traffic; off: 0 V or floating';
    case 'switched-battery':
    case 'coil-to-ground':
    case 'push-pull-12v':
    case 'lamp':
    case 'motor':
      return 'battery voltage active; 0 V or floating at rest';
    case 'switched-ground':
    case 'open-collector':
    case 'coil-to-battery':
      return `0 V active; ${openV === undefined ? 'floats or is pulled up' : `${openV} V`} at rest`;
    case 'push-pull-5v':
      return '5 V active; 0 V at rest';
    case 'ratiometric-5v':
    case 'absolute-voltage':
    case 'input-analogue':
      return minV !== undefined && maxV !== undefined
        ? `${minV} … ${maxV} V key on; 0 V off`
        : 'between supply and return key on; 0 V off';
    case 'thermistor':
    case 'resistive':
    case 'resistor-ladder':
    case 'resistive-gauge':
    case 'input-analogue-pull-up':
      return ohm === undefined
        ? 'by its resistance, powered from the reader'
        : `${ohm[0]} … ${ohm[1]} Ω to return, unplugged`;
    case 'pwm-battery':
    case 'pwm-ground':
      return `0 V / battery pulses${frequencyHz === undefined ? '' : ` at ${frequencyHz[0]} … ${frequencyHz[1]} Hz`} when commanded`;
    case 'hall-frequency':
    case 'reluctance-frequency':
    case 'input-frequency':
    case 'input-reluctance':
      return `pulses${frequencyHz === undefined ? '' : ` of ${frequencyHz[0]} … ${frequencyHz[1]} Hz`} in motion; steady at rest`;
    case 'input-pull-up-12v':
    case 'input-pull-up-5v':
      return `${pullToV ?? (electrical.class === 'input-pull-up-5v' ? 5 : 12)} V at rest; 0 V active`;
    case 'input-pull-down':
      return '0 V at rest; battery voltage active';
    case 'two-wire-current':
    case 'serial-sensor':
      return null;
  }
}
