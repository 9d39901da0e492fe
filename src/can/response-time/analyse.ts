/** One message of a bus, times in whole nanoseconds. The list given to `responseTimes` is in order of priority, highest first. */
export interface ScheduledMessage {
  readonly name: string;
  /** Longest time the frame keeps the bus, intermission included. */
  readonly frameTimeNs: number;
  /** Least time between two sendings. */
  readonly periodNs: number;
  /** How much later than due a sending may be queued; 0 or more. */
  readonly jitterNs: number;
}

export interface AnalysisOptions {
  /** Time of one bit at the nominal rate: a frame that becomes ready within it can still win the bus. */
  readonly bitTimeNs: number;
  /** Time the bus may be lost to what is not in the list (error frames, senders nobody described). Default 0. */
  readonly additionalBlockingNs?: number;
  /** For each message, the longest frame of lower priority that is not in the list. Default: none. */
  readonly lowerPriorityFrameNs?: readonly number[];
  /** Give up on a message whose busy period holds more instances than this. Default 10,000. */
  readonly maxInstances?: number;
  /** Give up on a message after so many passes over the higher priorities. Default 100,000. */
  readonly maxIterations?: number;
}

/**
 * The worst-case response time of a message.
 * `bounded`: from the moment a sending is due to the end of its frame, the longest over all `instances` in the busy period; `worstInstance`
 * counts from 0. `unbounded`: the message and those above it need more than the whole bus. `beyond-limit`: the busy period is so
 * long that the analysis gave up; nothing is said about this message or those below it.
 */
export type ResponseTime =
  | {
      readonly kind: 'bounded';
      readonly responseNs: number;
      readonly blockingNs: number;
      readonly busyPeriodNs: number;
      readonly instances: number;
      readonly worstInstance: number;
      /** Passes over the higher priorities it took: the work done, for growth measurements. */
      readonly iterations: number;
    }
  | { readonly kind: 'unbounded'; readonly utilisation: number }
  | { readonly kind: 'beyond-limit'; readonly utilisation: number };

/**
 * Worst-case response time of every message under fixed priorities without pre-emption: the longest busy period of each level, then
 * every instance in it, with blocking by lower priorities and release jitter.
 *
 *     B(m)    = longest frame of lower priority
 *     t(m)    = B + Σ over k ≤ m of ⌈(t + J(k)) / T(k)⌉ · C(k)                the busy period
 *     Q(m)    = ⌈(t + J(m)) / T(m)⌉                                           instances in it
 *     w(m, q) = B + q · C(m) + Σ over k < m of ⌈(w + J(k) + one bit) / T(k)⌉ · C(k)
 *     R(m)    = max over q of J(m) + w(m, q) − q · T(m) + C(m)
 *
 * Times are taken up (frame, jitter) or down (period) to whole nanoseconds, so the bound never shrinks.
 * Source: Davis, Burns, Bril, Lukkien, "Controller Area Network (CAN) schedulability analysis: Refuted, revisited and revised",
 * Real-Time Systems 35 (2007).
 * @throws RangeError when a period or a frame time is not positive, or a jitter negative.
 */
export function responseTimes(
  messages: readonly ScheduledMessage[],
  options: AnalysisOptions,
): readonly ResponseTime[] {
  const level = levels(messages);
  const blocking = blockingTimes(level.frame, options);
  const results: ResponseTime[] = [];
  let utilisation = 0;
  let start: Start = { busyNs: 0, queuedNs: 0, blockingNs: Infinity };
  for (let m = 0; m < messages.length; m += 1) {
    utilisation += level.frame[m]! / level.period[m]!;
    const previous = results.at(-1);
    // The sum carries rounding of the order 1e-13; a set that close to 1 is left to the iteration limit.
    if (utilisation > 1 + 1e-9) results.push({ kind: 'unbounded', utilisation });
    else if (previous !== undefined && previous.kind !== 'bounded') results.push({ kind: 'beyond-limit', utilisation });
    else {
      const found = oneResponse(level, m, blocking[m]!, start, options);
      if (found === null) results.push({ kind: 'beyond-limit', utilisation });
      else {
        results.push(found.response);
        start = found.start;
      }
    }
  }
  return results;
}

/**
 * An upper bound of every response time without iteration: with ⌈x⌉ ≤ x + 1 the equation of w becomes linear, and where the message
 * and those above it need less than the whole bus the first instance of the busy period is the worst.
 *
 *     R(m) ≤ J(m) + (B(m) + Σ over k < m of C(k) · (1 + (J(k) + one bit) / T(k))) / (1 − Σ over k < m of C(k) / T(k)) + C(m)
 *
 * Never below what `responseTimes` gives; in nanoseconds, Infinity where the sum of shares reaches 1. Time grows with the number of
 * messages only: the first look, before the exact analysis of those that it leaves open. Errors as `responseTimes`.
 */
