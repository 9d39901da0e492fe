import {
  DROP_LIMITS,
  drop,
  type ConductorSize,
  type PlannedConductor,
  type WiringPlan,
} from '../../../wiring/index.ts';
import {
  circuitRef,
  circuitWords,
  conductorValues,
  nextSize,
  rounded,
  setSize,
  sizeWords,
  terminalsAccept,
  TINY,
} from '../../circuits.ts';
import { named, read, type Rule } from '../../rule.ts';
import { loadCase } from '../../examples/harness-case.ts';

export const rule: Rule = {
  id: 'wire/drop-over-limit',
  severity: 'fix',
  title: 'Voltage drop is over its limit',
  why: 'What is lost on the way out and on the way back is missing at the load and added to every ground: relays that do not pull in while cranking, sensors that read low, lamps that are dim. 10 A through 8 m of 18 AWG lose 1.68 V, 14 % of 12 V.',
  sources: [
    read('Drop of a circuit, 3 % and 10 %: ABYC E-11 wording quoted in a marine wiring guide'),
    read('Ground of a module 0.1 V or less: scan-tool manual'),
    read('Resistance at temperature and drop: FAA AC 43.13-1B CHG 1 para 11-66 and Table 11-7'),
    { source: 'Computed: 20.95 mΩ/m × 8 m × 10 A = 1.68 V', provenance: 'computed' },
  ],
  check: {
    harness(context, plan) {
      return plan.conductors.flatMap((conductor) => {
        const { circuit, loopDropV, limitV, duty, size, currentA, lengthM, ambientC, loop } = conductor;
        if (loopDropV === null || limitV === null || duty === null || lengthM === null) return [];
        if (loopDropV <= limitV + TINY || !isWorstOfLoop(plan, conductor)) return [];
        const limit = DROP_LIMITS[duty];
        const wanted = wideEnough(conductor, loopDropV, limitV);
        return [
          {
            subject: circuitRef(circuit),
            message: `${circuitWords(circuit)}: ${rounded(currentA)} A over ${rounded(lengthM)} m of ${sizeWords(size)} at ${ambientC} °C${loop.length === 0 ? '' : ` and its way back or on (${loop.join(', ')})`} lose ${rounded(loopDropV)} V; the limit is ${rounded(limitV)} V (${limit.applies})${wanted ? `; ${sizeWords(wanted)} would do` : ''}`,
            mask: circuit.mask,
            values: [
              ...conductorValues(conductor),
              named('drop', rounded(loopDropV), 'V'),
              named('limit', rounded(limitV), 'V'),
              named('duty', duty),
            ],
            mend: wanted && terminalsAccept(plan, circuit, wanted) ? setSize(context, circuit, wanted) : null,
          },
        ];
      });
    },
  },
  examples: {
    failing: () => ({
      says: '4 A over 8 m of 0.5 mm² for a heater: 1.5 V of the 1.2 V allowed.',
      documents: loadCase({ loadA: 4, fuseA: 5, segment: { lengthM: 8 } }),
      expect: ['circuit:101'],
    }),
    passing: () => ({
      says: 'The same over 2 m.',
      documents: loadCase({ loadA: 4, fuseA: 5 }),
      expect: [],
    }),
  },
};

/** Conductors in line share one drop: it is told of the one that loses most of it, the first of equals. */
function isWorstOfLoop({ conductors }: WiringPlan, own: PlannedConductor): boolean {
  const others = new Set(own.loop);
  for (const other of conductors) {
    if (!others.has(other.circuit.id) || other.duty !== own.duty || !other.loop.includes(own.circuit.id)) continue;
    const [a, b] = [other.dropV ?? 0, own.dropV ?? 0];
    if (a > b + TINY || (Math.abs(a - b) <= TINY && conductors.indexOf(other) < conductors.indexOf(own))) return false;
  }
  return true;
}

/** The smallest thicker size with which the whole loop keeps the limit. */
function wideEnough(conductor: PlannedConductor, loopDropV: number, limitV: number): ConductorSize | null {
  const { currentA, lengthM, ambientC, dropV } = conductor;
  const restV = loopDropV - (dropV ?? 0);
  return nextSize(
    conductor,
    ({ ohmPerM20C }) =>
      restV + drop(currentA, [{ ohmPerM20C, lengthM: lengthM ?? 0, temperatureC: ambientC }], []).dropV <= limitV,
  );
}
