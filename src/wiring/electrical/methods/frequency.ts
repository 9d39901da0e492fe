import { OPERATING_SUPPLY_V } from '../../tables/electrical-classes.ts';
import { currentSense } from '../conditioning.ts';
import type { FitDraft, Pair } from '../fit-draft.ts';
import { withPrefix, type Conditioning } from '../fit-types.ts';
import { preferredAtLeast } from '../preferred.ts';
import { frequencyMeasures } from './levels.ts';

function followed(pair: Pair, conditioning: readonly Conditioning[], direct: FitDraft['direct']): FitDraft {
  const list = frequencyMeasures(pair.driver, pair.receiver);
  if (list.some(({ holds }) => holds === false))
    return {
      direct: 'misreads',
      measures: list,
      conditioning: [],
      because: 'the receiver cannot follow the frequency',
      onLevel: null,
    };
  return { direct, measures: list, conditioning, because: pair.rule.says, onLevel: null };
}

/** A coil sensor on the input made for it. */
export function fitCoilSensor(pair: Pair): FitDraft {
  return followed(pair, [], 'works');
}

/** A coil sensor on a digital input. */
export function fitZeroCrossing(pair: Pair): FitDraft {
  const detector: Conditioning = {
    kind: 'zero-crossing',
    what: 'zero-crossing conditioner with adaptive threshold, differential',
    components: [],
  };
  return followed(pair, [detector], 'damages');
}

/** A digital speed signal on a coil-sensor input: coupled by a capacitor and brought down to 2 V peak to peak. */
export function fitAttenuate(pair: Pair): FitDraft {
  const highest = pair.driver.of.class === 'push-pull-5v' ? 5 : OPERATING_SUPPLY_V.max;
  const bottom = 1000;
  const top = preferredAtLeast('E24', bottom * (highest / 2 - 1));
  const attenuator: Conditioning = {
    kind: 'attenuator',
    what: `1 µF in series, ${withPrefix(top, 'Ohm')} over ${withPrefix(bottom, 'Ohm')}: about 2 V peak to peak from ${highest} V; a pull-up on the sensor side`,
    components: [
      { role: 'coupling', value: 1e-6, unit: 'F', series: 'E6', watt: null },
      { role: 'divider, top', value: top, unit: 'Ohm', series: 'E24', watt: highest ** 2 / (top + bottom) },
      { role: 'divider, bottom', value: bottom, unit: 'Ohm', series: 'E24', watt: null },
    ],
  };
  return followed(pair, [attenuator], 'misreads');
}

/** 7 and 14 mA of an active wheel-speed sensor. Common practice. */
const TWO_WIRE_A = { low: 0.007, high: 0.014 } as const;

/** A two-level current into a digital input. */
export function fitCurrentSense(pair: Pair): FitDraft {
  return followed(pair, [currentSense(TWO_WIRE_A.low, TWO_WIRE_A.high, 1.4)], 'does-nothing');
}
