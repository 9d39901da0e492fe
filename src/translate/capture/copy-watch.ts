import type { Collector, RouteCount } from './collector.ts';

/** A message passed on as it is: what comes out must have come in. */
export interface CopyWatch {
  source(data: Uint8Array, timeUs: number): void;
  frame(data: Uint8Array, timeUs: number): void;
  tick(timeUs: number): void;
  readonly frames: number;
}

const MOST_PENDING = 1000;

/** A frame that has not come out after so many worst-case ages never will. */
const GIVEN_UP = 4;

export function createCopyWatch(
  subject: string,
  route: string,
  ageUs: number,
  count: RouteCount,
  collector: Collector,
): CopyWatch {
  let frames = 0;
  const pending: { readonly data: Uint8Array; readonly timeUs: number }[] = [];
  const missing = (timeUs: number): void => {
    count.missing += 1;
    collector.add({
      kind: 'missing',
      timeUs,
      route,
      subject,
      expected: 'the frame that came in',
      found: 'none',
      count: 1,
    });
  };
  return {
    get frames() {
      return frames;
    },
    source(data, timeUs) {
      if (pending.length >= MOST_PENDING) missing(pending.shift()!.timeUs);
      pending.push({ data: data.slice(), timeUs });
    },
    frame(data, timeUs) {
      frames += 1;
      const at = pending.findIndex((one) => same(one.data, data));
      if (at >= 0) {
        count.judged += 1;
        for (const { timeUs: cameUs } of pending.splice(0, at)) missing(cameUs);
        const { timeUs: cameUs } = pending.shift()!;
        if (timeUs - cameUs <= ageUs) return;
        count.late += 1;
        collector.add({
          kind: 'late',
          timeUs,
          route,
          subject,
          expected: `within ${Math.round(ageUs / 100) / 10} ms`,
          found: `after ${Math.round((timeUs - cameUs) / 100) / 10} ms`,
          count: 1,
        });
        return;
      }
      // What came in before the recording may come out at its beginning.
      if (pending.length === 0 && frames === 1) return;
      const first = pending.shift();
      count.judged += 1;
      count.wrong += first === undefined ? 0 : 1;
      collector.add({
        kind: first === undefined ? 'extra' : 'wrong',
        timeUs,
        route,
        subject,
        expected: first === undefined ? 'one frame for each that comes in' : 'the bytes that came in',
        found: first === undefined ? 'a frame of its own' : 'other bytes',
        count: 1,
      });
    },
    tick(timeUs) {
      while (pending.length > 0 && timeUs - pending[0]!.timeUs > GIVEN_UP * ageUs) missing(pending.shift()!.timeUs);
    },
  };
}

function same(a: Uint8Array, b: Uint8Array): boolean {
  return a.length === b.length && a.every((byte, at) => byte === b[at]);
}
