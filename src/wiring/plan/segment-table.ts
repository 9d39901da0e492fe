import { bendRadiusMm, bundleDiameterMm, coveredDiameterMm } from '../harness/bundle.ts';
import type { PlanContext } from './context.ts';
import type { PlannedConductor } from './planned-conductor.ts';

/** One segment with what runs through it. */
export interface SegmentRow {
  readonly segment: string;
  readonly from: string;
  readonly to: string;
  readonly lengthM: number;
  readonly covering: string | null;
  readonly maxC: number | null;
  readonly clampEveryM: number | null;
  readonly circuits: readonly string[];
  /** Over the conductors, and over the covering, in mm. */
  readonly bundleMm: number;
  readonly coveredMm: number;
  /** Narrowest hole at its two ends, in mm; null without one. */
  readonly holeMm: number | null;
  readonly passes: boolean | null;
  readonly bendRadiusMm: number;
  readonly weightG: number;
}

/** Bundle of every segment: diameter, covering, bend radius, weight, and whether it passes its holes. */
export function segmentTable(context: PlanContext): readonly SegmentRow[] {
  const through = new Map<string, PlannedConductor[]>();
  for (const conductor of context.conductors) {
    for (const id of new Set(conductor.way?.segments ?? [])) {
      const list = through.get(id);
      if (list) list.push(conductor);
      else through.set(id, [conductor]);
    }
  }
  return context.graph.segments.map(({ id, from, to, lengthM, segment }) => {
    const conductors = through.get(id) ?? [];
    const outsides = conductors.map(({ size }) => size.outsideMm);
    const bundleMm = bundleDiameterMm(outsides);
    const coveredMm = coveredDiameterMm(bundleMm, segment.covering);
    const holes = [from, to].flatMap((node) => context.graph.nodes.get(node)?.holeMm ?? []);
    const holeMm = holes.length === 0 ? null : Math.min(...holes);
    const gramPerM = conductors.reduce((sum, { size, twistFactor }) => sum + size.gramPerM * twistFactor, 0);
    return {
      segment: id,
      from,
      to,
      lengthM,
      covering: segment.covering ?? null,
      maxC: segment.maxC ?? null,
      clampEveryM: segment.clampEveryM ?? null,
      circuits: conductors.map(({ circuit }) => circuit.id),
      bundleMm,
      coveredMm,
      holeMm,
      passes: holeMm === null ? null : coveredMm <= holeMm,
      bendRadiusMm: bendRadiusMm(outsides),
      weightG: gramPerM * lengthM,
    };
  });
}
