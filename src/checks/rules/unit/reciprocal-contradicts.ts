import { draftsOfUnitFaults, unitsOf } from '../../unit-faults.ts';
import { replaceStep } from '../../step-mends.ts';
import { namedNumber } from '../../numbers.ts';
import { commonPractice, read, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'unit/reciprocal-contradicts',
  severity: 'stop',
  title: 'Constant of a reciprocal step contradicts its units',
  why: 'L/100 km and km/L are one over the other by a constant that the units give: 100.',
  sources: [read('NIST SP 811, B.5: fuel economy and consumption'), commonPractice()],
  check: {
    route: (context, route) =>
      draftsOfUnitFaults(context, route, 'k-contradicts', (fault) => ({
        values: [
          ...unitsOf(fault),
          namedNumber('written k', fault.explicit, ''),
          namedNumber('exact k', fault.exact, ''),
        ],
        mend:
          fault.at === null
            ? null
            : replaceStep(
                route,
                fault.at,
                { do: 'convert', to: fault.to },
                `convert from ${fault.from} to ${fault.to} exactly`,
              ),
      })),
  },
  examples: {
    failing: () => ({
      says: 'The constant of US gallons stands between metric units.',
      documents: economy('235.215'),
      expect: ['route:the-route'],
    }),
    passing: () => ({ says: 'The constant is 100.', documents: economy(100), expect: [] }),
  },
};

function economy(k: number | string) {
  const number = { factor: 1, offset: 0, function: undefined };
  return numberCase({
    source: { ...number, unit: 'L/(100.km)', range: [4, 100] },
    target: { ...number, factor: 0.1, unit: 'km/L', range: [1, 25] },
    route: { steps: [{ do: 'reciprocal', k, unit: 'km/L' }] },
  });
}
