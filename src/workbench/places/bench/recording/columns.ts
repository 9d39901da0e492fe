import { lastAtOrBefore } from './change-trace.ts';
import type { Envelope } from './envelope.ts';

/** A value over time as it is drawn: `y[i]` from `times[i]` until `times[i + 1]`, NaN: no value. */
export interface Line {
  readonly times: Float64Array;
  readonly y: Float64Array;
  readonly envelope: Envelope;
}

/** A stretch of time cut into columns of one pixel each. */
export interface Span {
  readonly fromUs: number;
  readonly toUs: number;
  readonly columns: number;
}

/** Points drawn for one column: what holds at its beginning, the least, the greatest, and what holds at its end. */
export const POINTS_PER_COLUMN = 4;

/**
 * A line reduced to four points a column. No extreme is lost: the least and the greatest value that hold at any moment of a column
 * are among its points. What is not drawn is at most its order within the column. `endUs` is where the line ends.
 */
export function reduceLine({ times, y, envelope }: Line, { fromUs, toUs, columns }: Span, endUs: number): Float64Array {
  const points = new Float64Array(columns * POINTS_PER_COLUMN);
  const widthUs = (toUs - fromUs) / columns;
  let before = lastAtOrBefore(times, fromUs);
  for (let column = 0; column < columns; column += 1) {
    const startsUs = fromUs + column * widthUs;
    const endsUs = column + 1 === columns ? toUs : fromUs + (column + 1) * widthUs;
    const at = column * POINTS_PER_COLUMN;
    if (startsUs > endUs) {
      points.fill(Number.NaN, at);
      break;
    }
    const last = lastFrom(times, before, endsUs);
    const first = before < 0 ? Number.NaN : y[before]!;
    points[at] = first;
    if (last === before) {
      points[at + 1] = first;
      points[at + 2] = first;
      points[at + 3] = first;
      continue;
    }
    envelope.look(Math.max(0, before), last + 1);
    points[at + 1] = envelope.low;
    points[at + 2] = envelope.high;
    points[at + 3] = y[last]!;
    before = last;
  }
  return points;
}

/** As `lastAtOrBefore`, from a position that is known to be early enough: steps of doubling size, then between the last two. */
function lastFrom(times: Float64Array, known: number, timeUs: number): number {
  let low = known;
  let step = 1;
  while (low + step < times.length && times[low + step]! <= timeUs) {
    low += step;
    step *= 2;
  }
  let high = Math.min(times.length, low + step);
  low += 1;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (times[middle]! <= timeUs) low = middle + 1;
    else high = middle;
  }
  return low - 1;
}

/** A stretch of time of one kind, in microseconds. */
export interface Band {
  readonly fromUs: number;
  readonly toUs: number;
  readonly kind: number;
}

/**
 * The stretches in which a trace of kinds is not 0, as they are seen in a span: those closer together than a pixel are one, and
 * bear the greatest of their kinds. At most one a column, whatever the length of the trace.
 */
export function reduceBands(
  times: Float64Array,
  kinds: Float64Array,
  { fromUs, toUs, columns }: Span,
  endUs: number,
): readonly Band[] {
  const bands: { fromUs: number; toUs: number; kind: number }[] = [];
  const pixelUs = (toUs - fromUs) / columns;
  let index = Math.max(0, lastAtOrBefore(times, fromUs));
  while (index < times.length && times[index]! <= toUs) {
    const kind = kinds[index]!;
    const endsUs = Math.min(index + 1 < times.length ? times[index + 1]! : endUs, toUs);
    const startsUs = Math.max(fromUs, times[index]!);
    if (kind !== 0 && endsUs >= startsUs && endsUs >= fromUs) {
      const last = bands.at(-1);
      if (last && startsUs - last.toUs <= pixelUs && (last.kind === kind || startsUs - last.fromUs <= pixelUs)) {
        last.toUs = endsUs;
        last.kind = Math.max(last.kind, kind);
      } else bands.push({ fromUs: startsUs, toUs: endsUs, kind });
    }
    index += 1;
  }
  return bands;
}
