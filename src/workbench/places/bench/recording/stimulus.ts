import { compileField, insertRaw, nextCount, firstCount } from '../../../../can/index.ts';
import { div, roundHalfAway, sub, type Rational } from '../../../../number/index.ts';
import { sideRef, type Endpoint, type Message, type Pairing, type Signal } from '../../../../model/index.ts';
import {
  domainOfEndpoint,
  protectionOf,
  writeChecksum,
  type ReplayFrame,
  type ValueDomain,
  type WireLevel,
} from '../../../../translate/index.ts';

/** A made-up course of values for the sources of one route, where there is no log. */
export interface StimulusPlan {
  readonly route: string;
  /** Position in `from` of the source that is moved; the others stay at their rest. */
  readonly source: number;
  readonly shape: 'ramp' | 'steps';
  /** Ends of the course: raw values of a field, thousandths of a measured wire, 0 and 1 of a switched one. */
  readonly low: bigint;
  readonly high: bigint;
  /** One rise and one fall of the ramp, or one round of the steps. */
  readonly periodMs: number;
  readonly forMs: number;
  /** The moved source is silent for so long in every period of its own; 0: never. A wire cannot be silent. */
  readonly dropoutMs: number;
  readonly dropoutEveryMs: number;
}

/** One thing that comes in. */
export type StimulusEvent =
  | { readonly kind: 'frame'; readonly frame: ReplayFrame }
  | {
      readonly kind: 'wire';
      readonly ref: string;
      readonly timeUs: number;
      readonly level: Exclude<WireLevel, { kind: 'open' }>;
    };

/** Where a platform gives no cycle: often enough for every reader (common practice). */
const ASSUMED_CYCLE_MS = 10;
/** A wire's level is looked at so often. */
const WIRE_STEP_MS = 10;
const STEPS_A_ROUND = 8;

/** The ends a source can be moved between; null when it has no values that can be put in. */
export function stimulusRange(
  endpoint: Endpoint,
): { readonly low: bigint; readonly high: bigint; readonly rest: bigint } | null {
  const domain = domainOfEndpoint(endpoint);
  if (endpoint.kind === 'wire') return wireRange(domain);
  if (endpoint.kind !== 'signal') return null;
  if (domain.kind === 'number' && domain.coding?.kind === 'integer' && domain.coding.usable !== null) {
    const { lo, hi } = domain.coding.usable;
    return { low: lo, high: hi, rest: (lo + hi) / 2n };
  }
  if (domain.kind === 'state') {
    const raws = domain.states.flatMap(({ raw }) => (raw === null ? [] : [BigInt(raw)]));
    if (raws.length === 0) return null;
    return {
      low: raws.reduce((a, b) => (a < b ? a : b)),
      high: raws.reduce((a, b) => (a > b ? a : b)),
      rest: raws[0]!,
    };
  }
  return null;
}

function wireRange(domain: ValueDomain): { readonly low: bigint; readonly high: bigint; readonly rest: bigint } | null {
  if (domain.kind === 'state') return domain.states.length === 2 ? { low: 0n, high: 1n, rest: 0n } : null;
  if (domain.kind !== 'number' || domain.coding === null || domain.interval === null) return null;
  const { coding, interval } = domain;
  const thousandths = (quantity: Rational): bigint => roundHalfAway({ num: quantity.num * 1000n, den: quantity.den });
  switch (coding.kind) {
    case 'wire-curve': {
      const low = thousandths(coding.points[0]![0]);
      const high = thousandths(coding.points.at(-1)![0]);
      return { low, high, rest: (low + high) / 2n };
    }
    case 'wire-scale': {
      if (coding.scaling.factor.num === 0n) return null;
      const ends = [interval.lo, interval.hi].map((end) =>
        thousandths(div(sub(end, coding.scaling.offset), coding.scaling.factor)),
      );
      const [low, high] = ends[0]! <= ends[1]! ? ends : [ends[1]!, ends[0]!];
      return { low: low!, high: high!, rest: (low! + high!) / 2n };
    }
    case 'integer':
    case 'float':
      return null;
  }
}

/**
 * The value of the course at a moment: exact, halves away from zero. A ramp rises from low to high in the first half of its period
 * and falls in the second; steps go up in eight equal parts and begin anew.
 */
export function courseAt(
  { shape, low, high, periodMs }: Pick<StimulusPlan, 'shape' | 'low' | 'high' | 'periodMs'>,
  timeUs: number,
): bigint {
  const periodUs = BigInt(Math.round(periodMs * 1000));
  const into = BigInt(timeUs) % periodUs;
  const range = high - low;
  if (shape === 'steps') {
    const parts = range < BigInt(STEPS_A_ROUND) ? range + 1n : BigInt(STEPS_A_ROUND) + 1n;
    const step = (into * parts) / periodUs;
    return parts === 1n ? low : low + roundHalfAway({ num: range * step, den: parts - 1n });
  }
  const risen = 2n * into <= periodUs ? 2n * into : 2n * (periodUs - into);
  return low + roundHalfAway({ num: range * risen, den: periodUs });
}

