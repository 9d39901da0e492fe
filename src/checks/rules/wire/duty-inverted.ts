import { commonPractice, named, type Rule } from '../../rule.ts';
import { fitValues } from '../../fits.ts';
import type { WireInput } from '../../examples/documents.ts';
import { harnessCase } from '../../examples/harness-case.ts';

export const rule: Rule = {
  id: 'wire/duty-inverted',
  severity: 'fix',
  title: 'Duty is read with the other level for active',
  why: 'A request of 10 % counted over the wrong level is 90 %: the fan runs full at idle, or stands when the engine is hot.',
  sources: [
    { source: 'Computed: 10 % of one level is 90 % of the other', provenance: 'computed' },
    commonPractice('an output that sinks is inverted when read from the conductor'),
  ],
  check: {
    fit(_context, pair) {
      const { fit, from, to, driver, receiver, mask } = pair;
      if (!fit.driver.startsWith('pwm') || !fit.inverted) return null;
      return [
        {
          message: `${from} is active ${driver.activeLevel ?? (fit.driver === 'pwm-ground' ? 'low' : 'high')}, so that the line is ${fit.activeLevel ?? 'other'} in its active part; ${to} counts the ${receiver.activeLevel} part: a duty of 10 % arrives as 90 %`,
          mask,
          values: [
            ...fitValues(pair, []),
            named('active at the receiver', fit.activeLevel ?? 'not known'),
            named('receiver counts', receiver.activeLevel ?? 'not stated'),
            named('10 % arrives as', 90, '%'),
          ],
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'An output that sinks is counted by its high part.',
      documents: duty('high'),
      expect: ['route:the-route'],
    }),
    passing: () => ({ says: 'It is counted by its low part.', documents: duty('low'), expect: [] }),
  },
};

const DUTY: WireInput['meaning'] = { scale: { of: '%', factor: 1, range: [0, 100] }, unit: '%' };

function duty(activeLevel: 'high' | 'low') {
  return harnessCase({
    source: {
      electrical: { class: 'pwm-ground', activeLevel: 'low', maxA: 0.5, frequencyHz: [100, 100] },
      meaning: DUTY,
      function: undefined,
    },
    target: {
      electrical: { class: 'input-pull-up-12v', activeLevel, frequencyHz: [80, 200] },
      meaning: DUTY,
      function: undefined,
    },
  });
}
