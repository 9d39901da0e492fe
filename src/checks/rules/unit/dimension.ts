import { draftsOfUnitFaults, unitsOf } from '../../unit-faults.ts';
import { commonPractice, read, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'unit/dimension',
  severity: 'stop',
  title: 'Source and target measure different things',
  why: 'A pressure shown as a temperature looks like a value and is none. No factor turns one dimension into another.',
  sources: [read('UCUM: units convert within one dimension'), commonPractice()],
  check: {
    route: (context, route) => draftsOfUnitFaults(context, route, 'dimension', (fault) => ({ values: unitsOf(fault) })),
  },
  examples: {
    failing: () => ({
      says: 'An oil pressure is linked to an oil temperature gauge: 400 kPa would show as 400 °C.',
      documents: numberCase({ source: { unit: 'kPa', offset: 0, range: [0, 250] } }),
      expect: ['route:the-route'],
    }),
    passing: () => ({ says: 'Both are temperatures.', documents: numberCase(), expect: [] }),
  },
};