/** Whether the moved source is silent at a moment: at the end of each of its periods. */
export function isSilent(
  { dropoutMs, dropoutEveryMs }: Pick<StimulusPlan, 'dropoutMs' | 'dropoutEveryMs'>,
  timeUs: number,
): boolean {
  if (dropoutMs <= 0) return false;
  const everyUs = Math.max(dropoutMs, dropoutEveryMs) * 1000;
  return timeUs % everyUs >= everyUs - dropoutMs * 1000;
}

/** All that comes in, in order of time from 0 on. Throws RangeError when a source has no values that can be put in. */
export function* stimulate(pairing: Pairing, plan: StimulusPlan): Generator<StimulusEvent> {
  const route = pairing.routes.get(plan.route);
  if (route === undefined) throw new RangeError(`there is no route "${plan.route}"`);
  const movedRef = route.from[plan.source];
  const senders = new Map<string, Sender>();
  const wires: { readonly ref: string; readonly rest: bigint; readonly switched: boolean }[] = [];
  for (const ref of route.from) {
    const endpoint = pairing.find(ref);
    const range = endpoint === null ? null : stimulusRange(endpoint);
    if (endpoint === null || range === null || endpoint.kind === 'message')
      throw new RangeError(`"${ref}" has no values that can be put in: choose another route, or a log`);
    if (endpoint.kind === 'wire') {
      wires.push({ ref, rest: range.rest, switched: domainOfEndpoint(endpoint).kind === 'state' });
      continue;
    }
    const key = sideRef(endpoint.side, endpoint.message.id);
    const sender = senders.get(key) ?? senderOf(endpoint);
    senders.set(key, sender);
    sender.set(endpoint.signal, range.rest);
  }
  const moved = movedRef === undefined ? null : pairing.find(movedRef);
  const movedKey = moved?.kind === 'signal' ? sideRef(moved.side, moved.message.id) : null;
  const endUs = Math.round(plan.forMs * 1000);
  const told = new Map<string, bigint>();
  const due = [...senders].map(([key, sender]) => ({ key, sender, nextUs: 0 }));
  let wireUs = wires.length === 0 ? Infinity : 0;
  for (;;) {
    const nextUs = due.reduce((next, one) => Math.min(next, one.nextUs), wireUs);
    if (nextUs > endUs) return;
    if (wireUs === nextUs) {
      for (const { ref, rest, switched } of wires) {
        const value = ref === movedRef ? courseAt(plan, nextUs) : rest;
        if (told.get(ref) === value) continue;
        told.set(ref, value);
        yield {
          kind: 'wire',
          ref,
          timeUs: nextUs,
          level: switched
            ? { kind: 'switched', active: value === 1n }
            : { kind: 'measured', thousandths: Number(value) },
        };
      }
      wireUs += WIRE_STEP_MS * 1000;
    }
    for (const one of due) {
      if (one.nextUs !== nextUs) continue;
      one.nextUs += one.sender.cycleUs;
      if (one.key === movedKey) {
        if (isSilent(plan, nextUs)) continue;
        if (moved?.kind === 'signal') one.sender.set(moved.signal, courseAt(plan, nextUs));
      }
      yield { kind: 'frame', frame: one.sender.frame(nextUs) };
    }
  }
}

/** A message as its sender sends it. */
interface Sender {
  readonly cycleUs: number;
  /** Puts a raw value in, and what selects its page. */
  set(signal: Signal, raw: bigint): void;
  frame(timeUs: number): ReplayFrame;
}

function senderOf({ side, message }: Extract<Endpoint, { kind: 'signal' }>): Sender {
  const data = restOf(message);
  const { counter, checksum } = protectionOf(message, message.protection);
  let count = counter === null ? 0 : firstCount(counter.spec);
  return {
    cycleUs: Math.max(1, Math.round((message.cycleMs ?? ASSUMED_CYCLE_MS) * 1000)),
    set(signal, raw) {
      if (signal.bits.length > 0) insertRaw(data, signal.bits, raw);
      for (let { multiplexed } = signal; multiplexed !== undefined;) {
        const { by, on } = multiplexed;
        const parent = message.signals.find(({ id }) => id === by);
        const [first] = on;
        if (parent === undefined || first === undefined) return;
        insertRaw(data, parent.bits, BigInt(Array.isArray(first) ? first[0] : (first as number | string)));
        multiplexed = parent.multiplexed;
      }
    },
    frame(timeUs) {
      const bytes = data.slice();
      if (counter !== null) {
        insertRaw(bytes, counter.bits, BigInt(count));
        count = nextCount(count, counter.spec);
      }
      if (checksum !== null) writeChecksum(checksum, bytes);
      return {
        timeUs,
        bus: sideRef(side, message.bus),
        frameId: Number.parseInt(message.frameId, 16),
        extended: message.idFormat === 'extended',
        data: bytes,
      };
    },
  };
}

/** A payload in which signals say "not available" where they can, so that nothing is made up beside the route. */
function restOf(message: Message): Uint8Array {
  const data = new Uint8Array(message.length);
  for (const signal of message.signals) {
    if (signal.multiplexed !== undefined) continue;
    const raw = signal.notAvailable?.[0] ?? signal.initial;
    if (raw === undefined || compileField(signal.bits, signal.number).needsBytes > data.length) continue;
    if (signal.number === 'unsigned' || signal.number === 'signed') insertRaw(data, signal.bits, BigInt(raw));
  }
  return data;
}
