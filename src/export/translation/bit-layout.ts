import { fitsIn, partsOf, type FieldPart } from '../../can/index.ts';
import type { Message, Signal } from '../../model/index.ts';
import type { Drawing, Paint, Shape } from '../document/index.ts';

const CELL = 26;
const ROW = 12;
const LEFT = 34;
const TOP = 12;
const LABEL_SIZE = 6;
/** A tick at the top edge parts two bits, so that no line runs through a name. */
const TICK = 4.6;
/** Mean width of a letter of the sans face in parts of its height; measured generously, so that labels stay inside. */
const LETTER = 0.6;

export interface LaidField {
  readonly signal: Signal;
  /** Its number in the table beside the figure. */
  readonly number: number;
  readonly look: 'used' | 'frame' | 'other';
}

/**
 * The bits of a message as a grid: a row a byte, from byte 0; bit 7 at the left. Each cell has its bit number (8 · byte + bit).
 * A field is an outlined run with its number and name, its most and least significant bit marked M and L. Fields of one
 * multiplexer lie over one another, so only those of the given list are drawn.
 */
export function bitLayout(message: Message, fields: readonly LaidField[]): Drawing {
  const shapes: Shape[] = [];
  const rows = Math.max(1, message.length);
  for (let bit = 7; bit >= 0; bit -= 1)
    shapes.push(text(LEFT + (7 - bit) * CELL + CELL / 2, TOP - 4, `bit ${bit}`, 5.5, 'middle', 'muted'));
  for (let byte = 0; byte < rows; byte += 1) {
    shapes.push(text(LEFT - 4, TOP + byte * ROW + ROW / 2, `byte ${byte}`, 5.5, 'end', 'muted', 'middle'));
  }
  if (message.length > 0) {
    shapes.push({
      kind: 'rect',
      x: LEFT,
      y: TOP,
      width: 8 * CELL,
      height: rows * ROW,
      fill: 'paper',
      stroke: { paint: 'rule', width: 0.4 },
    });
  }
  const drawable = fields.filter(({ signal }) => fitsIn(signal.bits, message.length));
  for (const field of drawable) for (const part of partsOf(field.signal.bits)) shapes.push(partBox(part, field));
  for (let byte = 0; byte < message.length; byte += 1) {
    for (let bit = 7; bit >= 0; bit -= 1) {
      const x = LEFT + (7 - bit) * CELL;
      const y = TOP + byte * ROW;
      if (bit < 7) shapes.push(line(x, y, x, y + TICK, 'muted', 0.25));
      shapes.push(text(x + 1.4, y + 4.2, String(8 * byte + bit), 3.6, 'start', 'muted'));
    }
    if (byte > 0) shapes.push(line(LEFT, TOP + byte * ROW, LEFT + 8 * CELL, TOP + byte * ROW, 'rule', 0.25));
  }
  for (const field of drawable) shapes.push(...outline(field));
  const names = drawable.map(
    ({ signal, number }) => `${number} ${signal.id} from bit ${signal.bits.start}, ${signal.bits.length} bits`,
  );
  return {
    width: LEFT + 8 * CELL + 4,
    height: TOP + rows * ROW + 4,
    unitMm: 0.42,
    description: `Bit layout of ${message.id}, ${message.length} bytes: ${names.join('; ') || 'no fields'}`,
    shapes,
  };
}

const place = ({ byte, shift, width }: FieldPart): { x: number; y: number; width: number } => ({
  x: LEFT + (8 - shift - width) * CELL,
  y: TOP + byte * ROW,
  width: width * CELL,
});

function partBox(part: FieldPart, { look }: LaidField): Shape {
  const { x, y, width } = place(part);
  const fill: Paint | undefined = look === 'other' ? undefined : 'shade';
  return { kind: 'rect', x, y, width, height: ROW, ...(fill === undefined ? {} : { fill }) };
}

/** Outline of every part, the name in its widest one, M and L at the ends of a field of several bits. */
function outline({ signal, number, look }: LaidField): readonly Shape[] {
  const parts = partsOf(signal.bits);
  const paint: Paint = look === 'other' ? 'muted' : look === 'frame' ? 'accent' : 'ink';
  const shapes: Shape[] = parts.map((part): Shape => ({
    kind: 'rect',
    x: place(part).x + 0.5,
    y: place(part).y + 0.5,
    width: place(part).width - 1,
    height: ROW - 1,
    stroke: { paint, width: look === 'other' ? 0.5 : 0.9, ...(look === 'other' ? { dash: [2, 1.5] } : {}) },
  }));
  const widest = parts.reduce((best, part) => (part.width > best.width ? part : best));
  for (const part of parts) {
    const { x, y, width } = place(part);
    const own = part === widest ? `${number} ${signal.id}` : `${number}`;
    shapes.push(text(x + width / 2, y + ROW - 2.6, fitting(own, width - 9), LABEL_SIZE, 'middle', paint));
  }
  if (signal.bits.length > 1) {
    const most = parts.at(-1)!;
    const least = parts[0]!;
    shapes.push(text(place(most).x + 1.6, place(most).y + ROW - 2.4, 'M', 4.4, 'start', paint));
    shapes.push(text(place(least).x + place(least).width - 1.6, place(least).y + ROW - 2.4, 'L', 4.4, 'end', paint));
  }
  return shapes;
}

function fitting(label: string, room: number): string {
  const most = Math.max(1, Math.floor(room / (LABEL_SIZE * LETTER)));
  if (label.length <= most) return label;
  return most < 4
    ? label.slice(0, Math.max(1, label.indexOf(' ') > 0 ? Math.min(label.indexOf(' '), most) : most))
    : `${label.slice(0, most - 1)}…`;
}

function text(
  x: number,
  y: number,
  said: string,
  size: number,
  anchor: 'start' | 'middle' | 'end',
  paint: Paint,
  baseline: 'alphabetic' | 'middle' = 'alphabetic',
): Shape {
  return { kind: 'text', at: { x, y }, text: said, size, anchor, paint, baseline };
}

function line(x1: number, y1: number, x2: number, y2: number, paint: Paint, width: number): Shape {
  return { kind: 'line', from: { x: x1, y: y1 }, to: { x: x2, y: y2 }, stroke: { paint, width } };
}
