/** Numbers that grow one by one, without a copy for each. */
export class Column {
  private values = new Float64Array(64);
  length = 0;

  push(value: number): void {
    if (this.length === this.values.length) {
      const wider = new Float64Array(this.values.length * 2);
      wider.set(this.values);
      this.values = wider;
    }
    this.values[this.length] = value;
    this.length += 1;
  }

  at(index: number): number {
    return this.values[index]!;
  }

  /** A view on what is there; it stays right until the next push. */
  view(): Float64Array {
    return this.values.subarray(0, this.length);
  }

  get bytes(): number {
    return this.values.byteLength;
  }
}

/** Whole numbers up to this are doubles. */
const WIDEST = BigInt(Number.MAX_SAFE_INTEGER);

/**
 * A value over time, kept at its changes: entry i holds from `times[i]` until `times[i + 1]`. Times are microseconds and never fall.
 * `wide` keeps the values that a double does not hold, by entry.
 */
export class ChangeTrace {
  readonly times = new Column();
  readonly values = new Column();
  readonly wide = new Map<number, bigint>();

  /** Takes the value from this moment on; false when it is what it was. Of several values of one moment the last one holds. */
  set(timeUs: number, value: number | bigint): boolean {
    const last = this.times.length - 1;
    const kept = typeof value === 'bigint' && value >= -WIDEST && value <= WIDEST ? Number(value) : value;
    if (last >= 0 && Object.is(this.valueAt(last), kept)) return false;
    this.times.push(timeUs);
    if (typeof kept === 'bigint') this.wide.set(this.values.length, kept);
    this.values.push(Number(kept));
    return true;
  }

  get length(): number {
    return this.times.length;
  }

  valueAt(index: number): number | bigint {
    return this.wide.size === 0 ? this.values.at(index) : (this.wide.get(index) ?? this.values.at(index));
  }

  /** The entry that holds at a moment; −1 before the first one. */
  indexAt(timeUs: number): number {
    return lastAtOrBefore(this.times.view(), timeUs);
  }

  get bytes(): number {
    return this.times.bytes + this.values.bytes;
  }
}

/** Position of the last time that is not later than a moment, in times that never fall; −1 when all are later. */
export function lastAtOrBefore(times: Float64Array, timeUs: number): number {
  let low = 0;
  let high = times.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (times[middle]! <= timeUs) low = middle + 1;
    else high = middle;
  }
  return low - 1;
}
