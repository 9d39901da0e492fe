import { toRational } from '../../number/index.ts';
import type { Message, Signal } from '../../model/index.ts';
import { compileMessage, type CompiledMessage } from '../message/compile.ts';
import type { FrameSignal } from '../message/signal.ts';

function rawOfText(raw: number | string): bigint {
  return BigInt(raw);
}

/** A platform's signal as the codec takes it: exact scaling, raw values as integers. */
export function frameSignalOf(signal: Signal): FrameSignal {
  return {
    name: signal.id,
    field: signal.bits,
    number: signal.number,
    scaling: { factor: toRational(signal.factor), offset: toRational(signal.offset) },
    unit: signal.unit,
    ...(signal.states ? { states: new Map(Object.entries(signal.states)) } : {}),
    ...(signal.notAvailable ? { notAvailable: signal.notAvailable.map(rawOfText) } : {}),
    ...(signal.error ? { error: signal.error.map(rawOfText) } : {}),
    ...(signal.multiplexed
      ? {
          multiplexed: {
            by: signal.multiplexed.by,
            on: signal.multiplexed.on.map((entry) =>
              Array.isArray(entry)
                ? ([rawOfText(entry[0]), rawOfText(entry[1])] as const)
                : ([rawOfText(entry), rawOfText(entry)] as const),
            ),
          },
        }
      : {}),
  };
}

const compiled = new WeakMap<Message, CompiledMessage>();

/** A platform's message made ready for many frames; worked out once a message. */
export function codecOf(message: Message): CompiledMessage {
  const known = compiled.get(message);
  if (known) return known;
  const codec = compileMessage(message.signals.map(frameSignalOf));
  compiled.set(message, codec);
  return codec;
}
