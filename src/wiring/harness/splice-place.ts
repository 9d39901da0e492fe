import type { Circuit, Splice } from '../../model/index.ts';
import type { HarnessGraph } from './graph.ts';

/** Where a splice lies, by whom, and how much copper it costs. */
export interface SplicePlace {
  readonly splice: string;
  /** Null when the harness says too little to place it. */
  readonly node: string | null;
  readonly by: 'hand' | 'least-copper' | null;
  /** Σ length · cross-section over its conductors, in mm²·m. */
  readonly copperMm2M: number | null;
}

/** Weight of a conductor whose size is not set yet, in mm². */
const UNSIZED_MM2 = 0.5;

/**
 * Places every splice where its conductors need the least copper: the node with the least sum of distance times cross-section
 * to the places it joins (weighted 1-median; in a network some node is best of all points). A conductor which a person leads
 * through a node of kind `splice` sets the place by hand. Splices are kept out of pass-throughs, and off connectors, parts and
 * studs while another node is left.
 */
export function placeSplices(
  graph: HarnessGraph,
  splices: readonly Splice[],
  circuits: ReadonlyMap<string, Circuit>,
  areaMm2: (circuit: Circuit) => number | null,
): ReadonlyMap<string, SplicePlace> {
  const inside = [...graph.nodes.values()].filter(({ kind }) => kind === 'branch' || kind === 'splice');
  const ends = [...graph.nodes.values()].filter(
    ({ kind }) => kind === 'connector' || kind === 'part' || kind === 'stud',
  );
  return new Map(
    splices.map((splice): [string, SplicePlace] => {
      const joined = splice.circuits.flatMap((key) => circuits.get(key) ?? []);
      const legs = joined.flatMap((circuit) => {
        const far = circuit.from.kind === 'splice' ? circuit.to : circuit.from;
        const node = graph.nodeOf(far);
        return node === null ? [] : [{ node, weight: areaMm2(circuit) ?? UNSIZED_MM2 }];
      });
      const copper = (node: string): number =>
        legs.reduce((sum, leg) => sum + leg.weight * graph.distanceM(leg.node, node), 0);
      const byHand = joined.flatMap(({ through }) => through).find((id) => graph.nodes.get(id)?.kind === 'splice');
      if (byHand !== undefined) {
        const cost = copper(byHand);
        return [
          splice.id,
          { splice: splice.id, node: byHand, by: 'hand', copperMm2M: Number.isFinite(cost) ? cost : null },
        ];
      }
      const best = legs.length < 2 ? null : (least(inside, copper) ?? least(ends, copper));
      return [
        splice.id,
        best
          ? { splice: splice.id, node: best.node, by: 'least-copper', copperMm2M: best.cost }
          : { splice: splice.id, node: null, by: null, copperMm2M: null },
      ];
    }),
  );
}

function least(
  nodes: readonly { readonly id: string }[],
  copper: (node: string) => number,
): { readonly node: string; readonly cost: number } | null {
  let best: { node: string; cost: number } | null = null;
  for (const { id } of nodes) {
    const cost = copper(id);
    if (Number.isFinite(cost) && (best === null || cost < best.cost - 1e-12)) best = { node: id, cost };
  }
  return best;
}
