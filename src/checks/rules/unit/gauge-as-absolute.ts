import { draftsOfUnitFaults, unitsOf } from '../../unit-faults.ts';
import { linearStep, affineText } from '../../numbers.ts';
import { insertStep } from '../../step-mends.ts';
import { commonPractice, named, read, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'unit/gauge-as-absolute',
  severity: 'fix',
  title: 'Gauge pressure against absolute pressure',
  why: 'They differ by the air pressure of the place, 101.325 kPa by convention: 101 kPa absolute in the manifold is no boost at all.',
  sources: [read('NIST SP 811: standard atmosphere 101.325 kPa'), commonPractice()],
  check: {
    route: (context, route) =>
      draftsOfUnitFaults(context, route, 'gauge-against-absolute', (fault) => ({
        values: [...unitsOf(fault), named('with the standard atmosphere', affineText(fault.declared))],
        mend: insertStep(
          route,
          fault.at,
          linearStep(fault.declared, fault.to),
          'declare the standard atmosphere as offset',
        ),
      })),
  },
  examples: {
    failing: () => ({
      says: 'Absolute manifold pressure is shown as gauge pressure.',
      documents: pressure([]),
      expect: ['route:the-route'],
    }),
    passing: () => ({
      says: 'The offset of the standard atmosphere is declared.',
      documents: pressure([{ do: 'linear', factor: 1, offset: -101.325, unit: 'kPa{gauge}' }]),
      expect: [],
    }),
  },
};

function pressure(steps: NonNullable<NonNullable<Parameters<typeof numberCase>[0]>['route']>['steps']) {
  return numberCase({
    source: { unit: 'kPa', offset: 0, range: [0, 250], function: undefined },
    target: { unit: 'kPa{gauge}', offset: -102, range: [-102, 150], function: undefined },
    route: { steps },
  });
}
