import type { Pairing } from '../../../src/model/index.ts';
import { buildHarness } from '../../../src/wiring/index.ts';
import type { PlannedHarness } from '../../../src/workbench/actions/planning.ts';
import { indexOfPlan, type PlanIndex } from '../../../src/workbench/places/harness/plan-index.ts';

/** The plan of a pairing in the form in which the window holds it. */
export function planOf(pairing: Pairing, mask: bigint | null = null): PlannedHarness {
  const plan = buildHarness(pairing, { mask });
  return {
    ...plan,
    conductors: plan.fromTo.map((facts, at) => ({ conductor: plan.conductors[at]!, facts })),
    documents: { map: pairing.map, host: pairing.host.platform, donor: pairing.donor.platform },
    mask,
    elapsedMs: 0,
  };
}

export function indexOf(pairing: Pairing, mask: bigint | null = null): PlanIndex {
  return indexOfPlan(planOf(pairing, mask));
}
