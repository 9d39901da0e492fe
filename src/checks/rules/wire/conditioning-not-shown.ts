import type { ConditioningKind } from '../../../wiring/index.ts';
import { commonPractice, type Rule } from '../../rule.ts';
import { assumedWords, fitValues, frequencyFaults, levelFaults, outstanding } from '../../fits.ts';
import { harnessCase } from '../../examples/harness-case.ts';

/** Kinds which have a rule of their own: pull-ups, bleeds, buffers of a reference, suppression, and drivers of loads. */
const KINDS: ReadonlySet<ConditioningKind> = new Set([
  'divider',
  'low-pass',
  'inverter',
  'level-shift',
  'current-limit',
  'diode',
  'zero-crossing',
  'attenuator',
  'current-sense',
  'timer-input',
]);

export const rule: Rule = {
  id: 'wire/conditioning-not-shown',
  severity: 'fix',
  title: 'Driver fits its receiver only with a circuit that the map does not show',
  why: 'The two go together with a divider, a transistor or a converter between them; what is not a part of the harness is in no parts list and will not be built.',
  sources: [commonPractice('pairing of driver and receiver classes; values from the E24 and E96 series')],
  check: {
    fit(_context, pair) {
      const lacks = outstanding(pair, KINDS);
      if (lacks.length === 0 || levelFaults(pair).length > 0 || frequencyFaults(pair).length > 0) return null;
      const { fit, from, to, mask } = pair;
      return [
        {
          message: `${from} (${fit.driver}) on ${to} (${fit.receiver}) needs: ${lacks.map(({ what }) => what).join('; ')}${assumedWords(pair)}`,
          mask,
          values: fitValues(pair),
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'A contact to battery on an input with a pull-up to battery, which then reads high both ways.',
      documents: pulledUp({}),
      expect: ['route:the-route'],
    }),
    passing: () => ({
      says: 'A relay on the way turns battery level into a switch to ground.',
      documents: pulledUp({
        route: { via: ['k1'] },
        harness: {
          connectors: [],
          circuits: [],
          nodes: [{ id: 'nk', kind: 'part', part: 'k1' }],
          segments: [{ id: 's2', from: 'n7', to: 'nk', lengthM: 1, maxC: 85 }],
          parts: [
            {
              id: 'k1',
              title: 'Inverting relay',
              kind: 'relay',
              coilBy: 'host:button',
              ohm: 90,
              suppressed: true,
              terminals: { '85': 'host:G1', '30': 'host:G1' },
            },
          ],
        },
      }),
      expect: [],
    }),
  },
};

function pulledUp(change: NonNullable<Parameters<typeof harnessCase>[0]>) {
  return harnessCase({
    ...change,
    source: { electrical: { class: 'switched-battery', activeLevel: 'high', maxA: 2 }, ground: undefined },
    target: { electrical: { class: 'input-pull-up-12v', activeLevel: 'low' } },
  });
}
