import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { applyAffine, composeAffine, inverse, mul, rational } from '../../src/number/index.ts';
import { UNITS, conversionBetween, convertExact, findUnit } from '../../src/units/index.ts';

const unit = fc.constantFrom(...UNITS);
const value = fc
  .tuple(fc.bigInt({ min: -(10n ** 12n), max: 10n ** 12n }), fc.bigInt({ min: 1n, max: 10n ** 6n }))
  .map(([num, den]) => rational(num, den));
/** Two or three units of one quantity. */
const related = unit.chain((a) => {
  const kin = fc.constantFrom(...UNITS.filter((u) => u.quantity === a.quantity));
  return fc.tuple(fc.constant(a), kin, kin);
});

describe('conversion', () => {
  it('there and back is the identity, exactly', () => {
    fc.assert(
      fc.property(related, value, ([a, b], x) => {
        const there = convertExact(x, a, b);
        if ('kind' in there) throw new Error(there.message);
        expect(convertExact(there, b, a)).toEqual(x);
      }),
      { numRuns: 2000 },
    );
  });

  it('by way of a third unit is the same, exactly', () => {
    fc.assert(
      fc.property(related, ([a, b, c]) => {
        const [ab, bc, ac] = [conversionBetween(a, b), conversionBetween(b, c), conversionBetween(a, c)];
        if (ab.kind !== 'affine' || bc.kind !== 'affine' || ac.kind !== 'affine') throw new Error('no conversion');
        expect(composeAffine(ab.affine, bc.affine)).toEqual(ac.affine);
      }),
      { numRuns: 1000 },
    );
  });

  it('exists both ways or not at all, and a reciprocal undoes itself', () => {
    fc.assert(
      fc.property(unit, unit, value, (a, b, x) => {
        const [ab, ba] = [conversionBetween(a, b), conversionBetween(b, a)];
        expect(ab.kind).toBe(ba.kind);
        if (ab.kind === 'none' && ba.kind === 'none') expect(ab.why).toBe(ba.why);
        if (ab.kind === 'affine') expect(a.dimension).toEqual(b.dimension);
        if (ab.kind === 'reciprocal' && ba.kind === 'reciprocal' && x.num !== 0n) {
          expect(ab.k).toEqual(ba.k);
          const y = mul(ab.k, inverse(x));
          expect(convertExact(x, a, b)).toEqual(y);
          expect(convertExact(y, b, a)).toEqual(x);
        }
      }),
      { numRuns: 5000 },
    );
  });

  it('of an amount keeps zero and sign', () => {
    fc.assert(
      fc.property(related, value, ([a, b], x) => {
        if (a.point) return;
        const conversion = conversionBetween(a, b);
        if (conversion.kind !== 'affine') throw new Error(conversion.kind);
        const y = applyAffine(conversion.affine, x);
        expect(y.num < 0n).toBe(x.num < 0n);
        expect(y.num === 0n).toBe(x.num === 0n);
      }),
    );
  });
});

describe('findUnit', () => {
  it('never throws, and finds only units of the table', () => {
    const piece = fc.constantFrom(
      'm',
      'M',
      'k',
      'deg',
      '°',
      '\uFFFD',
      '/',
      '.',
      '*',
      '^',
      '2',
      's',
      'Hz',
      ' ',
      '_',
      '[',
      ']',
      '(',
      ')',
      'Â',
      'Ω',
      '{',
      '}',
      '-',
      'ft',
      'lb',
    );
    const text = fc.oneof(
      fc.string(),
      fc.array(piece, { maxLength: 8 }).map((parts) => parts.join('')),
    );
    fc.assert(
      fc.property(text, (written) => {
        const found = findUnit(written);
        if (found !== null) expect(UNITS).toContain(found.unit);
      }),
      { numRuns: 5000 },
    );
  });
});
