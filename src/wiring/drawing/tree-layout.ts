import type { Segment } from '../harness/graph.ts';
import type { DrawnPoint } from './shape-types.ts';

interface Branch {
  readonly node: string;
  readonly segment: Segment;
}

/**
 * Lays out one connected set of segments true to length and without a crossing: every subtree gets a share of the circle by
 * the number of its ends and is drawn in the middle of it (equal-angle layout of trees, Felsenstein, *Inferring Phylogenies*).
 * Starts in the middle of the longest way, which ends up level. Segments that close a circle are left out of the tree.
 */
export function layoutTree(nodes: readonly string[], segments: readonly Segment[]): ReadonlyMap<string, DrawnPoint> {
  const around = new Map<string, Branch[]>(nodes.map((node) => [node, []]));
  const tree = spanningTree(nodes, segments);
  for (const segment of segments) {
    if (!tree.has(segment.id)) continue;
    around.get(segment.from)!.push({ node: segment.to, segment });
    around.get(segment.to)!.push({ node: segment.from, segment });
  }
  const trunk = longestWay(nodes[0]!, around);
  const root = trunk[Math.floor(trunk.length / 2)]!;
  const order = breadthFirst(root, around);
  const parents = new Map(order.map(({ node, parent }) => [node, parent]));
  const leaves = new Map<string, number>();
  for (const { node } of [...order].reverse()) {
    const own = around.get(node)!.filter((branch) => branch.node !== parents.get(node)?.node);
    leaves.set(node, own.length === 0 ? 1 : own.reduce((sum, branch) => sum + leaves.get(branch.node)!, 0));
  }
  const positions = new Map<string, DrawnPoint>([[root, { x: 0, y: 0 }]]);
  const arcs = new Map<string, readonly [number, number]>([[root, [-Math.PI, Math.PI]]]);
  for (const { node } of order) {
    const [from, to] = arcs.get(node)!;
    const here = positions.get(node)!;
    const children = heaviestInside(
      around.get(node)!.filter((branch) => branch.node !== parents.get(node)?.node),
      leaves,
    );
    const total = children.reduce((sum, child) => sum + leaves.get(child.node)!, 0);
    let start = from;
    for (const child of children) {
      const width = ((to - from) * leaves.get(child.node)!) / total;
      const direction = start + width / 2;
      positions.set(child.node, {
        x: here.x + child.segment.lengthM * Math.cos(direction),
        y: here.y + child.segment.lengthM * Math.sin(direction),
      });
      arcs.set(child.node, [start, start + width]);
      start += width;
    }
  }
  return levelled(positions, trunk);
}

/** Turns the layout so that the longest way lies level. */
function levelled(
  positions: ReadonlyMap<string, DrawnPoint>,
  trunk: readonly string[],
): ReadonlyMap<string, DrawnPoint> {
  const a = positions.get(trunk[0]!)!;
  const b = positions.get(trunk.at(-1)!)!;
  const turn = -Math.atan2(b.y - a.y, b.x - a.x);
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
  return new Map([...positions].map(([id, { x, y }]) => [id, { x: x * cos - y * sin, y: x * sin + y * cos }]));
}

/** The heaviest child in the middle, the others alternating outwards: the trunk goes on straight. */
function heaviestInside(children: readonly Branch[], leaves: ReadonlyMap<string, number>): readonly Branch[] {
  const byWeight = [...children].sort(
    (a, b) => leaves.get(b.node)! - leaves.get(a.node)! || b.segment.lengthM - a.segment.lengthM,
  );
  const left: Branch[] = [];
  const right: Branch[] = [];
  byWeight.forEach((child, index) => (index % 2 === 0 ? right : left).push(child));
  return [...left.reverse(), ...right];
}

/** Ids of the minimum spanning tree (Kruskal): the longest segment of a circle is the one left out. */
export function spanningTree(nodes: readonly string[], segments: readonly Segment[]): Set<string> {
  const parent = new Map(nodes.map((node) => [node, node]));
  const find = (node: string): string => {
    let root = node;
    while (parent.get(root) !== root) root = parent.get(root)!;
    parent.set(node, root);
    return root;
  };
  const tree = new Set<string>();
  for (const segment of [...segments].sort((a, b) => a.lengthM - b.lengthM)) {
    const [a, b] = [find(segment.from), find(segment.to)];
    if (a === b) continue;
    parent.set(a, b);
    tree.add(segment.id);
  }
  return tree;
}

interface Visit {
  readonly node: string;
  readonly parent: { readonly node: string } | null;
  readonly distance: number;
}

function breadthFirst(start: string, around: ReadonlyMap<string, readonly Branch[]>): Visit[] {
  const order: Visit[] = [{ node: start, parent: null, distance: 0 }];
  for (let at = 0; at < order.length; at += 1) {
    const visit = order[at]!;
    for (const { node, segment } of around.get(visit.node)!) {
      if (node === visit.parent?.node) continue;
      order.push({ node, parent: { node: visit.node }, distance: visit.distance + segment.lengthM });
    }
  }
  return order;
}

/** Longest way of a tree: the farthest node from anywhere, and the farthest from that. */
function longestWay(start: string, around: ReadonlyMap<string, readonly Branch[]>): readonly string[] {
  const farthest = (visits: readonly Visit[]): Visit =>
    visits.reduce((best, visit) => (visit.distance > best.distance ? visit : best));
  const one = farthest(breadthFirst(start, around)).node;
  const visits = breadthFirst(one, around);
  const parents = new Map(visits.map(({ node, parent }) => [node, parent?.node ?? null]));
  const way: string[] = [];
  for (let at: string | null = farthest(visits).node; at !== null; at = parents.get(at) ?? null) way.push(at);
  return way;
}
