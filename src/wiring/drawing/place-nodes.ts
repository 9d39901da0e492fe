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
    const reachedFrom = new Map<string, string>();
    for (const node of own.keys()) {
      const here = own.get(node)!;
      const towards = (other: string): number => {
        const [from, to] = [given.get(node)!, given.get(other)!];
        return Math.atan2(to.y - from.y, to.x - from.x);
      };
      const back = reachedFrom.get(node);
      const behind = back === undefined ? null : own.get(back)!;
      const children = around.get(node)!.filter(({ other }) => !own.has(other));
      const directions = spread(
        children.map(({ other }) => towards(other)),
        behind === null ? null : Math.atan2(behind.y - here.y, behind.x - here.x),
      );
      children.forEach(({ other, lengthM }, index) => {
        const direction = directions[index]!;
        own.set(other, { x: here.x + lengthM * Math.cos(direction), y: here.y + lengthM * Math.sin(direction) });
        reachedFrom.set(other, node);
      });
    }
    top = stack(own, positions, top);
  }
  return positions;
}

/** Least angle between two segments at one node, in radians: 20°, so that both can be told apart. */
const LEAST_ANGLE = Math.PI / 9;

/** Directions moved apart where two of them, or one and the way back, come nearer than the least angle. */
function spread(directions: readonly number[], back: number | null): readonly number[] {
  const rays = directions.map((angle, index) => ({ angle, index }));
  const fixed = back === null ? [] : [{ angle: back, index: -1 }];
  const all = [...rays, ...fixed];
  const least = Math.min(LEAST_ANGLE, (2 * Math.PI) / (all.length + 1));
  for (let pass = 0; pass < 30; pass += 1) {
    all.sort((a, b) => wrapped(a.angle) - wrapped(b.angle) || a.index - b.index);
    let moved = false;
    all.forEach((ray, place) => {
      const next = all[(place + 1) % all.length]!;
      const gap = wrapped(next.angle - ray.angle);
      if (next === ray || gap >= least - 1e-9) return;
      moved = true;
      const share = (least - gap) / (ray.index < 0 || next.index < 0 ? 1 : 2);
      if (ray.index >= 0) ray.angle -= share;
      if (next.index >= 0) next.angle += share;
    });
    if (!moved) break;
  }
  return rays.sort((a, b) => a.index - b.index).map(({ angle }) => angle);
}

/** An angle within one turn, from 0. */
function wrapped(angle: number): number {
  const turn = 2 * Math.PI;
  return ((angle % turn) + turn) % turn;
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

/** Whether two segments cross, touch away from a shared node, or leave one node nearly in one direction. */
export function crosses(segments: readonly Segment[], positions: ReadonlyMap<string, DrawnPoint>): boolean {
  return segments.some((one, index) => {
    const [a, b] = [positions.get(one.from)!, positions.get(one.to)!];
    return segments.slice(index + 1).some((other) => {
      const shared = [other.from, other.to].find((node) => node === one.from || node === one.to);
      if (shared !== undefined) return angleBetween(one, other, shared, positions) < LEAST_ANGLE / 4;
      const [c, d] = [positions.get(other.from)!, positions.get(other.to)!];
      return side(a, b, c) * side(a, b, d) <= 0 && side(c, d, a) * side(c, d, b) <= 0 && boxesMeet(a, b, c, d);
    });
  });
}

function angleBetween(one: Segment, other: Segment, node: string, positions: ReadonlyMap<string, DrawnPoint>): number {
  const here = positions.get(node)!;
  const [a, b] = [one, other].map((segment) => {
    const far = positions.get(segment.from === node ? segment.to : segment.from)!;
    return Math.atan2(far.y - here.y, far.x - here.x);
  }) as [number, number];
  const gap = wrapped(a - b);
  return Math.min(gap, 2 * Math.PI - gap);
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

/** Where a label has most room: in the middle of the widest gap between the segments of its node; downwards without any. */
export function roomiestDirections(
  nodes: readonly { readonly id: string }[],
  segments: readonly { readonly from: string; readonly to: string }[],
  positions: ReadonlyMap<string, DrawnPoint>,
): Map<string, number> {
  const rays = new Map<string, number[]>(nodes.map(({ id }) => [id, []]));
  for (const { from, to } of segments) {
    const [a, b] = [positions.get(from)!, positions.get(to)!];
    rays.get(from)!.push(wrapped(Math.atan2(b.y - a.y, b.x - a.x)));
    rays.get(to)!.push(wrapped(Math.atan2(a.y - b.y, a.x - b.x)));
  }
  return new Map(
    [...rays].map(([id, angles]) => {
      const sorted = [...angles].sort((a, b) => a - b);
      let best = { from: 0, gap: sorted.length === 0 ? Math.PI : -1 };
      sorted.forEach((from, index) => {
        const next = sorted[index + 1] ?? sorted[0]! + 2 * Math.PI;
        if (next - from > best.gap + 1e-9) best = { from, gap: next - from };
      });
      return [id, best.from + best.gap / 2];
    }),
  );
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
