import type { ConditioningKind } from '../../../wiring/index.ts';
import { named, commonPractice, type Rule } from '../../rule.ts';
import { fitValues, levelFaults, outstanding } from '../../fits.ts';
import { harnessCase } from '../../examples/harness-case.ts';
import type { WireInput } from '../../examples/documents.ts';

const BUFFER: ReadonlySet<ConditioningKind> = new Set(['buffer']);
/** The example of the reference list: supply 5.10 V, reference 4.95 V. */
const REFERENCE_ERROR_PERCENT = 3;
const GROUND_ERROR_PERCENT = 4;

export const rule: Rule = {
  id: 'wire/reference-not-shared',
  severity: 'fix',
  title: 'Ratiometric sensor is read against another reference than its own supply',
  why: 'A ratiometric sensor gives a share of its supply. Supplied with 5.10 V and read against 4.95 V it is 3 % wrong; 0.2 V between the two grounds are 4 % more.',
  sources: [
    { source: 'Computed: 5.10 V / 4.95 V = 1.030; 0.2 V of 5 V = 4 %', provenance: 'computed' },
    commonPractice('supply, signal and return of a sensor go to one controller'),
  ],
  check: {
    fit(_context, pair) {
      const lacks = outstanding(pair, BUFFER);
      if (lacks.length === 0 || levelFaults(pair).length > 0) return null;
      const { from, to, mask, driver, receiver } = pair;
      const silent = [
        ...(driver.supplyAt === undefined ? [`the supply of ${from}`] : []),
        ...(receiver.supplyAt === undefined ? [`the reference of ${to}`] : []),
      ];
      return [
        {
          message: `${from} is ratiometric, and nothing shows that ${to} supplies it (not stated: ${silent.join(' and ') || 'the return at one end'}): about ${REFERENCE_ERROR_PERCENT} % by the reference and ${GROUND_ERROR_PERCENT} % by the grounds. Lead its supply and return along, or use a ${lacks.map(({ what }) => what).join('; ')}`,
          mask,
          values: [
            ...fitValues(pair, []),
            named('error by the reference', REFERENCE_ERROR_PERCENT, '%'),
            named('error by the grounds', GROUND_ERROR_PERCENT, '%'),
          ],
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'Only the signal of a pressure sensor is led across; its supply stays with another controller.',
      documents: sensor({}, {}),
      expect: ['route:the-route'],
    }),
    passing: () => ({
      says: 'Supply and return run along with the signal.',
      documents: sensor(
        { supplyAt: { connector: 'C7', cavity: '2' }, returnAt: { connector: 'C7', cavity: '3' } },
        { supplyAt: { connector: 'C1', cavity: '2' }, returnAt: { connector: 'C1', cavity: '3' } },
      ),
      expect: [],
    }),
  },
};

function sensor(source: Partial<WireInput['electrical']>, target: Partial<WireInput['electrical']>) {
  return harnessCase({
    source: {
      electrical: { class: 'ratiometric-5v', minV: 0.5, maxV: 4.5, ...source },
      meaning: undefined,
      function: undefined,
      ground: undefined,
    },
    target: {
      electrical: { class: 'input-analogue', minV: 0, maxV: 5, ...target },
      meaning: undefined,
      function: undefined,
    },
  });
}
