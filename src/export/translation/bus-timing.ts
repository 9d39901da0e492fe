import { deliveredAge } from '../../checks/index.ts';
import { analyseBus, FD_LENGTHS, type BusMessage, type BusTiming, type MessageTiming } from '../../can/index.ts';
import { sideRef, type Bus, type Message, type Route, type SideName } from '../../model/index.ts';
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

/** Worst-case response times of every bus, with what retained modules send and what the interface modules add. */
export function timedBuses(translation: Translation): readonly TimedBus[] {
  const { pairing } = translation;
  return [pairing.host, pairing.donor].flatMap((side) =>
    side.platform.buses.map((bus): TimedBus => {
      const ref = sideRef(side.name, bus.id);
      const messages = side.platform.messages.flatMap((message) =>
        message.bus === bus.id ? onBus(translation, side.name, message) : [],
      );
      try {
        const timing = analyseBus(bus, messages);
        return {
          side: side.name,
          bus,
          ref,
          timing,
          reason: null,
          byMessage: new Map(timing.messages.map((entry) => [entry.message.name, entry])),
        };
      } catch (error) {
        if (!(error instanceof RangeError)) throw error;
        return { side: side.name, bus, ref, timing: null, reason: error.message, byMessage: new Map() };
      }
    }),
  );
}

/** The message as the bus carries it in this pairing: from its retained sender, or from an interface module; else not at all. */
function onBus({ pairing, scope }: Translation, side: SideName, message: Message): readonly BusMessage[] {
  const name = sideRef(side, message.id);
  const frameFormat = message.frameFormat ?? 'classic';
  if (frameFormat === 'classic' ? message.length > 8 : !FD_LENGTHS.includes(message.length)) return [];
  if (!scope.holds(pairing.options.maskOf(message.when))) return [];
  const shape = {
    name,
    frameId: Number(message.frameId),
    idFormat: message.idFormat,
    frameFormat,
    lengthBytes: message.length,
  };
  const transmits = (pairing.transmitsOf.get(name) ?? []).filter(({ when }) =>
    scope.holds(pairing.options.maskOf(when)),
  );
  if (transmits.length > 0) {
    const cycles = transmits.map(({ send, cycleMs, minGapMs }) =>
      send === 'forwarded' ? message.cycleMs : send === 'on-change' ? minGapMs : (cycleMs ?? message.cycleMs),
    );
    const known = cycles.filter((cycle) => cycle !== undefined);
    return [{ ...shape, periodMs: known.length === 0 ? null : Math.min(...known) }];
  }
  const senders = [...(message.sender === null ? [] : [message.sender]), ...(message.otherSenders ?? [])];
  const present = senders.some((id) => pairing.side(side).modules.has(id) && pairing.fateOf(side, id) !== 'removed');
  if (!present) return [];
  return [
    {
      ...shape,
      periodMs: message.cycleMs ?? null,
      ...(message.jitterMs === undefined ? {} : { jitterMs: message.jitterMs }),
    },
  ];
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
