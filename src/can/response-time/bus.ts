import { type ArbitrationField, compareArbitration } from '../frame/arbitration.ts';
import { type FrameShape, plainFrameBits, worstCaseFrameBits } from '../frame/length.ts';
import { type BitRates, bitTimeNs, frameTimeNs } from '../frame/time.ts';
import { type AnalysisOptions, type ResponseTime, type ScheduledMessage, responseTimes } from './analyse.ts';

/** A message as a bus carries it. `periodMs` null: sent at no known rate. */
export interface BusMessage extends FrameShape, ArbitrationField {
  readonly name: string;
  readonly periodMs: number | null;
  /** How much later than due a sending may be queued. Default 0. */
  readonly jitterMs?: number;
  /** By when the frame must have arrived. Default: the period. */
  readonly deadlineMs?: number;
}

export interface MessageTiming {
  readonly message: BusMessage;
  readonly frameTimeNs: number;
  readonly deadlineNs: number;
  readonly response: ResponseTime;
  /** Whether the worst case keeps the deadline; null where nothing can be said. */
  readonly meetsDeadline: boolean | null;
  /** Messages of higher priority without a period: the bound holds only while they stay silent. */
  readonly withoutPeriodAbove: number;
}

export interface BusTiming {
  readonly load: BusLoad;
  /** Messages with a period, highest priority first. */
  readonly messages: readonly MessageTiming[];
  /** Messages without one: their frames count as blocking for those above them, but not as load on those below. */
  readonly withoutPeriod: readonly BusMessage[];
}

/** Share of the bus in use, 0 … 1 and beyond: with every frame at its longest, and with no stuff bit at all. */
export interface BusLoad {
  readonly worst: number;
  readonly plain: number;
}

/** Load of a bus: Σ frame time / period over the messages which have a period. Frame times include the intermission. */
export function busLoad(rates: BitRates, messages: readonly BusMessage[]): BusLoad {
  let worst = 0;
  let plain = 0;
  for (const message of messages) {
    if (message.periodMs === null) continue;
    const periodNs = nanoseconds(message.periodMs);
    worst += frameTimeNs(worstCaseFrameBits(message), rates) / periodNs;
    plain += frameTimeNs(plainFrameBits(message), rates) / periodNs;
  }
  return { worst, plain };
}

/**
 * Load and worst-case response times of one bus; see `responseTimes` for the analysis and its source. Messages come in any order.
 * @throws RangeError as `responseTimes` and `worstCaseFrameBits` do.
 */
export function analyseBus(
  rates: BitRates,
  messages: readonly BusMessage[],
  options: Omit<AnalysisOptions, 'bitTimeNs'> = {},
): BusTiming {
  const ordered = [...messages].sort(compareArbitration);
  const withoutPeriod = ordered.filter((message) => message.periodMs === null);
  const timed = ordered.filter((message) => message.periodMs !== null);
  const scheduled = timed.map((message): ScheduledMessage => ({
    name: message.name,
    frameTimeNs: frameTimeNs(worstCaseFrameBits(message), rates),
    periodNs: nanoseconds(message.periodMs ?? 0),
    jitterNs: nanoseconds(message.jitterMs ?? 0),
  }));
  const blockers = withoutPeriod.map((message) => ({
    message,
    frameTimeNs: frameTimeNs(worstCaseFrameBits(message), rates),
  }));
  const above = countAbove(timed, withoutPeriod);
  const responses = responseTimes(scheduled, {
    ...options,
    bitTimeNs: bitTimeNs(rates),
    lowerPriorityFrameNs: lowerPriorityFrames(timed, blockers),
  });
  return {
    load: busLoad(rates, messages),
    withoutPeriod,
    messages: timed.map((message, index) => {
      const response = responses[index]!;
      const deadlineNs = nanoseconds(message.deadlineMs ?? message.periodMs ?? 0);
      return {
        message,
        frameTimeNs: scheduled[index]!.frameTimeNs,
        deadlineNs,
        response,
        withoutPeriodAbove: above[index]!,
        meetsDeadline:
          response.kind === 'bounded'
            ? response.responseNs <= deadlineNs
            : response.kind === 'unbounded'
              ? false
              : null,
      };
    }),
  };
}

/** For each timed message the longest frame of lower priority among those without a period. */
function lowerPriorityFrames(
  timed: readonly BusMessage[],
  blockers: readonly { readonly message: BusMessage; readonly frameTimeNs: number }[],
): readonly number[] {
  const longest: number[] = [];
  let next = blockers.length - 1;
  let sofar = 0;
  for (let m = timed.length - 1; m >= 0; m -= 1) {
    for (; next >= 0 && compareArbitration(blockers[next]!.message, timed[m]!) > 0; next -= 1) {
      sofar = Math.max(sofar, blockers[next]!.frameTimeNs);
    }
    longest[m] = sofar;
  }
  return longest;
}

/** For each timed message how many without a period have higher priority. */
function countAbove(timed: readonly BusMessage[], withoutPeriod: readonly BusMessage[]): readonly number[] {
  let next = 0;
  return timed.map((message) => {
    while (next < withoutPeriod.length && compareArbitration(withoutPeriod[next]!, message) < 0) next += 1;
    return next;
  });
}

/** Milliseconds as documents give them → whole nanoseconds, nearest. */
function nanoseconds(ms: number): number {
  return Math.round(ms * 1e6);
}
