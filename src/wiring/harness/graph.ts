import type { CircuitEnd, Harness, HarnessNode, HarnessSegment } from '../../model/index.ts';
import { distanceHeap } from './heap.ts';

/** A segment of the harness with an id of its own. */
export interface Segment {
  readonly id: string;
  readonly from: string;
  readonly to: string;
  readonly lengthM: number;
  readonly segment: HarnessSegment;
}

/** A way along segments: nodes in order, one segment between each two. */
export interface Way {
  readonly nodes: readonly string[];
  readonly segments: readonly string[];
  readonly lengthM: number;
}

export interface GraphProblem {
  readonly kind: 'segment-without-node' | 'connector-twice' | 'segment-to-itself';
  readonly subject: string;
  readonly message: string;
}

/** The harness as a graph: nodes, segments with lengths, and where each connector, stud and part lies. */
export interface HarnessGraph {
  readonly nodes: ReadonlyMap<string, HarnessNode>;
  readonly segments: readonly Segment[];
  readonly segmentById: ReadonlyMap<string, Segment>;
  readonly problems: readonly GraphProblem[];
  /** Segments at a node. */
  at(node: string): readonly Segment[];
  /** The node of a place that is no splice; null when the harness does not say where it lies. */
  nodeOf(end: CircuitEnd): string | null;
  /** Shortest way between two nodes; null when they are not joined. Equal ways: the one found first in document order. */
  way(from: string, to: string): Way | null;
  /** Distance in metres; Infinity when not joined. */
  distanceM(from: string, to: string): number;
}

interface Reached {
  readonly distances: Float64Array;
  /** Segment by which each node was reached; −1 for the start and what was not reached. */
  readonly by: Int32Array;
}

/** Builds the graph of a harness. Shortest ways by Dijkstra, one run a starting node, kept. */
export function harnessGraph(harness: Harness | undefined): HarnessGraph {
  const nodes = new Map((harness?.nodes ?? []).map((node) => [node.id, node]));
  const order = [...nodes.keys()];
  const number = new Map(order.map((id, index) => [id, index]));
  const problems: GraphProblem[] = [];
  const segments = segmentsOf(harness?.segments ?? [], number, problems);
  const around: { to: number; segment: number }[][] = order.map(() => []);
  segments.forEach(({ from, to }, index) => {
    around[number.get(from)!]!.push({ to: number.get(to)!, segment: index });
    around[number.get(to)!]!.push({ to: number.get(from)!, segment: index });
  });
  const places = placesOf(harness, problems);
  const runs = new Map<number, Reached>();
  const reach = (start: number): Reached => {
    const known = runs.get(start);
    if (known) return known;
    const run = dijkstra(start, around, segments);
    runs.set(start, run);
    return run;
  };
  return {
    nodes,
    segments,
    segmentById: new Map(segments.map((segment) => [segment.id, segment])),
    problems,
    at: (node) => (around[number.get(node) ?? -1] ?? []).map(({ segment }) => segments[segment]!),
    nodeOf: (end) => places(end),
    distanceM: (from, to) => {
      const [a, b] = [number.get(from), number.get(to)];
      return a === undefined || b === undefined ? Infinity : reach(a).distances[b]!;
    },
    way: (from, to) => {
      const [a, b] = [number.get(from), number.get(to)];
      if (a === undefined || b === undefined) return null;
      const run = reach(a);
      if (run.distances[b] === Infinity) return null;
      const path: string[] = [order[b]!];
      const used: string[] = [];
      for (let at = b; at !== a;) {
        const segment = segments[run.by[at]!]!;
        used.push(segment.id);
        at = number.get(segment.from) === at ? number.get(segment.to)! : number.get(segment.from)!;
        path.push(order[at]!);
      }
      return { nodes: path.reverse(), segments: used.reverse(), lengthM: run.distances[b]! };
    },
  };
}

function segmentsOf(
  list: readonly HarnessSegment[],
  number: ReadonlyMap<string, number>,
  problems: GraphProblem[],
): Segment[] {
  const taken = new Set<string>();
  return list.flatMap((segment): Segment[] => {
    const stem = segment.id ?? `${segment.from}-${segment.to}`;
    let id = stem;
    for (let count = 2; taken.has(id); count += 1) id = `${stem}+${count}`;
    taken.add(id);
    for (const node of [segment.from, segment.to]) {
      if (number.has(node)) continue;
      problems.push({
        kind: 'segment-without-node',
        subject: id,
        message: `ends at "${node}", which is no node of the harness`,
      });
      return [];
    }
    if (segment.from === segment.to) {
      problems.push({ kind: 'segment-to-itself', subject: id, message: `starts and ends at "${segment.from}"` });
      return [];
    }
    return [{ id, from: segment.from, to: segment.to, lengthM: segment.lengthM, segment }];
  });
}

function placesOf(harness: Harness | undefined, problems: GraphProblem[]): (end: CircuitEnd) => string | null {
  const connectors = new Map<string, string>();
  const grounds = new Map<string, string>();
  const parts = new Map<string, string>();
  for (const part of harness?.parts ?? []) if (part.node !== undefined) parts.set(part.id, part.node);
  for (const node of harness?.nodes ?? []) {
    if (node.connector !== undefined) {
      const first = connectors.get(node.connector);
      if (first === undefined) connectors.set(node.connector, node.id);
      else
        problems.push({
          kind: 'connector-twice',
          subject: node.id,
          message: `holds ${node.connector}, which lies at "${first}" already`,
        });
    }
    if (node.ground !== undefined && !grounds.has(node.ground)) grounds.set(node.ground, node.id);
    if (node.part !== undefined && !parts.has(node.part)) parts.set(node.part, node.id);
  }
  const known = new Set((harness?.nodes ?? []).map(({ id }) => id));
  const exists = (id: string | undefined): string | null => (id !== undefined && known.has(id) ? id : null);
  return (end) => {
    switch (end.kind) {
      case 'cavity':
        return exists(connectors.get(end.connector));
      case 'stud':
        return exists(grounds.get(end.ground));
      case 'part':
        return exists(parts.get(end.part) ?? (end.connector === null ? undefined : connectors.get(end.connector)));
      case 'splice':
      case 'unknown':
        return null;
    }
  };
}

function dijkstra(
  start: number,
  around: readonly (readonly { readonly to: number; readonly segment: number }[])[],
  segments: readonly Segment[],
): Reached {
  const distances = new Float64Array(around.length).fill(Infinity);
  const by = new Int32Array(around.length).fill(-1);
  distances[start] = 0;
  const heap = distanceHeap();
  heap.push(start, 0);
  for (let top = heap.pop(); top; top = heap.pop()) {
    if (top.distance > distances[top.node]!) continue;
    for (const { to, segment } of around[top.node]!) {
      const distance = top.distance + segments[segment]!.lengthM;
      if (distance < distances[to]!) {
        distances[to] = distance;
        by[to] = segment;
        heap.push(to, distance);
      }
    }
  }
  return { distances, by };
}
