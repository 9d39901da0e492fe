import { draftsOfUnitFaults, unitsOf } from '../../unit-faults.ts';
import { insertStep } from '../../step-mends.ts';
import { affineText } from '../../numbers.ts';
import { commonPractice, named, read, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'unit/not-converted',
  severity: 'stop',
  title: 'One quantity in two units, and no conversion',
  why: 'Miles per hour read as kilometres per hour under-reads by 38 %. A `convert` step converts exactly and needs no numbers.',
  sources: [read('UN R39, 5.3: indicated speed is never below true speed'), read('NIST SP 811, B.8'), commonPractice()],
  check: {
    route: (context, route) =>
      draftsOfUnitFaults(context, route, 'no-conversion', (fault) => ({
        values: [...unitsOf(fault), ...(fault.exact ? [named('conversion', affineText(fault.exact))] : [])],
        mend: insertStep(route, fault.at, { do: 'convert', to: fault.to }, `convert from ${fault.from} to ${fault.to}`),
      })),
  },
  examples: {
    failing: () => ({
      says: 'The powertrain sends °F, the chassis reads °C.',
      documents: numberCase({ source: { unit: '[degF]', offset: 0, range: [0, 250] } }),
      expect: ['route:the-route'],
    }),
    passing: () => ({
      says: 'A convert step stands between.',
      documents: numberCase({
        source: { unit: '[degF]', offset: 0, range: [0, 250] },
        route: { steps: [{ do: 'convert' }] },
      }),
      expect: [],
    }),
  },
};
