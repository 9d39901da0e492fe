// Random signals and steps for property tests. Not a test itself.
import fc from 'fast-check';
import { type Rational, add, mul, toRational } from '../../src/number/index.ts';
import type { Signal, Step } from '../../src/model/index.ts';
import { signal } from './bench-pairing.ts';

const small = fc.integer({ min: -40, max: 40 });
const decimal = small.map((n) => n / 8);
const nonZero = decimal.filter((n) => n !== 0);

const curve = fc
  .uniqueArray(small, { minLength: 2, maxLength: 5 })
  .chain((xs) =>
    fc.tuple(
      fc.constant(xs.toSorted((a, b) => a - b)),
      fc.array(small, { minLength: xs.length, maxLength: xs.length }),
      fc.constantFrom('clamp' as const, 'refuse' as const),
    ),
  )
  .map(([xs, ys, outside]): Step => ({
    do: 'curve',
    from: 'V',
    unit: 'V',
    outside,
    points: xs.map((x, i) => [x, ys[i]!]),
  }));

const step: fc.Arbitrary<Step> = fc.oneof(
  fc.record({ do: fc.constant('linear' as const), factor: nonZero, offset: decimal, unit: fc.constant('V') }),
  fc.tuple(small, small).map(([a, b]): Step => ({ do: 'limit', min: Math.min(a, b), max: Math.max(a, b), unit: 'V' })),
  curve,
  nonZero.map((k): Step => ({ do: 'reciprocal', k, unit: 'V' })),
);

/** Up to four memoryless steps on numbers in one unit. */
export const anySteps: fc.Arbitrary<Step[]> = fc.array(step, { maxLength: 4 });

/** A small field of volts, signed or not, of any small scaling. */
export function anySignal(id: string, longest = 7): fc.Arbitrary<Signal> {
  return fc
    .record({
      length: fc.integer({ min: 2, max: longest }),
      number: fc.constantFrom('unsigned' as const, 'signed' as const),
      factor: nonZero,
      offset: decimal,
    })
    .map(({ length, ...rest }) => signal({ id, bits: { start: 0, length, order: 'little' }, unit: 'V', ...rest }));
}

/** Every raw value of a small field, rising. */
export function rawsOf(source: Signal): bigint[] {
  const span = 1 << source.bits.length;
  const lo = source.number === 'signed' ? -span / 2 : 0;
  return Array.from({ length: span }, (_, index) => BigInt(lo + index));
}

export function physicalOf(raw: bigint, { factor, offset }: Signal): Rational {
  return add(mul(toRational(factor), { num: raw, den: 1n }), toRational(offset));
}

/** A step in time, on volts. */
export const anyTimedStep: fc.Arbitrary<Step> = fc.oneof(
  fc.integer({ min: 1, max: 60 }).map((forMs): Step => ({ do: 'debounce', forMs })),
  fc.integer({ min: 1, max: 60 }).map((byMs): Step => ({ do: 'delay', byMs })),
  fc.integer({ min: 5, max: 400 }).map((timeConstantMs): Step => ({ do: 'smooth', timeConstantMs })),
  fc
    .record({ rise: fc.option(fc.integer({ min: 1, max: 4000 })), fall: fc.option(fc.integer({ min: 1, max: 4000 })) })
    .map(({ rise, fall }): Step => ({
      do: 'rate-limit',
      unit: 'V',
      ...(rise === null ? {} : { risePerS: rise / 8 }),
      ...(fall === null ? {} : { fallPerS: fall / 8 }),
    })),
);

/** A field of three bits with four named states s0 … s3 and four raw values without a name. */
export function statesOf(id: string): Signal {
  return signal({ id, bits: { start: 0, length: 3, order: 'little' }, states: { 0: 's0', 1: 's1', 2: 's2', 3: 's3' } });
}
