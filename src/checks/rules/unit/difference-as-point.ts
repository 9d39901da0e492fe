import { draftsOfUnitFaults, unitsOf } from '../../unit-faults.ts';
import { commonPractice, read, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'unit/difference-as-point',
  severity: 'fix',
  title: 'Difference is used as a point on a scale, or a point as a difference',
  why: 'A rise of 20 K is no temperature of 20 °C: a difference has no zero to start from.',
  sources: [read('NIST SP 811, 8.5: temperature intervals and Celsius temperatures'), commonPractice()],
  check: {
    route: (context, route) =>
      draftsOfUnitFaults(context, route, 'point-against-difference', (fault) => ({ values: unitsOf(fault) })),
  },
  examples: {
    failing: () => ({
      says: 'A temperature rise is shown on a thermometer.',
      documents: numberCase({ source: { unit: 'K{difference}', offset: 0, range: [0, 250] } }),
      expect: ['route:the-route'],
    }),
    passing: () => ({ says: 'A temperature is.', documents: numberCase(), expect: [] }),
  },
};
