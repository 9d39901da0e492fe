import {
  placeLabelsWithin,
  roomiestDirections,
  textWidthMm,
  type DrawnHarness,
  type DrawnNode,
  type DrawnSegment,
  type LabelBox,
  type WantedLabel,
} from '../../../wiring/index.ts';

type Drawing = Pick<DrawnHarness, 'nodes' | 'segments'>;

/** A node on the screen; places in CSS pixels from the top left of the drawing. */
export interface ScreenNode {
  readonly id: string;
  readonly kind: DrawnNode['kind'];
  readonly x: number;
  readonly y: number;
  /** Null where there is no room for it at this size. */
  readonly label: { readonly lines: readonly string[]; readonly box: LabelBox; readonly isLed: boolean } | null;
}

export interface ScreenSegment {
  readonly id: string;
  readonly x1: number;
  readonly y1: number;
  readonly x2: number;
  readonly y2: number;
  readonly width: number;
  readonly isToScale: boolean;
  readonly circuits: number;
  readonly label: { readonly text: string; readonly x: number; readonly y: number; readonly width: number } | null;
}

export interface ScreenLayout {
  /** Pixels a millimetre of the drawing. */
  readonly scale: number;
  readonly nodes: readonly ScreenNode[];
  readonly segments: readonly ScreenSegment[];
  /** What signs and labels cover, in pixels. */
  readonly extent: LabelBox;
}

/** Height of the lettering in pixels, whatever the zoom. */
export const LETTER_PX = 11;
const SIGN_PX = 9;
const CLEAR_PX = 12;
/** A label farther than this from its node would be read as another's. */
const FARTHEST_PX = 88;
const LENGTH_FARTHEST_PX = 16;
const STEP_PX = 5;

/** What is labelled first when room is scarce. */
const ORDER: Readonly<Record<DrawnNode['kind'], number>> = {
  connector: 0,
  part: 1,
  stud: 1,
  'pass-through': 2,
  splice: 3,
  branch: 4,
};

/**
 * Lays the drawn harness out for the screen: the places of the drawing at a scale, lines by the thickness of the bundle, and
 * lettering of one size at every zoom, where it touches nothing.
 */
export function layOnScreen({ nodes, segments }: Drawing, scale: number): ScreenLayout {
  const at = new Map(nodes.map((node) => [node.id, { x: node.at.x * scale, y: node.at.y * scale }]));
  const directions = roomiestDirections(nodes, segments, at);
  const order = [...nodes].sort((a, b) => ORDER[a.kind] - ORDER[b.kind]);
  const wanted = order.map((node): WantedLabel => ({
    id: node.id,
    lines: labelOf(node),
    at: at.get(node.id)!,
    direction: directions.get(node.id) ?? Math.PI / 2,
    clearMm: node.kind === 'branch' ? CLEAR_PX / 2 : CLEAR_PX,
  }));
  const inside = segments.filter((segment) => hasRoomInside(segment, scale));
  const beside = segments.filter((segment) => !hasRoomInside(segment, scale));
  const obstacles = [
    ...nodes.map(({ id }) => boxAround(at.get(id)!, 2 * SIGN_PX, 2 * SIGN_PX)),
    ...segments.flatMap((segment) => alongSegment(at.get(segment.from)!, at.get(segment.to)!)),
    ...inside.map((segment) => boxAround(middle(segment, scale), lengthWidth(segment), LETTER_PX * 1.4)),
  ];
  const labels = placeLabelsWithin(wanted, obstacles, LETTER_PX, { farthestMm: FARTHEST_PX, stepMm: STEP_PX });
  const placed = new Map(labels.flatMap((label) => (label ? [[label.id, label] as const] : [])));
  const lengths = placeLabelsWithin(
    beside.map((segment) => lengthWanted(segment, scale)),
    [...obstacles, ...[...placed.values()].map(({ box }) => box)],
    LETTER_PX,
    { farthestMm: LENGTH_FARTHEST_PX, stepMm: STEP_PX },
  );
  const lengthAt = new Map<string, { x: number; y: number }>([
    ...inside.map((segment) => [segment.id, middle(segment, scale)] as const),
    ...lengths.flatMap((label) => (label ? [[label.id, centre(label.box)] as const] : [])),
  ]);
  return {
    scale,
    nodes: nodes.map((node) => {
      const label = placed.get(node.id);
      return {
        id: node.id,
        kind: node.kind,
        ...at.get(node.id)!,
        label: label ? { lines: label.lines, box: label.box, isLed: label.led } : null,
      };
    }),
    segments: segments.map((segment) => screenSegment(segment, at, lengthAt.get(segment.id))),
    extent: extentOf([
      ...nodes.map(({ id }) => boxAround(at.get(id)!, 2 * SIGN_PX, 2 * SIGN_PX)),
      ...[...placed.values()].map(({ box }) => box),
    ]),
  };
}

