import type { HarnessNode } from '../../model/index.ts';
import type { Segment } from '../harness/graph.ts';
import { spliceName, type PlanContext } from '../plan/context.ts';
import type { SegmentRow } from '../plan/segment-table.ts';
import { crosses, extentOf, placedByHand, placedByTree, roomiestDirections } from './place-nodes.ts';
import { placeLabels, textWidthMm, type LabelBox, type WantedLabel } from './place-labels.ts';
import type { DrawnHarness, DrawnNode, DrawnSegment } from './drawn.ts';
import { lengthText, nodeShapes, scaleBar, segmentShapes, TEXT_MM } from './shapes.ts';
import type { DrawnPoint } from './shape-types.ts';

/** Room for the harness itself on an A3 sheet laid wide, in mm: the sheet less its borders and the labels around. */
const ROOM = { widthMm: 280, heightMm: 190 } as const;
const BORDER_MM = 8;
const SCALE_TOLERANCE = 0.02;
/** A harness of a hand's length need not fill the sheet. */
const LARGEST_MM_PER_M = 1000;

/**
 * Draws the harness true to scale along every segment: in the directions of a person's places where every node has one, else
 * as a tree. Where those directions would make segments cross, the tree is drawn.
 */
export function drawHarness(context: PlanContext, rows: readonly SegmentRow[]): DrawnHarness {
  const nodes = [...context.graph.nodes.values()];
  if (nodes.length === 0) return NOTHING;
  const { segments } = context.graph;
  const placed = nodes.every(({ x, y }) => x !== undefined && y !== undefined);
  const given = placed ? placedByHand(nodes, segments) : null;
  const positions = given !== null && !crosses(segments, given) ? given : placedByTree(nodes, segments);
  const extent = extentOf([...positions.values()]);
  const mmPerM = Math.min(
    ROOM.widthMm / Math.max(extent.width, 1e-9),
    ROOM.heightMm / Math.max(extent.height, 1e-9),
    LARGEST_MM_PER_M,
  );
  const onPaper = new Map(
    [...positions].map(([id, { x, y }]) => [id, { x: (x - extent.left) * mmPerM, y: (y - extent.top) * mmPerM }]),
  );
  return finish(context, rows, nodes, onPaper, mmPerM, positions === given ? 'by hand' : 'automatic');
}

const NOTHING: DrawnHarness = {
  widthMm: 0,
  heightMm: 0,
  mmPerM: 0,
  layout: 'nothing to draw',
  toScale: false,
  nodes: [],
  segments: [],
  shapes: [],
  description: 'The map gives no nodes for its harness: there is nothing to draw.',
};

function distance(a: DrawnPoint, b: DrawnPoint): number {
  return Math.hypot(b.x - a.x, b.y - a.y);
}

function finish(
  context: PlanContext,
  rows: readonly SegmentRow[],
  nodes: readonly HarnessNode[],
  bare: ReadonlyMap<string, DrawnPoint>,
  mmPerM: number,
  layout: 'by hand' | 'automatic',
): DrawnHarness {
  const byId = new Map(rows.map((row) => [row.segment, row]));
  const drawn = context.graph.segments.map((segment) => drawnSegment(segment, bare, mmPerM, byId.get(segment.id)));
  const splices = splicesByNode(context);
  const directions = roomiestDirections(nodes, context.graph.segments, bare);
  const wanted = nodes.map((node): WantedLabel => ({
    id: node.id,
    lines: labelLines(context, node, splices.get(node.id) ?? []),
    at: bare.get(node.id)!,
    direction: directions.get(node.id) ?? Math.PI / 2,
    clearMm: CLEAR_OF_SIGN_MM,
  }));
  const beside = drawn.filter((segment) => !hasRoomInside(segment));
  const placedAll = placeLabels(
    [...beside.map(lengthLabel), ...wanted],
    [...drawn.flatMap((segment) => segmentObstacles(segment)), ...nodes.map(({ id }) => signBox(bare.get(id)!))],
    TEXT_MM,
  );
  const placed = placedAll.slice(beside.length);
  const lengthBoxes = new Map(placedAll.slice(0, beside.length).map(({ id, box }) => [id, box]));
  const corner = cornerOf(
    [...bare.values()],
    placedAll.map(({ box }) => box),
  );
  const shift = (point: DrawnPoint): DrawnPoint => ({
    x: point.x - corner.left + BORDER_MM,
    y: point.y - corner.top + BORDER_MM,
  });
  const segments = drawn.map((segment): DrawnSegment => {
    const box = lengthBoxes.get(segment.id);
    return {
      ...segment,
      points: [shift(segment.points[0]), shift(segment.points[1])],
      lengthAt: shift(box ? { x: box.left + box.width / 2, y: box.top + box.height / 2 } : middleOf(segment.points)),
    };
  });
  const drawnNodes = placed.map((label): DrawnNode & { readonly led: boolean } => {
    const at = shift({ x: label.box.left, y: label.box.top });
    return {
      id: label.id,
      kind: context.graph.nodes.get(label.id)!.kind,
      at: shift(label.at),
      label: label.lines,
      labelBox: { ...label.box, left: at.x, top: at.y },
      led: label.led,
    };
  });
  const widthMm = corner.right - corner.left + 2 * BORDER_MM;
  const heightMm = corner.bottom - corner.top + 2 * BORDER_MM + 10;
  const toScale = segments.every((segment) => segment.toScale);
  return {
    widthMm,
    heightMm,
    mmPerM,
    layout,
    toScale,
    nodes: drawnNodes.map(({ led: _, ...node }) => node),
    segments,
    shapes: [
      ...segments.flatMap(segmentShapes),
      ...drawnNodes.flatMap((node) => nodeShapes(node, node.led)),
      ...(mmPerM > 0 ? scaleBar(mmPerM, BORDER_MM, heightMm - BORDER_MM, toScale) : []),
    ],
    description: `Harness with ${nodes.length} nodes and ${segments.length} segments, ${layout}, ${toScale ? 'true to scale along its segments' : 'not to scale: lengths stand beside the segments'}.`,
  };
}

