import type { HarnessNode } from '../../model/index.ts';
import type { Segment } from '../harness/graph.ts';
import type { DrawnPoint } from './shape-types.ts';
import { layoutTree, spanningTree } from './tree-layout.ts';

/** Between pieces that no segment joins, in metres. */
const PIECE_GAP_M = 0.4;

/** A person's places give the directions of the segments; their lengths are the true ones, from piece to piece of the tree. */
export function placedByHand(nodes: readonly HarnessNode[], segments: readonly Segment[]): Map<string, DrawnPoint> {
  const given = new Map(nodes.map(({ id, x, y }) => [id, { x: x!, y: y! }]));
  const positions = new Map<string, DrawnPoint>();
  let top = 0;
  for (const piece of piecesOf(nodes, segments)) {
    const tree = spanningTree(piece.nodes, piece.segments);
    const around = neighbours(
      piece.nodes,
      piece.segments.filter(({ id }) => tree.has(id)),
    );
    const own = new Map<string, DrawnPoint>([[piece.nodes[0]!, { x: 0, y: 0 }]]);
    for (const node of own.keys()) {
      const [here, from] = [own.get(node)!, given.get(node)!];
      for (const { other, lengthM } of around.get(node)!) {
        if (own.has(other)) continue;
        const to = given.get(other)!;
        const direction = Math.atan2(to.y - from.y, to.x - from.x);
        own.set(other, { x: here.x + lengthM * Math.cos(direction), y: here.y + lengthM * Math.sin(direction) });
      }
    }
    top = stack(own, positions, top);
  }
  return positions;
}

function neighbours(
  nodes: readonly string[],
  segments: readonly Segment[],
): Map<string, { readonly other: string; readonly lengthM: number }[]> {
  const around = new Map<string, { other: string; lengthM: number }[]>(nodes.map((node) => [node, []]));
  for (const { from, to, lengthM } of segments) {
    around.get(from)!.push({ other: to, lengthM });
    around.get(to)!.push({ other: from, lengthM });
  }
  return around;
}

/** Sets a piece under the ones before it; gives the foot of the stack. */
function stack(own: ReadonlyMap<string, DrawnPoint>, positions: Map<string, DrawnPoint>, top: number): number {
  const extent = extentOf([...own.values()]);
  for (const [id, { x, y }] of own) positions.set(id, { x: x - extent.left, y: y - extent.top + top });
  return top + extent.height + PIECE_GAP_M;
}

/** Whether two segments that share no node cross or lie on each other. */
export function crosses(segments: readonly Segment[], positions: ReadonlyMap<string, DrawnPoint>): boolean {
  return segments.some((one, index) => {
    const [a, b] = [positions.get(one.from)!, positions.get(one.to)!];
    return segments.slice(index + 1).some((other) => {
      if ([other.from, other.to].some((node) => node === one.from || node === one.to)) return false;
      const [c, d] = [positions.get(other.from)!, positions.get(other.to)!];
      return side(a, b, c) * side(a, b, d) <= 0 && side(c, d, a) * side(c, d, b) <= 0 && boxesMeet(a, b, c, d);
    });
  });
}

function side(a: DrawnPoint, b: DrawnPoint, c: DrawnPoint): number {
  const area = (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
  return Math.abs(area) < 1e-9 ? 0 : Math.sign(area);
}

function boxesMeet(a: DrawnPoint, b: DrawnPoint, c: DrawnPoint, d: DrawnPoint): boolean {
  return (
    Math.max(Math.min(a.x, b.x), Math.min(c.x, d.x)) <= Math.min(Math.max(a.x, b.x), Math.max(c.x, d.x)) &&
    Math.max(Math.min(a.y, b.y), Math.min(c.y, d.y)) <= Math.min(Math.max(a.y, b.y), Math.max(c.y, d.y))
  );
}

/** Where a label has most room: away from the mean of the neighbours; downwards where they balance out. */
export function awayFromNeighbours(
  nodes: readonly HarnessNode[],
  segments: readonly Segment[],
  positions: ReadonlyMap<string, DrawnPoint>,
): Map<string, number> {
  const sums = new Map(nodes.map(({ id }) => [id, { x: 0, y: 0 }]));
  for (const { from, to } of segments) {
    const [a, b] = [positions.get(from)!, positions.get(to)!];
    const length = Math.hypot(b.x - a.x, b.y - a.y) || 1;
    const unit = { x: (b.x - a.x) / length, y: (b.y - a.y) / length };
    sums.set(from, { x: sums.get(from)!.x - unit.x, y: sums.get(from)!.y - unit.y });
    sums.set(to, { x: sums.get(to)!.x + unit.x, y: sums.get(to)!.y + unit.y });
  }
  return new Map([...sums].map(([id, { x, y }]) => [id, Math.hypot(x, y) < 0.1 ? Math.PI / 2 : Math.atan2(y, x)]));
}

/** Lays out each connected piece and stacks them. */
export function placedByTree(nodes: readonly HarnessNode[], segments: readonly Segment[]): Map<string, DrawnPoint> {
  const positions = new Map<string, DrawnPoint>();
  let top = 0;
  for (const piece of piecesOf(nodes, segments)) {
    top = stack(layoutTree(piece.nodes, piece.segments), positions, top);
  }
  return positions;
}

function piecesOf(
  nodes: readonly HarnessNode[],
  segments: readonly Segment[],
): { readonly nodes: string[]; readonly segments: Segment[] }[] {
  const around = new Map<string, string[]>(nodes.map(({ id }) => [id, []]));
  for (const { from, to } of segments) {
    around.get(from)!.push(to);
    around.get(to)!.push(from);
  }
  const pieceOf = new Map<string, number>();
  const pieces: { nodes: string[]; segments: Segment[] }[] = [];
  for (const { id } of nodes) {
    if (pieceOf.has(id)) continue;
    const piece = { nodes: [id], segments: [] };
    pieces.push(piece);
    pieceOf.set(id, pieces.length - 1);
    for (let at = 0; at < piece.nodes.length; at += 1) {
      for (const next of around.get(piece.nodes[at]!)!) {
        if (pieceOf.has(next)) continue;
        pieceOf.set(next, pieces.length - 1);
        piece.nodes.push(next);
      }
    }
  }
  for (const segment of segments) pieces[pieceOf.get(segment.from)!]!.segments.push(segment);
  return pieces.sort((a, b) => b.nodes.length - a.nodes.length);
}

export function extentOf(points: readonly DrawnPoint[]): {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
} {
  let [left, top, right, bottom] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const { x, y } of points) {
    left = Math.min(left, x);
    right = Math.max(right, x);
    top = Math.min(top, y);
    bottom = Math.max(bottom, y);
  }
  return { left, top, width: right - left, height: bottom - top };
}
