import { parseRef } from '../../model/index.ts';
import { chooseFuse, fuseColour, isFuseRating, largestFuseA } from '../conductor/fuse.ts';
import type { FeedLoad } from '../supply/feed-tree.ts';
import { FUSE_RULES } from '../tables/fuses.ts';
import { placeText, type PlanContext } from './context.ts';
import type { PlannedConductor } from './planned-conductor.ts';

/** One feed or in-line fuse with what hangs on it. Currents in amperes. */
export interface FuseRow {
  /** `side:feed`, or the id of an in-line fuse. */
  readonly fuse: string;
  readonly title: string;
  readonly place: 'feed' | 'in-line';
  readonly kind: string;
  readonly liveIn: readonly string[];
  readonly at: string | null;
  readonly ratingA: number | null;
  readonly colour: string | null;
  /** The rating is one that is made (ISO 8820). */
  readonly made: boolean | null;
  readonly ownA: number | null;
  readonly addedA: number;
  readonly worstA: number;
  readonly share: number | null;
  readonly verdict: FeedLoad['verdict'];
  readonly circuits: readonly string[];
  readonly currentUnknownFor: readonly string[];
  /** The weakest conductor after it. */
  readonly thinnest: string | null;
  readonly thinnestA: number | null;
  /** The fuse opens before that conductor is overloaded; null when either is not known. */
  readonly protects: boolean | null;
  /** What the load asks for and what the conductor allows. */
  readonly neededA: number | null;
  readonly largestA: number | null;
  readonly mostUnfusedMm: number;
}

/** Feeds and in-line fuses which conductors of the harness hang on. */
export function fuseTable(context: PlanContext, loads: readonly FeedLoad[]): readonly FuseRow[] {
  const after = new Map<string, PlannedConductor[]>();
  for (const conductor of context.conductors) {
    const { fuse } = conductor.circuit;
    if (!fuse) continue;
    const list = after.get(fuse.id);
    if (list) list.push(conductor);
    else after.set(fuse.id, [conductor]);
  }
  const byRef = new Map(loads.map((load) => [load.ref, load]));
  return [...after].map(([id, conductors]) => {
    const load = byRef.get(id);
    return load ? feedRow(load, conductors) : inLineRow(context, id, conductors);
  });
}

function weakest(conductors: readonly PlannedConductor[]): PlannedConductor | null {
  return conductors.reduce<PlannedConductor | null>(
    (least, one) => (least === null || one.ampacityA < least.ampacityA ? one : least),
    null,
  );
}

function protection(ratingA: number | null, conductors: readonly PlannedConductor[], loadA: number) {
  const thin = weakest(conductors);
  return {
    thinnest: thin?.circuit.id ?? null,
    thinnestA: thin?.ampacityA ?? null,
    protects: ratingA === null || !thin ? null : ratingA <= thin.ampacityA + 1e-9,
    neededA: loadA > 0 ? chooseFuse(loadA, thin?.ampacityA ?? null).ratingA : null,
    largestA: thin ? largestFuseA(thin.ampacityA) : null,
    mostUnfusedMm: Math.round(FUSE_RULES.unfusedM * 1000),
  };
}

function feedRow(load: FeedLoad, conductors: readonly PlannedConductor[]): FuseRow {
  const { feed } = load;
  const side = parseRef(load.ref)!.side;
  return {
    fuse: load.ref,
    title: feed.title ?? feed.id,
    place: 'feed',
    kind: feed.kind,
    liveIn: load.liveIn,
    at: feed.at ? `${side}:${feed.at.connector}-${feed.at.cavity}` : null,
    ratingA: feed.fuseA,
    colour: fuseColour(feed.fuseA),
    made: feed.fuseA === null ? null : isFuseRating(feed.fuseA),
    ownA: load.ownA,
    addedA: load.addedA,
    worstA: load.worstA,
    share: load.share,
    verdict: load.verdict,
    circuits: conductors.map(({ circuit }) => circuit.id),
    currentUnknownFor: load.unknown,
    ...protection(feed.fuseA, conductors, load.worstA),
  };
}

function inLineRow({ pairing }: PlanContext, id: string, conductors: readonly PlannedConductor[]): FuseRow {
  const part = (pairing.map.harness?.parts ?? []).find((one) => one.id === id);
  const ratingA = conductors.find(({ circuit }) => circuit.fuse?.id === id)?.circuit.fuse?.fuseA ?? null;
  const loadA = Math.max(0, ...conductors.map(({ circuit }) => circuit.loadA ?? 0));
  const share = ratingA === null ? null : loadA / ratingA;
  return {
    fuse: id,
    title: part?.title ?? `in line in circuit ${id}`,
    place: 'in-line',
    kind: 'in-line',
    liveIn: [],
    at: null,
    ratingA,
    colour: fuseColour(ratingA),
    made: ratingA === null ? null : isFuseRating(ratingA),
    ownA: null,
    addedA: loadA,
    worstA: loadA,
    share,
    verdict:
      share === null || conductors.every(({ circuit }) => circuit.loadA === null)
        ? 'unknown'
        : share > 1
          ? 'over-rating'
          : share > FUSE_RULES.continuousShare
            ? 'over-continuous'
            : 'within',
    circuits: conductors.map(({ circuit }) => circuit.id),
    currentUnknownFor: conductors.filter(({ circuit }) => circuit.loadA === null).map(({ circuit }) => circuit.id),
    ...protection(ratingA, conductors, loadA),
  };
}

/** One ground point with what returns by it. */
export interface GroundRow {
  readonly ground: string;
  readonly title: string;
  readonly kind: 'power' | 'sensor' | null;
  readonly at: string;
  readonly stud: string | null;
  readonly studMm: number | null;
  readonly torqueNm: number | null;
  readonly circuits: readonly {
    readonly circuit: string;
    readonly size: string;
    readonly currentA: number;
    readonly dropV: number | null;
  }[];
  readonly totalA: number;
}

/** Grounds of both platforms that conductors of the harness lead to. */
export function groundTable(context: PlanContext): readonly GroundRow[] {
  const rows: GroundRow[] = [];
  for (const side of [context.pairing.host, context.pairing.donor]) {
    for (const ground of side.platform.grounds) {
      const ref = `${side.name}:${ground.id}`;
      const key = ground.at ? `${side.name}:${ground.at.connector}/${ground.at.cavity}` : ref;
      const here = context.conductors.filter(({ circuit }) => circuit.to.key === key || circuit.from.key === key);
      if (here.length === 0) continue;
      rows.push({
        ground: ref,
        title: ground.title ?? ground.id,
        kind: ground.kind ?? null,
        at: placeText(here[0]!.circuit.to.key === key ? here[0]!.circuit.to : here[0]!.circuit.from),
        stud: ground.stud ?? null,
        studMm: ground.studMm ?? null,
        torqueNm: ground.torqueNm ?? null,
        circuits: here.map(({ circuit, size, currentA, dropV }) => ({
          circuit: circuit.id,
          size: size.text,
          currentA,
          dropV,
        })),
        totalA: here.reduce((sum, { currentA }) => sum + currentA, 0),
      });
    }
  }
  return rows;
}
