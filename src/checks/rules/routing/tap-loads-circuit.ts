import type { Endpoint, WireEntry } from '../../../model/index.ts';
import { commonPractice, named, type Rule } from '../../rule.ts';
import type { WireInput } from '../../examples/documents.ts';
import { wireCase } from '../../examples/wire-case.ts';

const LOADED = new Set(['thermistor', 'resistive', 'resistor-ladder', 'reluctance-frequency', 'two-wire-current']);
const DRAWING = new Set(['coil-to-battery', 'coil-to-ground', 'lamp', 'motor', 'resistive-gauge']);

export const rule: Rule = {
  id: 'routing/tap-loads-circuit',
  severity: 'fix',
  title: 'Tapped wire loads or back-feeds the circuit it is taken from',
  why: 'A second pull-up on a resistive sender shifts its reading, a second input on a reluctance sensor drowns its signal at crank, and a load without a diode feeds current back when the two sides are not live together.',
  sources: [
    {
      source: 'Computed: a 2.5 kΩ thermistor on two pull-ups reads as 5.0 kΩ, about 15 K cold',
      provenance: 'computed',
    },
    commonPractice('tap with a buffer, or isolate with a diode'),
  ],
  check: {
    route(context, route) {
      const target = context.pairing.find(route.to);
      const loads = loadOf(target);
      const taps = route.from.flatMap((ref) => {
        const entry = context.pairing.find(ref);
        return entry?.kind === 'wire' && context.readersPresent(entry).length > 0 ? [entry] : [];
      });
      // An interface input is made to look without loading; its class is judged with the wiring rules.
      if (taps.length === 0 || route.carrier !== 'hard-wire' || target?.kind !== 'wire') return null;
      const diode = (route.via ?? []).some((id) => context.part(id)?.kind === 'diode');
      return taps.flatMap((tap) => {
        const why = reasonOf(tap, target, loads, diode);
        if (why === null) return [];
        return [
          {
            message: `${route.id} taps ${tap.ref}, which ${context.readersPresent(tap).join(', ')} goes on reading: ${why}`,
            mask: context.maskOf(route),
            values: [
              named('tapped wire', tap.ref),
              named('class', tap.wire.electrical.class),
              named('added receiver', target.wire.electrical.class),
            ],
          },
        ];
      });
    },
  },
  examples: {
    failing: () => ({
      says: 'One coolant thermistor feeds the gauge of the powertrain and a pulled-up input of the chassis.',
      documents: sharedSensor('thermistor', 'input-analogue-pull-up'),
      expect: ['route:the-route'],
    }),
    passing: () => ({
      says: 'A switched contact is tapped by an input that draws nothing.',
      documents: sharedSensor('switched-ground', 'input-pull-up-12v'),
      expect: [],
    }),
  },
};

function loadOf(target: Endpoint | null): boolean {
  return target?.kind === 'wire' && DRAWING.has(target.wire.electrical.class);
}

function reasonOf(tap: WireEntry, target: WireEntry, loads: boolean, diode: boolean): string | null {
  const source = tap.wire.electrical.class;
  if (LOADED.has(source)) {
    return source === 'reluctance-frequency'
      ? 'a second input loads a reluctance sensor; it needs a buffer'
      : `a second receiver (${target.wire.electrical.class}) on a ${source} changes what both read; it needs a buffer`;
  }
  return loads && !diode
    ? `the added ${target.wire.electrical.class} can feed current back into it; it needs a diode or a relay of its own`
    : null;
}

function sharedSensor(
  source: 'thermistor' | 'switched-ground',
  receiver: 'input-analogue-pull-up' | 'input-pull-up-12v',
) {
  const common: Partial<WireInput> =
    source === 'thermistor'
      ? { function: 'coolant-temperature', meaning: { curve: { of: 'Ohm', points: THERMISTOR }, unit: 'Cel' } }
      : { function: 'coolant-overheat-warning', meaning: { active: 'Hot', inactive: 'Cool' } };
  return wireCase({
    source: { ...common, electrical: { class: source }, readers: ['engine'] },
    target: { ...common, module: 'cluster', electrical: { class: receiver } },
  });
}

const THERMISTOR: [number, number][] = [
  [100, 120],
  [2500, 20],
];
