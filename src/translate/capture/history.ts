/** What a route could have given from a moment on: the values, and why it could have had none. */
export interface Moment {
  readonly fromUs: number;
  readonly values: readonly (number | bigint)[];
  /** For routes with memory: anything between counts too, and `values` are the two ends. */
  readonly between: boolean;
  /** Marks of why there may be no value; empty: it surely has one. */
  readonly marks: readonly number[];
  /** What was before the recording decides. */
  readonly unknown: boolean;
  /** What its source read, for a route that asks whether that has changed; else null. */
  readonly reading: number | bigint | null;
}

/** The moments of one route, back to a horizon. */
export interface History {
  add(moment: Moment): void;
  /** The moment that holds at a time, and all after it; in order; never empty. */
  since(timeUs: number): readonly Moment[];
  readonly latest: Moment | null;
  /** Since when it may have done what it does on loss, and since when it surely does; null while it does not. */
  readonly maybeLossUs: number | null;
  readonly lossUs: number | null;
  /** Since when it surely has no value, for whatever reason; null while it may have one. */
  readonly noneUs: number | null;
  /** Values that a hold may keep: what it could have written last before it had none. Null: not known. */
  readonly held: readonly (number | bigint)[] | null;
}

/** Further moments than this within the horizon push the oldest out. */
const MOST_MOMENTS = 4096;
const MOST_HELD = 512;

/**
 * `horizonUs`: how far back is kept. `writtenUs`: how long before it was lost a route may have been written last. `isLoss`: whether a
 * mark is answered by the loss behaviour, and not by a raw value of its own.
 */
export function createHistory(horizonUs: number, writtenUs: number, isLoss: (mark: number) => boolean): History {
  // Before the recording anything may have been.
  let moments: Moment[] = [{ fromUs: -Infinity, values: [], between: false, marks: [], unknown: true, reading: null }];
  let first = 0;
  let heldBefore: (number | bigint)[] | null = null;
  /** When it last may have been lost before it was back, and when it was. */
  let lostBeforeUs: number | null = null;
  let backUs = -Infinity;
  let maybeLossUs: number | null = null;
  let lossUs: number | null = null;
  let maybeNoneUs: number | null = null;
  let noneUs: number | null = null;
  let held: (number | bigint)[] | null = null;
  const since = (timeUs: number): readonly Moment[] => {
    let at = moments.length - 1;
    while (at > first && moments[at]!.fromUs > timeUs) at -= 1;
    return at < first ? [] : moments.slice(at);
  };
  const keep = (list: readonly (number | bigint)[]): void => {
    if (held === null) return;
    for (const value of list) if (!held.includes(value)) held.push(value);
    if (held.length > MOST_HELD) held = null;
  };
  return {
    get latest() {
      return moments.at(-1) ?? null;
    },
    get maybeLossUs() {
      return maybeLossUs;
    },
    get lossUs() {
      return lossUs;
    },
    get noneUs() {
      return noneUs;
    },
    get held() {
      return held;
    },
    since,
    add(moment) {
      const { fromUs, values, marks } = moment;
      const losses = marks.filter(isLoss).length;
      if (losses > 0) {
        // What came and went between two frames may never have been noticed.
        maybeLossUs ??= lostBeforeUs !== null && fromUs - backUs <= writtenUs ? lostBeforeUs : fromUs;
        if (losses < marks.length || values.length > 0) lossUs = null;
        else lossUs ??= fromUs;
      } else if (maybeLossUs !== null) {
        lostBeforeUs = maybeLossUs;
        backUs = fromUs;
        maybeLossUs = null;
        lossUs = null;
      }
      if (marks.length > 0) {
        if (values.length > 0) noneUs = null;
        else noneUs ??= fromUs;
        if (maybeNoneUs === null) {
          maybeNoneUs = fromUs;
          const before = since(fromUs - writtenUs);
          held = before.some((one) => one.unknown) ? null : [];
          for (const one of before) keep(one.values);
          // It may not have been written at all since it last had no value.
          if (before.some((one) => one.marks.length > 0)) {
            if (heldBefore === null) held = null;
            else keep(heldBefore);
          }
        }
        keep(values);
      } else if (maybeNoneUs !== null) {
        maybeNoneUs = null;
        noneUs = null;
        heldBefore = held;
        held = null;
      }
      const last = moments.at(-1);
      if (last !== undefined && first < moments.length && same(last, moment)) return;
      moments.push(moment);
      while (moments.length - first > MOST_MOMENTS) first += 1;
      while (first + 1 < moments.length && moments[first + 1]!.fromUs < fromUs - horizonUs) first += 1;
      if (first > 1024) {
        moments = moments.slice(first);
        first = 0;
      }
    },
  };
}

function same(a: Moment, b: Moment): boolean {
  return (
    a.unknown === b.unknown &&
    a.between === b.between &&
    a.reading === b.reading &&
    a.values.length === b.values.length &&
    a.marks.length === b.marks.length &&
    a.values.every((value, at) => value === b.values[at]) &&
    a.marks.every((mark, at) => mark === b.marks[at])
  );
}
