import type { CrossloomMap, Edit } from '../../../model/index.ts';
import type { DrawnHarness } from '../../../wiring/index.ts';

interface Point {
  readonly x: number;
  readonly y: number;
}

/**
 * Edits that put a node where it was dragged to. The drawing takes only directions from the stored places and keeps lengths
 * true, so the new place is written seen from the neighbour that it hangs on. Where some node has no place yet, all are
 * written as they are drawn.
 */
export function moveNode(
  map: CrossloomMap,
  drawing: Pick<DrawnHarness, 'nodes' | 'segments'>,
  node: string,
  to: Point,
): readonly Edit[] {
  const nodes = map.harness?.nodes ?? [];
  const drawn = new Map(drawing.nodes.map(({ id, at }) => [id, at]));
  if (!drawn.has(node)) return [];
  if (!nodes.every(({ x, y }) => x !== undefined && y !== undefined)) {
    return nodes.flatMap(({ id }) => placeEdits(id, id === node ? to : drawn.get(id)!, DRAWN_STEPS));
  }
  const stored = new Map(nodes.map(({ id, x, y }) => [id, { x: x!, y: y! }]));
  const anchor = neighbourTowardsRoot(drawing, node, nodes[0]!.id);
  const scale = storedPerDrawn(drawing, stored, drawn);
  const from = anchor ?? node;
  const [here, seen] = [stored.get(from)!, drawn.get(from)!];
  return placeEdits(node, { x: here.x + (to.x - seen.x) * scale, y: here.y + (to.y - seen.y) * scale }, 1);
}

/** Places taken from the drawing are kept to a tenth of its millimetre. */
const DRAWN_STEPS = 10;

function placeEdits(id: string, { x, y }: Point, steps: number): readonly Edit[] {
  return (
    [
      ['x', x],
      ['y', y],
    ] as const
  ).map(([axis, value]) => ({
    do: 'set',
    in: 'map',
    path: ['harness', 'nodes', { id }, axis],
    to: Math.round(value * steps) / steps,
  }));
}

/** The node before it on the way from the first node; of the first node itself, its first neighbour. Null without any. */
function neighbourTowardsRoot(
  { segments }: Pick<DrawnHarness, 'segments'>,
  node: string,
  first: string,
): string | null {
  const around = new Map<string, string[]>();
  for (const { from, to } of segments) {
    around.set(from, [...(around.get(from) ?? []), to]);
    around.set(to, [...(around.get(to) ?? []), from]);
  }
  const before = new Map<string, string>();
  const reached = [first];
  for (const one of reached) {
    for (const next of around.get(one) ?? []) {
      if (next === first || before.has(next)) continue;
      before.set(next, one);
      reached.push(next);
    }
  }
  return before.get(node) ?? around.get(node)?.[0] ?? null;
}

/** How many units of the stored places a millimetre of the drawing is, by the middle one of all segments. */
function storedPerDrawn(
  { segments }: Pick<DrawnHarness, 'segments'>,
  stored: ReadonlyMap<string, Point>,
  drawn: ReadonlyMap<string, Point>,
): number {
  const length = (places: ReadonlyMap<string, Point>, from: string, to: string): number => {
    const [a, b] = [places.get(from)!, places.get(to)!];
    return Math.hypot(b.x - a.x, b.y - a.y);
  };
  const ratios = segments
    .map(({ from, to }) => length(stored, from, to) / length(drawn, from, to))
    .filter((ratio) => Number.isFinite(ratio) && ratio > 0)
    .sort((a, b) => a - b);
  return ratios[Math.floor(ratios.length / 2)] ?? 1;
}