export function responseBounds(messages: readonly ScheduledMessage[], options: AnalysisOptions): Float64Array {
  const { frame, period, jitter } = levels(messages);
  const blocking = blockingTimes(frame, options);
  const bounds = new Float64Array(messages.length);
  let share = 0;
  let once = 0;
  for (let m = 0; m < messages.length; m += 1) {
    const [own, every, late] = [frame[m]!, period[m]!, jitter[m]!];
    const above = share;
    share += own / every;
    bounds[m] = share >= 1 - 1e-9 ? Infinity : late + ((blocking[m]! + once) / (1 - above)) * (1 + 1e-9) + own + 1;
    once += own * (1 + (late + options.bitTimeNs) / every);
  }
  return bounds;
}

interface Levels {
  readonly frame: Float64Array;
  readonly period: Float64Array;
  readonly jitter: Float64Array;
}

function levels(messages: readonly ScheduledMessage[]): Levels {
  for (const { name, frameTimeNs, periodNs, jitterNs } of messages) {
    if (!(frameTimeNs > 0)) throw new RangeError(`${name}: a frame time of ${frameTimeNs} ns is not positive`);
    if (!(periodNs >= 1)) throw new RangeError(`${name}: a period of ${periodNs} ns is not positive`);
    if (!(jitterNs >= 0)) throw new RangeError(`${name}: a jitter of ${jitterNs} ns is negative`);
  }
  return {
    frame: Float64Array.from(messages, (message) => Math.ceil(message.frameTimeNs)),
    period: Float64Array.from(messages, (message) => Math.floor(message.periodNs)),
    jitter: Float64Array.from(messages, (message) => Math.ceil(message.jitterNs)),
  };
}

function blockingTimes(frame: Float64Array, options: AnalysisOptions): Float64Array {
  const { additionalBlockingNs = 0, lowerPriorityFrameNs = [] } = options;
  const blocking = new Float64Array(frame.length);
  let longest = 0;
  for (let m = frame.length - 1; m >= 0; m -= 1) {
    blocking[m] = Math.ceil(Math.max(longest, lowerPriorityFrameNs[m] ?? 0) + additionalBlockingNs);
    longest = Math.max(longest, frame[m]!);
  }
  return blocking;
}

/** Where the level above ended: a lower bound for this level when its blocking is no shorter. */
interface Start {
  readonly busyNs: number;
  readonly queuedNs: number;
  readonly blockingNs: number;
}

function oneResponse(
  level: Levels,
  m: number,
  blockingNs: number,
  above: Start,
  { bitTimeNs, maxInstances = 10_000, maxIterations = 100_000 }: AnalysisOptions,
): { readonly response: ResponseTime; readonly start: Start } | null {
  const own = { frame: level.frame[m]!, period: level.period[m]!, jitter: level.jitter[m]! };
  let iterations = 0;
  /** Least fixed point of t = fixed + interference(t), from a lower bound of it; null over the limit. */
  const settle = (fixedNs: number, levelsBelow: number, lateNs: number, from: number): number | null => {
    let t = from;
    for (;;) {
      iterations += 1;
      if (iterations > maxIterations) return null;
      const next = fixedNs + interference(level, levelsBelow, t + lateNs);
      if (next <= t) return t;
      t = next;
    }
  };
  let once = 0;
  for (let k = 0; k < m; k += 1) once += level.frame[k]!;
  const keeps = blockingNs >= above.blockingNs;
  const busyFrom = Math.max(blockingNs + once + own.frame, keeps ? above.busyNs + own.frame : 0);
  const busyNs = settle(blockingNs, m + 1, 0, busyFrom);
  if (busyNs === null) return null;
  const instances = Math.ceil((busyNs + own.jitter) / own.period);
  if (instances > maxInstances) return null;

  let worst = -Infinity;
  let worstInstance = 0;
  let firstQueuedNs = 0;
  let from = Math.max(blockingNs + once, keeps ? above.queuedNs : 0);
  for (let q = 0; q < instances; q += 1) {
    const queuedNs = settle(blockingNs + q * own.frame, m, bitTimeNs, from);
    if (queuedNs === null) return null;
    if (q === 0) firstQueuedNs = queuedNs;
    const response = own.jitter + queuedNs - q * own.period + own.frame;
    if (response > worst) {
      worst = response;
      worstInstance = q;
    }
    from = queuedNs + own.frame;
  }
  return {
    response: {
      kind: 'bounded',
      responseNs: worst,
      blockingNs,
      busyPeriodNs: busyNs,
      instances,
      worstInstance,
      iterations,
    },
    start: { busyNs, queuedNs: firstQueuedNs, blockingNs },
  };
}

/**
 * Σ over k < count of ⌈(t + J(k)) / T(k)⌉ · C(k). All are integers below 2^53, for which the quotient of two doubles lies on
 * the right side of every integer: a = n·T + 1 differs from n·T by more than a rounding step of a/T while a < 2^53.
 */
function interference(level: Levels, count: number, t: number): number {
  const { frame, period, jitter } = level;
  let sum = 0;
  for (let k = 0; k < count; k += 1) sum += Math.ceil((t + jitter[k]!) / period[k]!) * frame[k]!;
  return sum;
}
