import {
  harnessSizes,
  rangeOf,
  type ConductorSize,
  type PlannedConductor,
  type WiringPlan,
} from '../../../wiring/index.ts';
import {
  circuitRef,
  circuitWords,
  rounded,
  setSize,
  sizeFigure,
  sizeWords,
  terminalsAccept,
  TINY,
} from '../../circuits.ts';
import { fromMemory, named, type Rule } from '../../rule.ts';
import { harnessCase } from '../../examples/harness-case.ts';

export const rule: Rule = {
  id: 'wire/terminal-size',
  severity: 'fix',
  title: 'Terminal does not accept the conductor',
  why: 'A crimp is made for a range of conductors: a thicker one does not enter, a thinner one pulls out, and neither is tight against gas.',
  sources: [fromMemory('SAE/USCAR-21: a crimp is validated for a range of conductor sizes')],
  check: {
    harness(context, plan) {
      return plan.conductors.flatMap((conductor) => {
        const { circuit, size } = conductor;
        return [circuit.from, circuit.to].flatMap((end) =>
          rangeOf(plan.find, end).flatMap(({ minMm2, maxMm2 }) => {
            if (size.areaMm2 >= minMm2 - TINY && size.areaMm2 <= maxMm2 + TINY) return [];
            const wanted = fitting(plan, conductor);
            return [
              {
                subject: circuitRef(circuit),
                message: `${circuitWords(circuit)} is ${sizeWords(size)}; the terminal at ${end.key} accepts ${minMm2} to ${maxMm2} mm²${wanted ? '' : `, and no size meets both that and its ${conductor.minimum.reason}: it needs another terminal or a splice to a thinner tail`}`,
                mask: circuit.mask,
                values: [
                  named('conductor', circuit.id),
                  named('size', sizeFigure(size), size.family === 'awg' ? 'AWG' : 'mm2'),
                  named('cross-section', rounded(size.areaMm2), 'mm2'),
                  named('place', end.key),
                  named('accepts from', minMm2, 'mm2'),
                  named('accepts to', maxMm2, 'mm2'),
                ],
                mend: wanted ? setSize(context, circuit, wanted) : null,
              },
            ];
          }),
        );
      });
    },
  },
  examples: {
    failing: () => ({
      says: 'A conductor of 2.5 mm² on a terminal for 0.35 to 0.5 mm².',
      documents: harnessCase({
        to: { accepts: { minMm2: 0.35, maxMm2: 0.5 } },
        circuit: { conductor: { size: '2.5mm2', colour: 'BU' } },
      }),
      expect: ['circuit:101'],
    }),
    passing: () => ({ says: 'A conductor of 0.5 mm².', documents: harnessCase(), expect: [] }),
  },
};

/** The size nearest to the one set that both terminals accept and that meets every demand; null when there is none. */
function fitting(plan: WiringPlan, { circuit, size, minimum }: PlannedConductor): ConductorSize | null {
  const least = minimum.size?.areaMm2 ?? Infinity;
  const far = (one: ConductorSize): number => Math.abs(Math.log(one.areaMm2 / size.areaMm2));
  return harnessSizes(size.family)
    .filter((one) => one.areaMm2 >= least - TINY && terminalsAccept(plan, circuit, one))
    .reduce<ConductorSize | null>((best, one) => (best === null || far(one) < far(best) ? one : best), null);
}
