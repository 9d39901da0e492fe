import { compileField, extractRaw, judgeCount } from '../../can/index.ts';
import type { PlannedTransmit } from '../plan/types.ts';
import { checksumFor } from '../replay/sources.ts';
import { type Allowed, allowedAt, isAllowed } from './allowed.ts';
import { createGrid } from './cadence-watch.ts';
import type { Collector } from './collector.ts';
import type { FieldJudge } from './field-judge.ts';
import { allowedText } from './field-judge.ts';
import type { MismatchKind } from './types.ts';

/** A field of a page: where it stands and how it is judged. */
export interface WatchedField {
  readonly judge: FieldJudge;
  readonly signal: string;
  readonly read: (data: Uint8Array) => number | bigint;
  readonly float: boolean;
  readonly text: (raw: number | bigint) => string;
  /** Some loss of it keeps the whole message back. */
  readonly mayStop: boolean;
}

export interface WatchedPage {
  readonly base: Uint8Array;
  /** Bits of the selectors, and of everything that no route, counter or checksum fills. */
  readonly selectors: Uint8Array;
  readonly fixed: Uint8Array;
  readonly fields: readonly WatchedField[];
}

export interface MessageSetting {
  readonly transmit: PlannedTransmit;
  readonly pages: readonly WatchedPage[];
  readonly periodUs: number;
  readonly latencyUs: number;
  readonly ageUs: number;
  readonly busUs: number;
  /** From the beginning of the recording until the module surely runs. */
  readonly startUs: number;
  readonly collector: Collector;
}

/** A message that an interface module sends, as it is recorded. */
export interface MessageWatch {
  frame(data: Uint8Array, timeUs: number): void;
  /** A message came in that sets off a forwarded one. */
  trigger(timeUs: number): void;
  /** Time has passed. */
  tick(timeUs: number): void;
  readonly counts: Readonly<Record<'frames' | MismatchKind, number>>;
}

const MOST_PENDING = 1000;

