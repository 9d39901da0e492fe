import { parseRef, type Circuit, type Pairing } from '../../../model/index.ts';
import { ampacity, chooseFuse, largestFuseA, type PlannedConductor, type WiringPlan } from '../../../wiring/index.ts';
import {
  besideWords,
  circuitRef,
  circuitWords,
  conductorValues,
  nextSize,
  rounded,
  setCircuit,
  setSize,
  sizeWords,
  terminalsAccept,
  TINY,
} from '../../circuits.ts';
import type { CheckContext } from '../../context.ts';
import { named, read, type Mend, type Rule } from '../../rule.ts';
import { loadCase } from '../../examples/harness-case.ts';

export const rule: Rule = {
  id: 'wire/fuse-above-conductor',
  severity: 'stop',
  title: 'Fuse is larger than the conductor after it bears',
  why: 'The fuse protects the thinnest conductor after it. When that conductor bears less than the fuse, a short circuit heats it for as long as the fuse holds: a harness fire.',
  sources: [
    read(
      '33 CFR 183.455(c): the rating of the protection must not exceed the current of the smallest conductor after it',
    ),
    { source: 'Computed: 18 AWG in an engine space bears 20 A × 0.85 = 17 A, no 30 A fuse', provenance: 'computed' },
  ],
  check: {
    harness(context, plan) {
      return plan.conductors.flatMap((conductor) => {
        const { circuit, size, ampacityA, ambientC, carrying } = conductor;
        const fuseA = circuit.fuse?.fuseA ?? null;
        if (fuseA === null || fuseA <= ampacityA + TINY) return [];
        if (!conductor.sizeFaults.includes('fuse') && !isBehindContact(context.pairing, circuit)) return [];
        return [
          {
            subject: circuitRef(circuit),
            message: `${circuitWords(circuit)} lies behind ${circuit.fuse!.id} with ${fuseA} A; ${sizeWords(size)} bears ${rounded(ampacityA)} A at ${ambientC} °C ${besideWords(conductor)}`,
            mask: circuit.mask,
            values: [
              ...conductorValues(conductor),
              named('fuse', circuit.fuse!.id),
              named('rating', fuseA, 'A'),
              named('ampacity', rounded(ampacityA), 'A'),
              named('ambient', ambientC, 'Cel'),
              named('carrying in the bundle', carrying),
            ],
            mend: mendOf(context, plan, conductor, fuseA),
          },
        ];
      });
    },
  },
  examples: {
    failing: () => ({
      says: 'A 30 A fuse before 0.5 mm².',
      documents: loadCase({ loadA: 2, fuseA: 30 }),
      expect: ['circuit:101'],
    }),
    passing: () => ({ says: 'A 3 A fuse.', documents: loadCase({ loadA: 2, fuseA: 3 }), expect: [] }),
  },
};

/** A contact lets through what the fuse lets through; an electronic output limits by itself. */
function isBehindContact(pairing: Pairing, { routeIds, fuse, kind, from }: Circuit): boolean {
  if (fuse?.place !== 'feed' || (kind !== 'hard-wire' && kind !== 'pin') || from.kind === 'part') return false;
  return routeIds.some((id) =>
    (pairing.routes.get(id)?.from ?? []).some((ref) => {
      const entry = parseRef(ref) ? pairing.find(ref) : null;
      if (entry?.kind !== 'wire' || `${entry.side}:${entry.wire.feed}` !== fuse.id) return false;
      const module = pairing.side(entry.side).modules.get(entry.wire.module);
      return module?.kind === 'switch' || module?.kind === 'relay';
    }),
  );
}

/** A thicker conductor where the terminals take it; else a fuse in line that it bears and that carries the load. */
function mendOf(context: CheckContext, plan: WiringPlan, conductor: PlannedConductor, fuseA: number): Mend | null {
  const { circuit, ambientC, insulationC, carrying, currentA, ampacityA } = conductor;
  const around = { ambientC, insulationC, carrying };
  const thicker = nextSize(conductor, (size) => ampacity(size, around).ampere >= fuseA);
  if (thicker && terminalsAccept(plan, circuit, thicker)) return setSize(context, circuit, thicker);
  const inLineA = largestFuseA(ampacityA);
  const neededA = chooseFuse(currentA, ampacityA).ratingA;
  if (inLineA === null || neededA === null || neededA > inLineA) return null;
  return setCircuit(
    context.pairing,
    circuit,
    'fuseA',
    neededA,
    `add a fuse of ${neededA} A in line at the start of ${circuit.id}`,
  );
}
