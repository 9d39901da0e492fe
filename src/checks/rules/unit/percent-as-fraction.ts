import { draftsOfUnitFaults, unitsOf } from '../../unit-faults.ts';
import { insertStep } from '../../step-mends.ts';
import { commonPractice, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'unit/percent-as-fraction',
  severity: 'fix',
  title: 'Percent against a bare fraction',
  why: 'Half is 50 % or 0.5: one for the other is off by a hundred.',
  sources: [commonPractice()],
  check: {
    route: (context, route) =>
      draftsOfUnitFaults(context, route, 'percent-against-fraction', (fault) => ({
        values: unitsOf(fault),
        mend: insertStep(
          route,
          fault.at,
          { do: 'convert', to: fault.to === '' ? '1' : fault.to },
          `convert from ${fault.from || '1'} to ${fault.to || '1'}`,
        ),
      })),
  },
  examples: {
    failing: () => ({ says: 'A share of 1 is read as percent.', documents: share([]), expect: ['route:the-route'] }),
    passing: () => ({ says: 'It is converted.', documents: share([{ do: 'convert' }]), expect: [] }),
  },
};

function share(steps: NonNullable<NonNullable<Parameters<typeof numberCase>[0]>['route']>['steps']) {
  return numberCase({
    source: { unit: '1', factor: 0.01, offset: 0, range: [0, 1], kind: 'number', function: 'fuel-level' },
    target: { unit: '%', offset: 0, range: [0, 100], function: 'fuel-level' },
    route: { steps, onLoss: { do: 'substitute', notAvailable: true } },
  });
}