export function createMessageWatch(setting: MessageSetting): MessageWatch {
  const { transmit, pages, periodUs, latencyUs, ageUs, busUs, startUs, collector } = setting;
  const { ref, lengthBytes, cadence, counter, checksum } = transmit;
  const counts = { frames: 0, wrong: 0, late: 0, missing: 0, extra: 0, counter: 0, checksum: 0 };
  const add = (kind: MismatchKind, timeUs: number, expected: string, found: string, count = 1): void => {
    counts[kind] += count;
    collector.add({ kind, timeUs, route: null, subject: ref, expected, found, count });
  };
  const cycleUs =
    cadence.kind === 'cyclic' || cadence.kind === 'cyclic-and-on-change' ? Math.max(cadence.cycleUs, periodUs) : null;
  // A cycle that is no multiple of the period falls on the next tick.
  const uneven = cycleUs !== null && cycleUs % periodUs !== 0 ? periodUs : 0;
  const toleranceUs = busUs + uneven + Math.max(1000, (cycleUs ?? 0) * 0.05);
  // Where the ticks are too coarse for the cycle, or changes go out in between, only a long gap tells.
  const regular = cadence.kind === 'cyclic' && cycleUs !== null && uneven <= cycleUs * 0.4;
  const grid = regular ? createGrid(cycleUs, toleranceUs) : null;
  const stopping = pages.flatMap(({ fields }) => fields.filter(({ mayStop }) => mayStop));
  const last = pages.map((): { data: Uint8Array | null; timeUs: number; stale: boolean } => ({
    data: null,
    timeUs: -Infinity,
    stale: false,
  }));
  let lastUs = -Infinity;
  let firstTickUs: number | null = null;
  let sureSinceUs: number | null = null;
  let count: number | null = null;
  let spared = 0;
  /** What came in and set it off; `sure`: the map surely sends something for it. */
  const pending: { readonly timeUs: number; readonly sure: boolean }[] = [];

  /** Whether the message goes out by the map, at every moment from `sinceUs` − age to `timeUs`. */
  const goesOut = (
    timeUs: number,
    sinceUs = timeUs,
    fields: readonly WatchedField[] = stopping,
  ): 'yes' | 'no' | 'unknown' => {
    let result: 'yes' | 'no' | 'unknown' = 'yes';
    for (const { judge } of fields) {
      const allowed = allowedAt(judge.routes, timeUs, ageUs + timeUs - sinceUs);
      if (allowed.unknown || allowed.nothing) {
        const never = !allowed.unknown && allowed.values.length === 0 && allowed.spans.length === 0;
        if (never) return 'no';
        result = 'unknown';
      }
    }
    return result;
  };
  const mayStopOf = (page: number): readonly WatchedField[] => pages[page]!.fields.filter(({ mayStop }) => mayStop);
  const guard = (data: Uint8Array, timeUs: number, missing: number): void => {
    if (checksum !== null) {
      const expected = checksumFor(checksum, data);
      const found = Number(extractRaw(data, checksum.field));
      if (expected !== found) add('checksum', timeUs, hex(expected), hex(found));
    }
    if (counter === null) return;
    const now = Number(compileField(counter.bits, 'unsigned').read(data));
    const before = count;
    count = now;
    if (before === null) return;
    const verdict = judgeCount(before, now, counter.spec);
    if (verdict.kind === 'next' || (verdict.kind === 'lost' && verdict.frames <= missing)) return;
    const why = verdict.kind === 'repeated' ? ', the same again' : verdict.kind === 'impossible' ? ', never sent' : '';
    add('counter', timeUs, `the count after ${before}`, `${now}${why}`);
  };
  const onGrid = (data: Uint8Array, timeUs: number): void => {
    if (grid === null) return guard(data, timeUs, Infinity);
    if (stopping.length > 0 && goesOut(timeUs, Math.max(lastUs, timeUs - 4 * cycleUs!)) !== 'yes') {
      // It may have been silent by right.
      grid.reset();
      guard(data, timeUs, Infinity);
      return;
    }
    const { missing, missingUs, lateUs, extra, doubtful, lateBefore } = grid.frame(timeUs);
    if (lateBefore !== null)
      add('late', lateBefore.timeUs, `a frame ${ms(lateBefore.byUs)} ms earlier`, 'a frame after its time');
    if (missing > 0) tellMissing(missingUs, missing);
    if (lateUs > 0) add('late', timeUs, `a frame ${ms(lateUs)} ms earlier`, 'a frame after its time');
    if (extra)
      add(
        'extra',
        timeUs,
        `one frame every ${ms(cycleUs!)} ms`,
        `a frame ${ms(timeUs - lastUs)} ms after the one before`,
      );
    guard(data, timeUs, spared + missing + (doubtful ? 1 : 0));
    spared = 0;
  };
  const tellMissing = (sinceUs: number, frames: number): void =>
    add('missing', sinceUs, frames === 1 ? 'a frame' : `${frames} frames`, 'none');
  const pageOf = (data: Uint8Array): number =>
    pages.findIndex(({ base, selectors }) => selectors.every((mask, at) => (data[at]! & mask) === (base[at]! & mask)));

  return {
    counts,
    trigger(timeUs) {
      if (pending.length < MOST_PENDING) pending.push({ timeUs, sure: goesOut(timeUs) === 'yes' });
    },
    frame(data, timeUs) {
      counts.frames += 1;
      if (data.length !== lengthBytes) {
        add('wrong', timeUs, `${lengthBytes} bytes`, `${data.length} bytes`);
        return;
      }
      if (cadence.kind === 'forwarded') {
        if (!consume(timeUs) && lastUs > -Infinity)
          add('extra', timeUs, 'one frame for each that comes in', 'a frame of its own');
      }
      const page = pageOf(data);
      if (page < 0) {
        add('wrong', timeUs, 'a page that the map sends', 'a selector that it never sends');
        onGrid(data, timeUs);
        lastUs = timeUs;
        return;
      }
      // By change each page goes out on its own; in turn, one that cannot go out holds up all others, once its turn has come.
      if (goesOut(timeUs, timeUs, mayStopOf(page)) === 'no') {
        add('extra', timeUs, 'nothing: the map keeps it back while a source is lost', 'a frame');
        count = null;
        lastUs = timeUs;
        return;
      }
      onGrid(data, timeUs);
      const { base, fixed, fields } = pages[page]!;
      const odd = fixed.findIndex((mask, at) => (data[at]! & mask) !== (base[at]! & mask));
      if (odd >= 0) {
        const mask = fixed[odd]!;
        add(
          'wrong',
          timeUs,
          `byte ${odd} & ${hex(mask)} = ${hex(base[odd]! & mask)}, as filled`,
          hex(data[odd]! & mask),
        );
      }
      const right = fields.map(({ judge, read }) => judge.seen(read(data), timeUs)).every(Boolean);
      const known = last[page]!;
      if (cadence.kind === 'on-change' && known.data !== null && timeUs - known.timeUs < cadence.minGapUs - toleranceUs)
        add('extra', timeUs, `frames ${ms(cadence.minGapUs)} ms apart`, `one after ${ms(timeUs - known.timeUs)} ms`);
      known.data = data.slice();
      known.timeUs = timeUs;
      // What is wrong already is not named again for standing on.
      known.stale = !right;
      lastUs = timeUs;
      sureSinceUs = null;
    },
    tick(timeUs) {
      firstTickUs ??= timeUs;
      if (timeUs < firstTickUs + startUs) return;
      switch (cadence.kind) {
        case 'forwarded': {
          while (pending.length > 0 && pending[0]!.timeUs < timeUs - ageUs) {
            const { timeUs: cameUs, sure } = pending.shift()!;
            if (sure) tellMissing(cameUs, 1);
          }
          return;
        }
        case 'cyclic':
        case 'cyclic-and-on-change':
          watchCycle(timeUs);
          if (cadence.kind === 'cyclic') return;
          watchChange(timeUs, cadence.minGapUs);
          return;
        case 'on-change':
          watchChange(timeUs, cadence.minGapUs);
      }
    },
  };

  /** Takes what a forwarded frame answers from the list: the oldest that surely has one, or one nearer in time that may. */
  function consume(timeUs: number): boolean {
    const wantedUs = timeUs - latencyUs;
    const first = pending.findIndex(({ sure }) => sure);
    const candidates = pending.slice(0, first < 0 ? pending.length : first + 1);
    let best = -1;
    candidates.forEach((one, at) => {
      if (best < 0 || Math.abs(one.timeUs - wantedUs) < Math.abs(candidates[best]!.timeUs - wantedUs)) best = at;
    });
    if (best < 0) return false;
    pending.splice(0, best + 1);
    return true;
  }

  function watchCycle(timeUs: number): void {
    if (cycleUs === null) return;
    if (grid === null) {
      const dueUs = Math.max(lastUs, sureSinceUs ?? -Infinity) + cycleUs + ageUs + toleranceUs;
      if (sureSinceUs === null) sureSinceUs = goesOut(timeUs) === 'yes' ? timeUs : null;
      else if (timeUs > dueUs) {
        if (goesOut(timeUs, timeUs - cycleUs - ageUs) === 'yes') tellMissing(dueUs, 1);
        sureSinceUs = timeUs;
      }
      return;
    }
    if (!grid.running) {
      if (stopping.length > 0 && goesOut(timeUs) !== 'yes') sureSinceUs = null;
      else if (sureSinceUs === null) sureSinceUs = timeUs;
      else if (timeUs - sureSinceUs > 2 * cycleUs + ageUs + phaseUs()) grid.start(sureSinceUs + cycleUs);
      return;
    }
    const late = grid.overdue(timeUs);
    if (late === null) return;
    if (stopping.length > 0 && goesOut(timeUs, late.sinceUs) !== 'yes') {
      grid.reset();
      sureSinceUs = null;
      return;
    }
    spared += late.count;
    tellMissing(late.sinceUs, late.count);
  }

  function phaseUs(): number {
    return cadence.kind === 'cyclic' ? cadence.phaseUs : 0;
  }

  /** What was sent last must still be what the map gives: else a change was kept back. */
  function watchChange(timeUs: number, minGapUs: number): void {
    const sinceUs = timeUs - minGapUs * pages.length - periodUs * pages.length;
    pages.forEach(({ fields }, page) => {
      const known = last[page]!;
      if (known.data === null || known.stale || known.timeUs > sinceUs) return;
      for (const { judge, read, float, text } of fields) {
        const allowed: Allowed = allowedAt(judge.routes, timeUs, ageUs + timeUs - sinceUs);
        if (allowed.unknown || allowed.nothing || isAllowed(allowed, read(known.data), 0, float)) continue;
        if (goesOut(timeUs, sinceUs, mayStopOf(page)) !== 'yes') continue;
        known.stale = true;
        judge.count.missing += 1;
        counts.missing += 1;
        collector.add({
          kind: 'missing',
          timeUs,
          route: judge.routes.routes[0]!.route.id,
          subject: ref,
          expected: `a frame with ${allowedText(allowed, text)}`,
          found: `none since ${text(read(known.data))}`,
          count: 1,
        });
      }
    });
  }
}

function ms(us: number): number {
  return Math.round(us / 100) / 10;
}

function hex(value: number): string {
  return `0x${value.toString(16).toUpperCase().padStart(2, '0')}`;
}
