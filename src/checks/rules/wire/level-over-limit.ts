import { fromMemory, type Rule } from '../../rule.ts';
import { assumedWords, fitValues, isConditioned, levelFaults, measureWords } from '../../fits.ts';
import type { WireInput } from '../../examples/documents.ts';
import { harnessCase } from '../../examples/harness-case.ts';

export const rule: Rule = {
  id: 'wire/level-over-limit',
  severity: 'stop',
  title: 'Level is above what the other end bears',
  why: 'Battery voltage on a 5 V input drives its clamp: (14 − 5.3) V over 100 Ω are 87 mA, and the part fails, at once or after a summer.',
  sources: [
    { source: 'Computed: (14 V − 5.3 V) / 100 Ω = 87 mA into the clamp of a 5 V input', provenance: 'computed' },
    fromMemory('ISO 16750-2 clause 4.2: a 12 V system runs up to 16 V'),
  ],
  check: {
    fit(_context, pair) {
      const faults = levelFaults(pair);
      if (faults.length === 0 || isConditioned(pair)) return null;
      const { fit, from, to, mask } = pair;
      const needs = fit.conditioning.map(({ what }) => what);
      return [
        {
          message: `${from} on ${to}: ${faults.map(measureWords).join('; ')}${needs.length === 0 ? '' : `. It needs: ${needs.join('; ')}`}${assumedWords(pair)}`,
          mask,
          values: [...fitValues(pair, faults)],
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'A contact to battery on the 0 to 5 V input of a converter.',
      documents: battery({ class: 'input-analogue', minV: 0, maxV: 5 }),
      expect: ['route:the-route'],
    }),
    passing: () => ({
      says: 'The same contact on an input made for battery level.',
      documents: battery({ class: 'input-pull-down', activeLevel: 'high', maxV: 24 }),
      expect: [],
    }),
  },
};

function battery(electrical: WireInput['electrical']) {
  return harnessCase({
    source: { electrical: { class: 'switched-battery', activeLevel: 'high', maxA: 2 }, ground: undefined },
    target: { electrical },
  });
}
