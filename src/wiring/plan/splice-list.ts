import { SPLICE_HABITS } from '../tables/allowances.ts';
import { nameOf } from './colours.ts';
import { placeText, spliceName, type PlanContext } from './context.ts';
import { pullForceN } from './from-to.ts';

/** One splice: where it lies, what it joins, how it is made and tested. */
export interface SpliceRow {
  /** As it is printed. */
  readonly splice: string;
  readonly id: string;
  readonly node: string | null;
  readonly placedBy: 'hand' | 'least-copper' | null;
  /** Distance along the harness from the first place it joins, in mm; null when not known. */
  readonly fromMm: number | null;
  readonly fromPlace: string | null;
  readonly keepClearMm: number;
  readonly conductors: readonly {
    readonly circuit: string;
    readonly size: string;
    readonly colour: string;
    readonly leadsTo: string;
    readonly areaMm2: number;
    readonly options: readonly string[];
  }[];
  readonly totalAreaMm2: number;
  readonly copperMm2M: number | null;
  readonly method: string;
  readonly sealing: string;
  /** Least pull force of its thinnest conductor, in newtons. */
  readonly pullForceN: number | null;
  readonly maxWires: number;
  readonly tooMany: boolean;
  readonly options: readonly string[];
}

/** Every splice which the pack's builds need. */
export function spliceList(context: PlanContext): readonly SpliceRow[] {
  return context.harness.splices.flatMap((splice): SpliceRow[] => {
    const joined = splice.circuits.flatMap((key) => context.byKey.get(key) ?? []);
    if (joined.length === 0) return [];
    const place = context.places.get(splice.id);
    const stub = joined[0]!;
    const legs = joined.map(({ circuit, size, colourBase, colourTracer }) => ({
      circuit: circuit.id,
      size: size.text,
      colour: nameOf(colourBase, colourTracer),
      leadsTo: placeText(circuit.from.kind === 'splice' ? circuit.to : circuit.from),
      areaMm2: size.areaMm2,
      options: context.optionsOf(circuit.mask),
    }));
    return [
      {
        splice: spliceName(splice.id),
        id: splice.id,
        node: place?.node ?? null,
        placedBy: place?.by ?? null,
        fromMm: stub.lengthM === null ? null : Math.round(stub.lengthM * 1000),
        fromPlace: stub.lengthM === null ? null : placeText(splice.at),
        keepClearMm: SPLICE_HABITS.clearMm,
        conductors: legs,
        totalAreaMm2: legs.reduce((sum, { areaMm2 }) => sum + areaMm2, 0),
        copperMm2M: place?.copperMm2M ?? null,
        method: SPLICE_HABITS.method,
        sealing: SPLICE_HABITS.sealing,
        pullForceN: pullForceN(Math.min(...legs.map(({ areaMm2 }) => areaMm2))),
        maxWires: SPLICE_HABITS.maxWires,
        tooMany: legs.length > SPLICE_HABITS.maxWires,
        options: context.optionsOf(splice.mask),
      },
    ];
  });
}