function drawnSegment(
  { id, from, to, lengthM }: Segment,
  positions: ReadonlyMap<string, DrawnPoint>,
  mmPerM: number,
  row: SegmentRow | undefined,
): Bare {
  const points = [positions.get(from)!, positions.get(to)!] as const;
  const drawnM = mmPerM === 0 ? 0 : distance(...points) / mmPerM;
  return {
    id,
    from,
    to,
    points,
    lengthM,
    toScale: Math.abs(drawnM / lengthM - 1) <= SCALE_TOLERANCE,
    bundleMm: row?.bundleMm ?? 0,
    circuits: row?.circuits ?? [],
  };
}

/** A segment before its length text has a place. */
type Bare = Omit<DrawnSegment, 'lengthAt'>;

/** Half the size of the largest sign of a node, and how far labels keep from the node, in mm. */
const SIGN_MM = 2.5;
const CLEAR_OF_SIGN_MM = 3;

function signBox({ x, y }: DrawnPoint): LabelBox {
  return { left: x - SIGN_MM, top: y - SIGN_MM, width: 2 * SIGN_MM, height: 2 * SIGN_MM };
}

function middleOf([a, b]: readonly [DrawnPoint, DrawnPoint]): DrawnPoint {
  return { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 };
}

/** Whether the length text stands on the segment itself, clear of the signs at its ends. */
function hasRoomInside({ points, lengthM }: Bare): boolean {
  return distance(...points) >= textWidthMm(lengthText(lengthM), TEXT_MM) + 4 * SIGN_MM;
}

/** The length text of a short segment, beside it. */
function lengthLabel({ id, points, lengthM }: Bare): WantedLabel {
  const [a, b] = points;
  const across = Math.atan2(b.y - a.y, b.x - a.x) + Math.PI / 2;
  return { id, lines: [lengthText(lengthM)], at: middleOf(points), direction: across, clearMm: 1.5 };
}

/** Small boxes along a segment that labels keep off, and that of its length text where it stands inside. */
function segmentObstacles(segment: Bare): LabelBox[] {
  const [a, b] = segment.points;
  const count = Math.max(1, Math.ceil(distance(a, b) / 3));
  const boxes = Array.from({ length: count + 1 }, (_, index): LabelBox => {
    const share = index / count;
    return { left: a.x + (b.x - a.x) * share - 0.5, top: a.y + (b.y - a.y) * share - 0.5, width: 1, height: 1 };
  });
  if (!hasRoomInside(segment)) return boxes;
  const width = textWidthMm(lengthText(segment.lengthM), TEXT_MM);
  const { x, y } = middleOf(segment.points);
  return [...boxes, { left: x - width / 2, top: y - TEXT_MM * 0.7, width, height: TEXT_MM * 1.4 }];
}

function splicesByNode(context: PlanContext): Map<string, string[]> {
  const byNode = new Map<string, string[]>();
  for (const { splice, node } of context.places.values()) {
    if (node === null) continue;
    byNode.set(node, [...(byNode.get(node) ?? []), spliceName(splice)]);
  }
  return byNode;
}

/** Longest list of splices written out at a node. */
const SPLICES_SHOWN = 3;

function labelLines(context: PlanContext, node: HarnessNode, splices: readonly string[]): readonly string[] {
  const held = node.connector ?? node.ground ?? node.part;
  const title = node.title ?? (node.connector === undefined ? undefined : context.find(node.connector)?.title);
  const lines = [held === undefined ? node.id : `${node.id} ${held}`];
  if (title !== undefined && title !== held) lines.push(title);
  if (node.kind === 'pass-through' && node.holeMm !== undefined) lines.push(`hole ${node.holeMm} mm`);
  lines.push(...(splices.length > SPLICES_SHOWN ? [`${splices.length} splices`] : splices));
  return lines.map((line) => (line.length > 40 ? `${line.slice(0, 39)}…` : line));
}

function cornerOf(points: readonly DrawnPoint[], boxes: readonly LabelBox[]) {
  const corners = boxes.flatMap(({ left, top, width, height }) => [
    { x: left, y: top },
    { x: left + width, y: top + height },
  ]);
  const { left, top, width, height } = extentOf([...points, ...corners]);
  return { left, top, right: left + width, bottom: top + height };
}
