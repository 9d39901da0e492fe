import { compileField, fitsIn, firstCount, nextCount } from '../../can/index.ts';
import type { Endpoint, Message, Signal } from '../../model/index.ts';
import { sideRef } from '../../model/index.ts';
import { domainOfSignal } from '../domain/signal-domain.ts';
import { type SourceInput, readSource } from '../evaluate/source-end.ts';
import { lcmOf } from '../function/gcd.ts';
import { type ProtectionPlan, protectionOf } from '../plan/checksum-plan.ts';
import { type Selection, isInPage, pagesFor } from '../plan/pages.ts';
import { writeChecksum } from '../replay/sources.ts';
import type { VectorStream } from './schema.ts';

/** What sources show, by reference. */
export type Inputs = ReadonlyMap<string, SourceInput>;

type SignalEnd = Extract<Endpoint, { kind: 'signal' }>;

/** A message that some source stands in, as a bench sends it. */
export interface SourceMessage {
  /** `side:Message`. */
  readonly ref: string;
  readonly message: Message;
  readonly bus: string;
  readonly signals: readonly SignalEnd[];
  /** The pages that hold the signals; one without selectors for a plain message. */
  readonly pages: readonly Selection[];
  readonly protection: ProtectionPlan;
  readonly everyUs: number;
}

/** Slowest rate at which a bench sends, so that a vector does not take longer than it must. */
const MOST_EVERY_US = 100_000;
const USUAL_EVERY_US = 50_000;
const LEAST_EVERY_US = 500;

/** The messages of some signals. `staleUs` of a message: the least limit after which a route gives it up. */
export function sourceMessages(
  signals: readonly SignalEnd[],
  staleUs: (ref: string) => number | null,
): readonly SourceMessage[] {
  const byMessage = new Map<string, SignalEnd[]>();
  for (const end of signals) {
    const ref = sideRef(end.side, end.message.id);
    const known = byMessage.get(ref);
    if (known === undefined) byMessage.set(ref, [end]);
    else if (!known.some((other) => other.ref === end.ref)) known.push(end);
  }
  return [...byMessage].map(([ref, ends]): SourceMessage => {
    const { message, side } = ends[0]!;
    const pages = neededPages(message, ends);
    const usual = message.cycleMs === undefined ? USUAL_EVERY_US : Math.round(message.cycleMs * 1000);
    const limit = staleUs(ref);
    const everyUs = Math.min(usual, MOST_EVERY_US, limit === null ? Infinity : Math.floor(limit / (2 * pages.length)));
    return {
      ref,
      message,
      bus: sideRef(side, message.bus),
      signals: ends,
      pages,
      protection: protectionOf(message, message.protection),
      everyUs: Math.max(LEAST_EVERY_US, everyUs),
    };
  });
}

/** One page for each signal, no page twice, none that another one contains. */
function neededPages(message: Message, ends: readonly SignalEnd[]): readonly Selection[] {
  const pages: Selection[] = [];
  for (const { signal } of ends) {
    const page = pagesFor(message, [signal])[0] ?? new Map<string, bigint>();
    if (!pages.some((known) => within(page, known))) pages.push(page);
  }
  return pages.filter((page, at) => !pages.some((other, index) => index !== at && within(page, other)));
}

function within(inner: Selection, outer: Selection): boolean {
  return [...inner].every(([id, value]) => outer.get(id) === value);
}

/** A payload of one page, without counter and checksum. */
function payloadOf({ message, signals }: SourceMessage, page: Selection, inputs: Inputs): Uint8Array {
  const bytes = new Uint8Array(message.length);
  const write = (signal: Signal, raw: bigint | number): void => {
    if (!fitsIn(signal.bits, message.length)) return;
    compileField(signal.bits, signal.number).write(bytes, raw);
  };
  for (const signal of message.signals) {
    if (signal.initial !== undefined && isInPage(signal, page, message)) write(asBits(signal), BigInt(signal.initial));
  }
  for (const { ref, signal } of signals) {
    const input = inputs.get(ref);
    if (input === undefined || !isInPage(signal, page, message)) continue;
    const raw = rawFor(signal, input);
    if (raw !== null) write(signal, raw);
  }
  for (const [id, value] of page) {
    const selector = message.signals.find((signal) => signal.id === id);
    if (selector !== undefined) write(selector, value);
  }
  return bytes;
}

