import { draftsOfUnitFaults } from '../../unit-faults.ts';
import { commonPractice, named, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'unit/unknown',
  severity: 'fix',
  title: 'Unit text names no unit known here',
  why: 'Nothing is converted silently: with an unknown unit nobody can tell whether the value arrives as it should. Correct the unit in the platform; the text as written is kept.',
  sources: [commonPractice('units are UCUM codes')],
  check: {
    route: (context, route) =>
      draftsOfUnitFaults(context, route, 'unit-unknown', (fault) => ({
        values: [named('unit text', fault.text), named('of', fault.of)],
      })),
  },
  examples: {
    failing: () => ({
      says: 'The unit of the source reads "degs".',
      documents: numberCase({ source: { unit: 'hdegs' } }),
      expect: ['route:the-route'],
    }),
    passing: () => ({ says: 'The unit is Cel.', documents: numberCase(), expect: [] }),
  },
};
