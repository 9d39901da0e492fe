import { deliveredAge, segmentOf } from '../../checks/index.ts';
import { analyseBus, type BusTiming, type MessageTiming } from '../../can/index.ts';
import { sideRef, type Bus, type Route, type SideName } from '../../model/index.ts';
import type { Translation } from './translation.ts';

/** A bus with every message that is on it in the builds covered. */
export interface TimedBus {
  readonly side: SideName;
  readonly bus: Bus;
  readonly ref: string;
  /** Null when the bus or a frame on it cannot be worked out; the reason stands beside. */
  readonly timing: BusTiming | null;
  readonly reason: string | null;
  /** Timing by `side:Message`. */
  readonly byMessage: ReadonlyMap<string, MessageTiming>;
}

/**
 * Worst-case response times of every bus, with what retained modules send and what the interface modules add; buses that are one piece
 * have the frames of all.
 */
export function timedBuses({ pairing, context, scope }: Translation): readonly TimedBus[] {
  return [pairing.host, pairing.donor].flatMap((side) =>
    side.platform.buses.map((bus): TimedBus => {
      const ref = sideRef(side.name, bus.id);
      const frames = segmentOf(context, ref)?.together.frames ?? [];
      const messages = frames.flatMap(({ mask, message }) => (scope.holds(mask) ? [message] : []));
      try {
        const timing = analyseBus(bus, messages);
        return { side: side.name, bus, ref, timing, reason: null, byMessage: byMessage(timing) };
      } catch (error) {
        if (!(error instanceof RangeError)) throw error;
        return { side: side.name, bus, ref, timing: null, reason: error.message, byMessage: new Map() };
      }
    }),
  );
}

/** The slower one where a message is sent twice. */
function byMessage({ messages }: BusTiming): ReadonlyMap<string, MessageTiming> {
  const found = new Map<string, MessageTiming>();
  const responseNs = ({ response }: MessageTiming): number =>
    response.kind === 'bounded' ? response.responseNs : Infinity;
  for (const entry of messages) {
    const known = found.get(entry.message.name);
    if (!known || responseNs(entry) > responseNs(known)) found.set(entry.message.name, entry);
  }
  return found;
}

/** The parts of the worst age of what a route delivers, and their sum. */
export interface AgeBudget {
  readonly parts: readonly { readonly name: string; readonly ms: number }[];
  readonly totalMs: number;
  readonly lacks: readonly string[];
}

/**
 * Source period, response time on the source's bus, interface period and latency, time kept in the steps, target period, response
 * time on the target's bus. What is not known is in `lacks` and counts as nothing.
 */
export function ageBudget(translation: Translation, buses: readonly TimedBus[], route: Route): AgeBudget {
  const { totalMs, parts, lacks } = deliveredAge(translation.context, route);
  const response = (refs: readonly string[]): { readonly ms: number; readonly lacks: readonly string[] } => {
    let ms = 0;
    const missing: string[] = [];
    for (const ref of refs) {
      const entry = translation.pairing.find(ref);
      if (!entry || entry.kind === 'wire') continue;
      const message = sideRef(entry.side, entry.message.id);
      const timing = buses.find((bus) => bus.ref === sideRef(entry.side, entry.message.bus))?.byMessage.get(message);
      if (timing?.response.kind === 'bounded') ms = Math.max(ms, timing.response.responseNs / 1e6);
      else missing.push(`response time of ${message}`);
    }
    return { ms: Math.ceil(ms * 1000) / 1000, lacks: missing };
  };
  const source = response(route.from);
  const target = response([route.to]);
  const all = [
    ...parts.map(({ name, value }) => ({ name, ms: Number(value) })),
    ...(source.ms > 0 ? [{ name: 'response, source bus', ms: source.ms }] : []),
    ...(target.ms > 0 ? [{ name: 'response, target bus', ms: target.ms }] : []),
  ];
  return {
    parts: all,
    totalMs: Math.round((totalMs + source.ms + target.ms) * 1000) / 1000,
    lacks: [...new Set([...lacks, ...source.lacks, ...target.lacks])],
  };
}
