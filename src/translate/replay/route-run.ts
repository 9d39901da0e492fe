import { compileField } from '../../can/index.ts';
import type { PlannedRoute } from '../plan/types.ts';
import type { LossAction } from '../program/loss-plan.ts';
import { type Slot, wideRunner } from '../program/run-wide.ts';
import { VALID } from '../program/types.ts';
import { fitsDoubles } from '../program/widths.ts';
import { fieldReader } from './fast-field.ts';
import { type Run, fastProgram } from './fast-program.ts';
import { MARK, MARK_ERROR, MARK_NEVER, MARK_NOT_AVAILABLE, markOfStatus, statusOfMark } from './marks.ts';
import type { Sources } from './sources.ts';

/** A route running: what its steps give now, and what is written for it. */
export interface RouteRun {
  /** Works the steps out: the raw value for the target, or a mark. A bigint only for programs beyond doubles. */
  readonly run: () => number | bigint;
}

/** Makes the program of a route run on the sources of its module. `levels` holds the wires: integers or marks. */
export function createRouteRun(route: PlannedRoute, sources: Sources, levels: Float64Array): RouteRun {
  const { program } = route.compiled;
  if (!fitsDoubles(program)) return { run: wideRun(route, sources, levels) };
  const reads = route.sources.map((source, index): Run => {
    if (source.kind === 'wire') return () => levels[source.wire]!;
    const read = program.sources[index]!;
    if (read.kind !== 'field' && read.kind !== 'float') return () => MARK_ERROR;
    const payload = sources.payloads[source.group]!;
    const value = fieldReader(read, payload);
    const { group } = source;
    const { missing } = sources;
    return () => {
      const mark = missing[group]!;
      return mark === 0 ? value() : mark;
    };
  });
  return { run: fastProgram(program, reads) };
}

/** The plain interpreter on the same sources, for integers that a double does not hold. */
function wideRun(route: PlannedRoute, sources: Sources, levels: Float64Array): () => number | bigint {
  const { program } = route.compiled;
  const runner = wideRunner(program);
  const reads = route.sources.map((source, index): (() => Slot) => {
    if (source.kind === 'wire') return () => slotOf(levels[source.wire]!);
    const read = program.sources[index]!;
    if (read.kind !== 'field' && read.kind !== 'float') return () => slotOf(MARK_ERROR);
    const payload = sources.payloads[source.group]!;
    const { read: value } = compileField(read.bits, read.number);
    const specials = new Map(
      read.kind === 'field' ? read.specials.map(({ raw, status }) => [raw, status] as const) : [],
    );
    return () => {
      const mark = sources.missing[source.group]!;
      if (mark !== 0) return slotOf(mark);
      const raw = value(payload);
      if (read.kind === 'float') return Number.isFinite(raw) ? { value: raw, status: VALID } : slotOf(MARK_ERROR);
      const whole = BigInt(raw);
      return { value: whole, status: specials.get(whole) ?? VALID };
    };
  });
  return () => {
    const { value, status } = runner.run(reads.map((read) => read()));
    if (status !== VALID) return markOfStatus(status);
    return value;
  };
}

function slotOf(level: number): Slot {
  return level >= MARK ? { value: 0n, status: statusOfMark(level) } : { value: BigInt(level), status: VALID };
}

/** What is written for a route: a raw value, or nothing. */
export interface Outcome {
  /** False: the message is not sent, the wire is open. */
  written: boolean;
  raw: number | bigint;
}

/** What a hold needs, for every route of a module; the lane keeps it too. */
export interface HoldState {
  readonly held: Float64Array;
  readonly hasHeld: Uint8Array;
  readonly lostSince: Float64Array;
  /** Held values that a double does not hold. */
  readonly wide: Map<number, bigint>;
}

export function createHoldState(routes: number): HoldState {
  return {
    held: new Float64Array(routes),
    hasHeld: new Uint8Array(routes),
    lostSince: new Float64Array(routes).fill(-1),
    wide: new Map(),
  };
}

/** Turns what the steps of a route gave into what is written; keeps what a hold needs. */
export type Settle = (value: number | bigint, timeUs: number) => Outcome;

export function createSettle({ compiled }: PlannedRoute, route: number, state: HoldState): Settle {
  const { loss } = compiled;
  const notAvailable = loss.notAvailable === null ? null : plainRaw(loss.notAvailable);
  const error = loss.error === null ? null : plainRaw(loss.error);
  const now: Outcome = { written: false, raw: 0 };
  const { held, hasHeld, lostSince, wide } = state;
  const act = (action: LossAction, timeUs: number): void => {
    switch (action.kind) {
      case 'write':
        now.written = true;
        now.raw = action.raw;
        return;
      case 'stop':
        now.written = false;
        return;
      case 'hold':
        if (
          hasHeld[route] === 0 ||
          (action.forMs !== null && timeUs - lostSince[route]! >= Math.round(action.forMs * 1000))
        ) {
          act(action.then, timeUs);
          return;
        }
        now.written = true;
        now.raw = wide.get(route) ?? held[route]!;
    }
  };
  return (value, timeUs) => {
    if (typeof value === 'bigint' || value < MARK) {
      if (typeof value === 'bigint') wide.set(route, value);
      else held[route] = value;
      hasHeld[route] = 1;
      lostSince[route] = -1;
      now.written = true;
      now.raw = value;
      return now;
    }
    const special = value === MARK_NOT_AVAILABLE ? notAvailable : value === MARK_ERROR ? error : null;
    if (special !== null) {
      lostSince[route] = -1;
      now.written = true;
      now.raw = special;
      return now;
    }
    if (lostSince[route]! < 0) lostSince[route] = timeUs;
    act(value === MARK_NEVER ? loss.atStart : loss.onLoss, timeUs);
    return now;
  };
}

/** Whether what is written for a route may change by the mere passing of time. */
export function endsHolding({ compiled }: PlannedRoute): boolean {
  const ends = (action: LossAction): boolean => action.kind === 'hold' && action.forMs !== null;
  return ends(compiled.loss.onLoss) || ends(compiled.loss.atStart);
}

function plainRaw(raw: bigint): number | bigint {
  return raw > -(2n ** 53n) && raw < 2n ** 53n ? Number(raw) : raw;
}
