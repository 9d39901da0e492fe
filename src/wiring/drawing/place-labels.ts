import type { DrawnPoint } from './shape-types.ts';

/** A box of text in mm. */
export interface LabelBox {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

export interface WantedLabel {
  readonly id: string;
  readonly lines: readonly string[];
  /** Point that the label belongs to. */
  readonly at: DrawnPoint;
  /** Direction in which it is pushed away from its point, in radians. */
  readonly direction: number;
  /** Least distance of its edge from the point, in mm. */
  readonly clearMm: number;
}

export interface PlacedLabel extends WantedLabel {
  readonly box: LabelBox;
  /** It stands away from its point: a line leads back. */
  readonly led: boolean;
}

/** Width of a letter against its height, on the wide side of a sans face. */
const LETTER = 0.62;
const LINE = 1.25;
const STEP_MM = 2;
const GAP_MM = 1;

/** Width in mm of a text at a height. */
export function textWidthMm(text: string, sizeMm: number): number {
  return text.length * LETTER * sizeMm;
}

/** Turns that are tried at each distance, nearest to the wanted direction first, in radians. */
const TURNS: readonly number[] = [0, 1, -1, 2, -2, 3, -3, 4, -4, 5, -5, 6].map((step) => (step * Math.PI) / 6);

/**
 * Places labels one after the other where each touches neither another label nor an obstacle: as near to its point as can be,
 * and there as near to its direction as can be.
 */
export function placeLabels(
  wanted: readonly WantedLabel[],
  obstacles: readonly LabelBox[],
  sizeMm: number,
): readonly PlacedLabel[] {
  return placeLabelsWithin(wanted, obstacles, sizeMm, { farthestMm: Infinity, stepMm: STEP_MM }).map((label) => label!);
}

/** How far from its point a label may stand, and in what steps room is looked for, in mm. */
export interface LabelReach {
  readonly farthestMm: number;
  readonly stepMm: number;
}

/** As `placeLabels`, but a label that finds no room within its reach is left out: null in its place. */
export function placeLabelsWithin(
  wanted: readonly WantedLabel[],
  obstacles: readonly LabelBox[],
  sizeMm: number,
  { farthestMm, stepMm }: LabelReach,
): readonly (PlacedLabel | null)[] {
  const grid = boxGrid();
  obstacles.forEach((box) => grid.add(box));
  return wanted.map((label) => {
    const width = Math.max(...label.lines.map((line) => textWidthMm(line, sizeMm)));
    const height = label.lines.length * LINE * sizeMm;
    for (let step = 0; step === 0 || label.clearMm + step * stepMm <= farthestMm; step += 1) {
      const away = label.clearMm + step * stepMm;
      for (const turn of TURNS) {
        const box = boxAt(label, label.direction + turn, width, height, away);
        if (grid.touches(box)) continue;
        grid.add(box);
        return { ...label, box, led: step > 1 };
      }
    }
    return null;
  });
}

/** The box whose nearest edge is `away` mm from the point, in the label's direction. */
function boxAt(label: WantedLabel, direction: number, width: number, height: number, away: number): LabelBox {
  const [cos, sin] = [Math.cos(direction), Math.sin(direction)];
  const reach = Math.min(
    Math.abs(cos) < 1e-6 ? Infinity : width / 2 / Math.abs(cos),
    Math.abs(sin) < 1e-6 ? Infinity : height / 2 / Math.abs(sin),
  );
  const x = label.at.x + (away + reach) * cos;
  const y = label.at.y + (away + reach) * sin;
  return { left: x - width / 2, top: y - height / 2, width, height };
}

const CELL_MM = 40;
/** More cells than any drawing is high, so that every cell has a number of its own. */
const CELLS_DOWN = 1_000_003;

/** Boxes by the cells they lie in, so that a look for a touch stays near. */
function boxGrid() {
  const cells = new Map<number, LabelBox[]>();
  const cellsOf = ({ left, top, width, height }: LabelBox): number[] => {
    const keys: number[] = [];
    for (let x = Math.floor((left - GAP_MM) / CELL_MM); x <= Math.floor((left + width + GAP_MM) / CELL_MM); x += 1)
      for (let y = Math.floor((top - GAP_MM) / CELL_MM); y <= Math.floor((top + height + GAP_MM) / CELL_MM); y += 1)
        keys.push(x * CELLS_DOWN + y);
    return keys;
  };
  return {
    add(box: LabelBox): void {
      for (const key of cellsOf(box)) {
        const list = cells.get(key);
        if (list) list.push(box);
        else cells.set(key, [box]);
      }
    },
    touches(box: LabelBox): boolean {
      return cellsOf(box).some((key) => (cells.get(key) ?? []).some((other) => overlaps(box, other)));
    },
  };
}

/** Whether two boxes come nearer than the gap. */
export function overlaps(a: LabelBox, b: LabelBox): boolean {
  return (
    a.left < b.left + b.width + GAP_MM &&
    b.left < a.left + a.width + GAP_MM &&
    a.top < b.top + b.height + GAP_MM &&
    b.top < a.top + a.height + GAP_MM
  );
}
