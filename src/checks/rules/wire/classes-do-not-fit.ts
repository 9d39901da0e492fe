import { commonPractice, type Rule } from '../../rule.ts';
import { frequencyFaults, fitValues, isConditioned, levelFaults, measureWords } from '../../fits.ts';
import { harnessCase } from '../../examples/harness-case.ts';

export const rule: Rule = {
  id: 'wire/classes-do-not-fit',
  severity: 'stop',
  title: 'Driver and receiver are of classes that do not go together',
  why: 'A switch is no source of frequency, a coil with both ends on ground never pulls in, an analogue level on a threshold input reads as one state or the other by chance: no resistor between them mends it.',
  sources: [commonPractice('pairing of driver and receiver classes, vehicle input and output conventions')],
  check: {
    fit(_context, pair) {
      const { fit, from, to, mask } = pair;
      if (fit.verdict !== 'does-not-fit' || isConditioned(pair)) return null;
      // Levels and frequencies have rules of their own, which say more.
      if (levelFaults(pair).length > 0 || frequencyFaults(pair).length > 0) return null;
      const failed = fit.measures.filter(({ holds }) => holds === false);
      return [
        {
          message: `${from} (${fit.driver}) on ${to} (${fit.receiver}): ${fit.because}${failed.length === 0 ? '' : `; ${failed.map(measureWords).join('; ')}`}`,
          because: RESULT[fit.direct],
          mask,
          values: fitValues(pair),
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'A contact to ground is led to an input that counts pulses.',
      documents: harnessCase({
        target: { electrical: { class: 'input-frequency', frequencyHz: [0, 400] }, meaning: undefined },
        source: { meaning: undefined },
      }),
      expect: ['route:the-route'],
      alsoStops: ['unit/kind-mismatch'],
    }),
    passing: () => ({
      says: 'A switch to ground on an input with a pull-up.',
      documents: harnessCase(),
      expect: [],
    }),
  },
};

const RESULT = {
  works: undefined,
  misreads: 'Joined as it is, the receiver misreads.',
  'does-nothing': 'Joined as it is, nothing happens.',
  overloads: 'Joined as it is, the driver is overloaded.',
  damages: 'Joined as it is, one of the two can be damaged.',
} as const;
