import type { Circuit, CircuitEnd } from '../../model/index.ts';
import type { HarnessGraph, Way } from './graph.ts';
import type { SplicePlace } from './splice-place.ts';

/** Why a conductor has no way through the harness. */
export type NoWay = { readonly lacking: readonly string[] };

/**
 * The way of one conductor: from node to node by the shortest segments, through the nodes a person named, in their order.
 * What stands in the way is said in words.
 */
export function wayOf(graph: HarnessGraph, places: ReadonlyMap<string, SplicePlace>, circuit: Circuit): Way | NoWay {
  const lacking: string[] = [];
  const nodeOf = (end: CircuitEnd): string | null => {
    const node = end.kind === 'splice' ? (places.get(end.splice)?.node ?? null) : graph.nodeOf(end);
    // A place that is not known at all is told by the circuit itself.
    if (node === null && end.kind !== 'unknown') lacking.push(`a node of the harness for ${placeName(end)}`);
    return node;
  };
  const from = nodeOf(circuit.from);
  const to = nodeOf(circuit.to);
  if (from === null || to === null) return { lacking };
  const stops = [from, ...circuit.through.filter((node) => node !== from && node !== to), to];
  const nodes: string[] = [from];
  const segments: string[] = [];
  let lengthM = 0;
  for (let index = 1; index < stops.length; index += 1) {
    const leg = graph.way(stops[index - 1]!, stops[index]!);
    if (!leg) return { lacking: [`a way from ${stops[index - 1]} to ${stops[index]} along the segments`] };
    nodes.push(...leg.nodes.slice(1));
    segments.push(...leg.segments);
    lengthM += leg.lengthM;
  }
  return { nodes, segments, lengthM };
}

/** A place as a harness builder names it. */
export function placeName(end: CircuitEnd): string {
  switch (end.kind) {
    case 'cavity':
      return end.connector;
    case 'stud':
      return end.ground;
    case 'part':
      return end.connector ?? end.part;
    case 'splice':
      return end.splice;
    case 'unknown':
      return end.of;
  }
}