/** A start value is the bits of the field, whatever they mean. */
function asBits(signal: Signal): Signal {
  return { ...signal, number: signal.number === 'signed' ? 'signed' : 'unsigned' };
}

function rawFor(signal: Signal, input: SourceInput): bigint | number | null {
  const domain = domainOfSignal(signal);
  if (domain.kind === 'text') return input.kind === 'raw' ? BigInt(input.raw) : null;
  return readSource(domain, input).raw;
}

/** Sends one message on its grid through the phases of a vector; its counter and its pages run on from one to the next. */
export interface Sender {
  readonly source: SourceMessage;
  /** When the next frame is due. */
  readonly nextUs: number;
  /** When the last frame went out; −1 before the first. */
  readonly lastUs: number;
  /** Frames before `untilUs`, as streams. */
  send(untilUs: number, inputs: Inputs): VectorStream | null;
  /** Nothing before `untilUs`; the grid stays. */
  rest(untilUs: number): void;
}

/** Longest list of payloads in a stream; a longer cycle of counter and pages is written out frame by frame. */
const MOST_PAYLOADS = 4096;

export function createSender(source: SourceMessage, firstUs: number): Sender {
  const { message, pages, protection, everyUs } = source;
  const { counter, checksum } = protection;
  let nextUs = firstUs;
  let lastUs = -1;
  let frame = 0;
  let count = counter === null ? 0 : firstCount(counter.spec);
  const values = counter === null ? 1 : counter.spec.modulo - new Set(counter.spec.skips ?? []).size;
  const cycle = Number(lcmOf(BigInt(pages.length), BigInt(values)));
  const writeCount = counter === null ? null : compileField(counter.bits, 'unsigned').write;
  return {
    source,
    get nextUs() {
      return nextUs;
    },
    get lastUs() {
      return lastUs;
    },
    rest(untilUs) {
      if (nextUs < untilUs) nextUs += Math.ceil((untilUs - nextUs) / everyUs) * everyUs;
    },
    send(untilUs, inputs) {
      const frames = nextUs < untilUs ? Math.ceil((untilUs - nextUs) / everyUs) : 0;
      if (frames === 0) return null;
      const payloads = pages.map((page) => payloadOf(source, page, inputs));
      const distinct = cycle <= MOST_PAYLOADS ? Math.min(frames, cycle) : frames;
      const data: string[] = [];
      for (let index = 0; index < frames; index += 1) {
        if (index < distinct) {
          const bytes = payloads[frame % pages.length]!.slice();
          writeCount?.(bytes, count);
          if (checksum !== null) writeChecksum(checksum, bytes);
          data.push(hexOf(bytes));
        }
        frame += 1;
        if (counter !== null) count = nextCount(count, counter.spec);
      }
      const fromUs = nextUs;
      lastUs = fromUs + (frames - 1) * everyUs;
      nextUs = fromUs + frames * everyUs;
      return {
        message: source.ref,
        bus: source.bus,
        frameId: message.frameId,
        idFormat: message.idFormat,
        frameFormat: message.frameFormat ?? 'classic',
        fromUs,
        everyUs,
        count: frames,
        data: shortest(data),
      };
    },
  };
}

/** One payload where all are the same. */
function shortest(data: readonly string[]): string[] {
  return data.every((bytes) => bytes === data[0]) ? [data[0]!] : [...data];
}

/** Upper-case hexadecimal, byte 0 first. */
export function hexOf(bytes: Uint8Array): string {
  let text = '';
  for (const byte of bytes) text += byte.toString(16).toUpperCase().padStart(2, '0');
  return text;
}

export function bytesOf(hex: string): Uint8Array {
  return Uint8Array.from({ length: hex.length / 2 }, (_, at) => Number.parseInt(hex.slice(2 * at, 2 * at + 2), 16));
}
