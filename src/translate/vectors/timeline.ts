import { roundHalfAway, mul } from '../../number/index.ts';
import type { Endpoint, Pairing } from '../../model/index.ts';
import { domainOfWire } from '../domain/wire-domain.ts';
import { type SourceInput, readSource } from '../evaluate/source-end.ts';
import { milliohms } from '../program/build-source.ts';
import type { VectorLevel, VectorStream } from './schema.ts';
import { type Inputs, type Sender, type SourceMessage, createSender } from './source-message.ts';

/** Frames and levels of one vector as they are laid out, phase after phase. */
export interface Timeline {
  readonly nowUs: number;
  readonly senders: ReadonlyMap<string, Sender>;
  readonly streams: readonly VectorStream[];
  readonly levels: readonly VectorLevel[];
  /** Until `untilUs` every source shows its input; messages named in `silent` are not sent. */
  phase(untilUs: number, inputs: Inputs, silent: ReadonlySet<string>): void;
}

/** Messages start a little apart, as they do on a real bus. */
const STAGGER_US = 300;

export function createTimeline(pairing: Pairing, messages: readonly SourceMessage[], firstUs: number): Timeline {
  const senders = new Map(
    messages.map((message, at) => [message.ref, createSender(message, firstUs + at * STAGGER_US)] as const),
  );
  const streams: VectorStream[] = [];
  const levels: VectorLevel[] = [];
  const shown = new Map<string, string>();
  let nowUs = firstUs;
  return {
    get nowUs() {
      return nowUs;
    },
    senders,
    streams,
    levels,
    phase(untilUs, inputs, silent) {
      for (const [ref, input] of inputs) {
        const endpoint = pairing.find(ref);
        const level = endpoint?.kind === 'wire' ? levelOf(endpoint, input) : null;
        if (level === null || shown.get(ref) === JSON.stringify(level)) continue;
        shown.set(ref, JSON.stringify(level));
        levels.push({ wire: ref, atUs: nowUs, level });
      }
      for (const [ref, sender] of senders) {
        if (silent.has(ref)) sender.rest(untilUs);
        else {
          const stream = sender.send(untilUs, inputs);
          if (stream !== null) streams.push(stream);
        }
      }
      nowUs = untilUs;
    },
  };
}

/** The level that shows an input on a wire; null when the wire has none for it. */
export function levelOf(
  { wire }: Extract<Endpoint, { kind: 'wire' }>,
  input: SourceInput,
): VectorLevel['level'] | null {
  const domain = domainOfWire(wire);
  if (domain.kind === 'number') {
    const { level } = readSource(domain, input);
    const { coding } = domain;
    if (level === null || (coding?.kind !== 'wire-scale' && coding?.kind !== 'wire-curve')) return null;
    return {
      kind: 'measured',
      of: coding.of,
      thousandths: Number(roundHalfAway(mul(level, { num: 1000n, den: 1n }))),
    };
  }
  if (domain.kind !== 'state' || input.kind !== 'state') return null;
  const { meaning } = wire;
  if (meaning && 'codes' in meaning) {
    const code = meaning.codes.find(({ state }) => state === input.label);
    if (code === undefined) return null;
    const middle = (milliohms(code.ohm[0]) + milliohms(code.ohm[1])) / 2n;
    return { kind: 'measured', of: 'Ohm', thousandths: Number(middle) };
  }
  return { kind: 'switched', active: domain.states[0]?.label === input.label };
}

/** An input as a bench can really set it: a wire's level in whole thousandths. */
export function settable(pairing: Pairing, ref: string, input: SourceInput): SourceInput {
  const endpoint = pairing.find(ref);
  if (endpoint?.kind !== 'wire' || domainOfWire(endpoint.wire).kind !== 'number') return input;
  const level = levelOf(endpoint, input);
  return level?.kind === 'measured'
    ? { kind: 'level', quantity: { num: BigInt(level.thousandths), den: 1000n } }
    : input;
}
