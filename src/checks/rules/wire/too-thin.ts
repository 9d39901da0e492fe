import {
  besideWords,
  circuitRef,
  circuitWords,
  conductorValues,
  rounded,
  setSize,
  sizeWords,
  terminalsAccept,
} from '../../circuits.ts';
import { fromMemory, named, read, type Rule } from '../../rule.ts';
import { loadCase } from '../../examples/harness-case.ts';

export const rule: Rule = {
  id: 'wire/too-thin',
  severity: 'fix',
  title: 'Conductor is too thin for its current',
  why: 'A conductor settles at the ambient and a rise with the square of its current; bundled with others that carry current it may carry half. Beyond its ampacity the insulation ages fast, softens and lets its neighbours touch.',
  sources: [
    read('Free-air currents: thin-wall cable data sheet (metric); 33 CFR 183.425 Table 5 (AWG)'),
    fromMemory('Bundle factors: 33 CFR 183.425 Table 5 note 2'),
  ],
  check: {
    harness(context, plan) {
      return plan.conductors.flatMap((conductor) => {
        if (!conductor.sizeFaults.includes('current')) return [];
        const { circuit, size, currentA, ampacityA, ambientC, insulationC, carrying, temperatureC, minimum } =
          conductor;
        const wanted = minimum.size;
        return [
          {
            subject: circuitRef(circuit),
            message: `${circuitWords(circuit)} carries ${rounded(currentA)} A; ${sizeWords(size)} bears ${rounded(ampacityA)} A at ${ambientC} °C ${besideWords(conductor)}, and would settle at ${Math.round(temperatureC)} °C (insulation to ${insulationC} °C)${wanted ? `; ${sizeWords(wanted)} would do` : ''}`,
            mask: circuit.mask,
            values: [
              ...conductorValues(conductor),
              named('ampacity', rounded(ampacityA), 'A'),
              named('ambient', ambientC, 'Cel'),
              named('carrying in the bundle', carrying),
              named('conductor settles at', Math.round(temperatureC), 'Cel'),
            ],
            mend:
              wanted && wanted.areaMm2 > size.areaMm2 && terminalsAccept(plan, circuit, wanted)
                ? setSize(context, circuit, wanted)
                : null,
          },
        ];
      });
    },
  },
  examples: {
    failing: () => ({
      says: '10 A on 0.5 mm² at 85 °C: it bears 5 A.',
      documents: loadCase({ loadA: 10, fuseA: null, source: { feed: undefined } }),
      expect: ['circuit:101'],
    }),
    passing: () => ({
      says: '2.5 mm².',
      documents: loadCase({
        loadA: 10,
        fuseA: 15,
        segment: { maxC: 60 },
        circuit: { conductor: { size: '2.5mm2', colour: 'RD' } },
      }),
      expect: [],
    }),
  },
};
