import { commonPractice, type Rule } from '../../rule.ts';
import { fitValues, frequencyFaults, measureWords } from '../../fits.ts';
import type { WireInput } from '../../examples/documents.ts';
import { harnessCase } from '../../examples/harness-case.ts';

export const rule: Rule = {
  id: 'wire/frequency-outside-window',
  severity: 'fix',
  title: 'Frequency of the driver is outside the window of the receiver',
  why: 'A fan module that expects 100 Hz and is fed 400 Hz takes the line for broken and runs at its fail-safe speed; a counter input that ends at 400 Hz stands still above it.',
  sources: [commonPractice('frequency window of duty and pulse inputs')],
  check: {
    fit(_context, pair) {
      const faults = frequencyFaults(pair);
      if (faults.length === 0) return null;
      const { from, to, mask } = pair;
      return [
        {
          message: `${from} on ${to}: ${faults.map(measureWords).join('; ')}`,
          mask,
          values: fitValues(pair, faults),
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'A fan module for 80 to 200 Hz is driven with 400 Hz.',
      documents: duty(400),
      expect: ['route:the-route'],
    }),
    passing: () => ({ says: 'It is driven with 100 Hz.', documents: duty(100), expect: [] }),
  },
};

const DUTY: WireInput['meaning'] = { scale: { of: '%', factor: 1, range: [0, 100] }, unit: '%' };

function duty(hertz: number) {
  return harnessCase({
    source: {
      electrical: { class: 'pwm-ground', activeLevel: 'low', maxA: 0.5, frequencyHz: [hertz, hertz] },
      meaning: DUTY,
      function: undefined,
    },
    target: {
      electrical: { class: 'input-pull-up-12v', activeLevel: 'low', frequencyHz: [80, 200] },
      meaning: DUTY,
      function: undefined,
    },
  });
}
