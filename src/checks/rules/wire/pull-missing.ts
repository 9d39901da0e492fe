import type { ConditioningKind } from '../../../wiring/index.ts';
import { commonPractice, named, type Rule } from '../../rule.ts';
import { assumedWords, fitValues, outstanding } from '../../fits.ts';
import { harnessCase } from '../../examples/harness-case.ts';
import type { WireInput } from '../../examples/documents.ts';

const PULL: ReadonlySet<ConditioningKind> = new Set(['pull-up']);

export const rule: Rule = {
  id: 'wire/pull-missing',
  severity: 'fix',
  title: 'Open driver or resistance has no pull-up of the right value',
  why: 'An output that only sinks leaves the conductor floating when it is open: without a pull-up the input reads low for ever; a thermistor on a pull-up of another value reads another temperature.',
  sources: [commonPractice('one pull-up, at the receiver, at least three times stronger than a pull-down beside it')],
  check: {
    fit(_context, pair) {
      const lacks = outstanding(pair, PULL);
      if (lacks.length === 0) return null;
      const { from, to, mask } = pair;
      return [
        {
          message: `${from} on ${to} needs ${lacks.map(({ what }) => what).join('; ')}${assumedWords(pair)}`,
          mask,
          values: [
            ...fitValues(pair),
            ...lacks.flatMap(({ components }) => components.map(({ role, value, unit }) => named(role, value, unit))),
          ],
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'An open collector on an input with a pull-down.',
      documents: collector({ class: 'input-pull-down', pullOhm: 47_000, activeLevel: 'low' }),
      expect: ['route:the-route'],
    }),
    passing: () => ({
      says: 'The same output on an input with a pull-up.',
      documents: collector({ class: 'input-pull-up-12v', activeLevel: 'low' }),
      expect: [],
    }),
  },
};

function collector(electrical: WireInput['electrical']) {
  return harnessCase({
    source: { electrical: { class: 'open-collector', activeLevel: 'low', maxV: 32, maxA: 0.05 } },
    target: { electrical },
  });
}
