import type { ConditioningKind } from '../../../wiring/index.ts';
import { commonPractice, type Rule } from '../../rule.ts';
import { assumedWords, fitValues, levelFaults, measureWords, outstanding } from '../../fits.ts';
import { harnessCase } from '../../examples/harness-case.ts';

const DRIVERS: ReadonlySet<ConditioningKind> = new Set(['relay', 'low-side-driver', 'high-side-driver']);

export const rule: Rule = {
  id: 'wire/driver-overloaded',
  severity: 'stop',
  title: 'Driver cannot carry the load, or switches its wrong side',
  why: 'An output asked for more than its rating goes into protection or burns; one that switches the end of a coil which is already on that potential does nothing.',
  sources: [commonPractice('the rating of the driver against the continuous current of the load')],
  check: {
    fit(_context, pair) {
      const lacks = outstanding(pair, DRIVERS);
      if (lacks.length === 0 || levelFaults(pair).length > 0) return null;
      const { fit, from, to, mask } = pair;
      const failed = fit.measures.filter(({ holds }) => holds === false);
      const unrated = fit.direct === 'works';
      return [
        {
          severity: unrated ? ('fix' as const) : ('stop' as const),
          message: `${from} (${fit.driver}) on ${to} (${fit.receiver}): ${failed.length === 0 ? fit.because : failed.map(measureWords).join('; ')}. It needs a ${lacks.map(({ what }) => what).join('; a ')}${assumedWords(pair)}`,
          mask,
          values: fitValues(pair),
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'An output for 0.5 A drives a coil of 2 A.',
      documents: coil(0.5),
      expect: ['route:the-route'],
    }),
    passing: () => ({ says: 'The output is made for 3 A.', documents: coil(3), expect: [] }),
  },
};

function coil(maxA: number) {
  return harnessCase({
    source: { electrical: { class: 'switched-ground', activeLevel: 'low', maxA }, function: undefined },
    target: {
      electrical: { class: 'coil-to-battery', activeLevel: 'low', loadA: 2, suppressed: true },
      function: undefined,
    },
  });
}
