import { draftsOfUnitFaults } from '../../unit-faults.ts';
import { replaceStep } from '../../step-mends.ts';
import { affineText } from '../../numbers.ts';
import { commonPractice, named, read, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'unit/factor-contradicts',
  severity: 'stop',
  title: 'Hand-written scaling contradicts the conversion between its units',
  why: 'A factor off by a known ratio is a slip: an offset left out or added before scaling, mph for km/h, kPa for psi, radians for degrees, bytes in the other order.',
  sources: [
    read('NIST SP 811, B.8'),
    read('SAE J1939 SPN 110, 175, 190, 1807 (transcriptions): offset −40 and −273, resolution 0.125, radians'),
    commonPractice(),
  ],
  check: {
    route: (context, route) =>
      draftsOfUnitFaults(context, route, 'factor-contradicts', (fault) => ({
        values: [
          named('from unit', fault.from.code),
          named('to unit', fault.to.code),
          named('written', affineText(fault.explicit)),
          named('conversion', affineText(fault.exact)),
          ...(fault.slip === null ? [] : [named('likely slip', fault.slip)]),
        ],
        mend:
          fault.at === null
            ? null
            : replaceStep(
                route,
                fault.at,
                { do: 'convert', to: fault.to.code },
                `convert from ${fault.from.code} to ${fault.to.code} exactly`,
              ),
      })),
  },
  examples: {
    failing: () => ({
      says: 'The scaling from °F to °C has its factor, and the 32 is left out.',
      documents: numberCase({
        source: { unit: '[degF]', offset: 0, range: [0, 250] },
        route: { steps: [{ do: 'linear', factor: '5/9', offset: 0, unit: 'Cel' }] },
      }),
      expect: ['route:the-route'],
    }),
    passing: () => ({
      says: 'The scaling is the conversion: (x − 32)·5/9.',
      documents: numberCase({
        source: { unit: '[degF]', offset: 0, range: [0, 250] },
        route: { steps: [{ do: 'linear', factor: '5/9', offset: '-160/9', unit: 'Cel' }] },
      }),
      expect: [],
    }),
  },
};
