/** An alive counter: runs 0 … modulo − 1 and round again, leaving out the values in `skips`. */
export interface CounterSpec {
  readonly modulo: number;
  /** Values never sent, such as 15 of a 4-bit counter under end-to-end profile 1. */
  readonly skips?: readonly number[];
}

/** What is wrong with a counter, in words, or null: modulo 2–65536, skipped values within it, at least two values left. */
export function counterFault({ modulo, skips = [] }: CounterSpec): string | null {
  if (!Number.isInteger(modulo) || modulo < 2 || modulo > 65536)
    return `modulo ${modulo} is not a whole number from 2 to 65536`;
  const odd = skips.find((value) => !Number.isInteger(value) || value < 0 || value >= modulo);
  if (odd !== undefined) return `skipped value ${odd} is not a value of a counter modulo ${modulo}`;
  return new Set(skips).size > modulo - 2 ? 'a counter needs at least two values that it does not skip' : null;
}

/** The first value a counter sends: the least it does not skip. */
export function firstCount(spec: CounterSpec): number {
  return nextCount(spec.modulo - 1, spec);
}

/** The value after `count`. A `count` the counter never sends is followed by the next one it does. */
export function nextCount(count: number, { modulo, skips = [] }: CounterSpec): number {
  let next = (count + 1) % modulo;
  for (let tried = 1; tried < modulo && skips.includes(next); tried += 1) next = (next + 1) % modulo;
  return next;
}

/** What a received counter value says: the next one, the same again (frozen), some lost, or a value the sender never uses. */
export type CounterVerdict =
  | { readonly kind: 'next' }
  | { readonly kind: 'repeated' }
  | { readonly kind: 'lost'; readonly frames: number }
  | { readonly kind: 'impossible' };

/** Judges a received counter value against the one before it; `lost` counts the frames missed, 1 … number of values − 2. */
export function judgeCount(previous: number, received: number, spec: CounterSpec): CounterVerdict {
  if (received < 0 || received >= spec.modulo || (spec.skips ?? []).includes(received)) return { kind: 'impossible' };
  if (received === previous) return { kind: 'repeated' };
  let expected = nextCount(previous, spec);
  for (let frames = 0; frames < spec.modulo; frames += 1) {
    if (expected === received) return frames === 0 ? { kind: 'next' } : { kind: 'lost', frames };
    expected = nextCount(expected, spec);
  }
  return { kind: 'impossible' };
}
