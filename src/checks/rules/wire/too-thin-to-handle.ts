import { MECHANICAL_MINIMUM } from '../../../wiring/index.ts';
import {
  circuitRef,
  circuitWords,
  conductorValues,
  nextSize,
  setSize,
  sizeWords,
  terminalsAccept,
} from '../../circuits.ts';
import { commonPractice, named, type Rule } from '../../rule.ts';
import { harnessCase } from '../../examples/harness-case.ts';

export const rule: Rule = {
  id: 'wire/too-thin-to-handle',
  severity: 'look',
  title: 'Conductor is thinner than handling allows',
  why: 'A conductor of a fifth of a square millimetre breaks at its crimp or at a clamp long before its current matters; where an open circuit is a hazard, half a square millimetre is the habit.',
  sources: [commonPractice(MECHANICAL_MINIMUM.source)],
  check: {
    harness(context, plan) {
      return plan.conductors.flatMap((conductor) => {
        if (!conductor.sizeFaults.includes('mechanical')) return [];
        const { circuit, size } = conductor;
        const leastMm2 =
          circuit.criticality === 'interlock' ? MECHANICAL_MINIMUM.interlockMm2 : MECHANICAL_MINIMUM.anyMm2;
        const wanted = nextSize(conductor, ({ areaMm2 }) => areaMm2 >= leastMm2);
        return [
          {
            subject: circuitRef(circuit),
            message: `${circuitWords(circuit)} is ${sizeWords(size)}; at least ${leastMm2} mm² stand handling${circuit.criticality === 'interlock' ? ' where an open circuit is a hazard' : ''}`,
            mask: circuit.mask,
            values: [...conductorValues(conductor), named('at least', leastMm2, 'mm2')],
            mend: wanted && terminalsAccept(plan, circuit, wanted) ? setSize(context, circuit, wanted) : null,
          },
        ];
      });
    },
  },
  examples: {
    failing: () => ({
      says: 'A button on 0.22 mm².',
      documents: harnessCase({ circuit: { conductor: { size: '0.22mm2', colour: 'BU' } } }),
      expect: ['circuit:101'],
    }),
    passing: () => ({ says: 'On 0.5 mm².', documents: harnessCase(), expect: [] }),
  },
};