/** The scale at which the whole drawing with its lettering fills a view. */
export function scaleToFit(drawing: Drawing, view: { readonly width: number; readonly height: number }): number {
  const xs = drawing.nodes.map(({ at }) => at.x);
  const ys = drawing.nodes.map(({ at }) => at.y);
  const width = Math.max(1, Math.max(...xs) - Math.min(...xs));
  const height = Math.max(1, Math.max(...ys) - Math.min(...ys));
  let scale = Math.min((view.width * 0.8) / width, (view.height * 0.8) / height);
  // Lettering keeps its size: what it needs beyond the nodes is found by laying out.
  for (let pass = 0; pass < 3; pass += 1) {
    const { extent } = layOnScreen(drawing, scale);
    const beyond = { width: extent.width - width * scale, height: extent.height - height * scale };
    scale = Math.min(
      (view.width - 2 * EDGE_PX - beyond.width) / width,
      (view.height - 2 * EDGE_PX - beyond.height) / height,
    );
    scale = Math.max(LEAST_FIT, scale);
  }
  // Labels may turn another way at another scale: what still stands out is drawn in.
  for (let pass = 0; pass < 12 && scale > LEAST_FIT; pass += 1) {
    const { extent } = layOnScreen(drawing, scale);
    if (extent.width <= view.width - EDGE_PX && extent.height <= view.height - EDGE_PX) break;
    scale *= 0.97;
  }
  return scale;
}

const LEAST_FIT = 0.05;
/** Kept free around the drawing when it is fitted, in pixels. */
const EDGE_PX = 14;

function labelOf({ id, label }: DrawnNode): readonly string[] {
  const [first = id, ...rest] = label;
  const held = first.startsWith(`${id} `) ? first.slice(id.length + 1) : first;
  return [held, ...rest];
}

function screenSegment(
  segment: DrawnSegment,
  at: ReadonlyMap<string, { readonly x: number; readonly y: number }>,
  labelAt: { readonly x: number; readonly y: number } | undefined,
): ScreenSegment {
  const [from, to] = [at.get(segment.from)!, at.get(segment.to)!];
  return {
    id: segment.id,
    x1: from.x,
    y1: from.y,
    x2: to.x,
    y2: to.y,
    width: Math.min(7, Math.max(1.5, segment.bundleMm / 3.5)),
    isToScale: segment.toScale,
    circuits: segment.circuits.length,
    label: labelAt ? { text: lengthOf(segment), width: lengthWidth(segment), ...labelAt } : null,
  };
}

function lengthOf({ lengthM }: DrawnSegment): string {
  return `${Number(lengthM.toFixed(3))} m`;
}

function lengthWidth(segment: DrawnSegment): number {
  return textWidthMm(lengthOf(segment), LETTER_PX);
}

function lengthPx({ points: [a, b] }: DrawnSegment, scale: number): number {
  return Math.hypot(b.x - a.x, b.y - a.y) * scale;
}

function hasRoomInside(segment: DrawnSegment, scale: number): boolean {
  return lengthPx(segment, scale) >= lengthWidth(segment) + 4 * SIGN_PX;
}

function middle({ points: [a, b] }: DrawnSegment, scale: number): { x: number; y: number } {
  return { x: ((a.x + b.x) / 2) * scale, y: ((a.y + b.y) / 2) * scale };
}

function lengthWanted(segment: DrawnSegment, scale: number): WantedLabel {
  const [a, b] = segment.points;
  return {
    id: segment.id,
    lines: [lengthOf(segment)],
    at: middle(segment, scale),
    direction: Math.atan2(b.y - a.y, b.x - a.x) + Math.PI / 2,
    clearMm: 5,
  };
}

function boxAround({ x, y }: { readonly x: number; readonly y: number }, width: number, height: number): LabelBox {
  return { left: x - width / 2, top: y - height / 2, width, height };
}

function centre({ left, top, width, height }: LabelBox): { x: number; y: number } {
  return { x: left + width / 2, y: top + height / 2 };
}

/** Small boxes along a segment that lettering keeps off. */
function alongSegment(
  a: { readonly x: number; readonly y: number },
  b: { readonly x: number; readonly y: number },
): readonly LabelBox[] {
  const count = Math.min(400, Math.max(1, Math.ceil(Math.hypot(b.x - a.x, b.y - a.y) / 10)));
  return Array.from({ length: count + 1 }, (_, index) =>
    boxAround({ x: a.x + ((b.x - a.x) * index) / count, y: a.y + ((b.y - a.y) * index) / count }, 6, 6),
  );
}

function extentOf(boxes: readonly LabelBox[]): LabelBox {
  let [left, top, right, bottom] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const box of boxes) {
    left = Math.min(left, box.left);
    top = Math.min(top, box.top);
    right = Math.max(right, box.left + box.width);
    bottom = Math.max(bottom, box.top + box.height);
  }
  return boxes.length === 0
    ? { left: 0, top: 0, width: 1, height: 1 }
    : { left, top, width: right - left, height: bottom - top };
}
