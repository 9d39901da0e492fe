import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Rational, abs, compare, div, roundHalfAway, sub, toRational } from '../../src/number/index.ts';
import type { Signal, Step } from '../../src/model/index.ts';
import { analyseRoute, compileRoute, evaluateRoute, proveRoute, wideRunner } from '../../src/translate/index.ts';
import { routeBetween, signal } from '../translate/bench-pairing.ts';
import { naiveSteps } from '../translate/naive-steps.ts';
import { anySignal, anySteps, physicalOf, rawsOf } from '../translate/arbitrary.ts';

/** The raw value a target gets for a physical one: nearest, halves away from zero, kept within the field. */
function encode(value: Rational, target: Signal): bigint {
  const raw = roundHalfAway(div(sub(value, toRational(target.offset)), toRational(target.factor)));
  const raws = rawsOf(target);
  const [lo, hi] = [raws[0]!, raws.at(-1)!];
  return raw < lo ? lo : raw > hi ? hi : raw;
}

function compiled(from: Signal[], to: Signal, steps: Step[]) {
  const { pairing, route } = routeBetween(from, to, steps);
  const analysis = analyseRoute(pairing, route);
  const result = compileRoute(analysis, 10);
  if (result.kind !== 'values') throw new Error(result.kind === 'refused' ? result.why : 'a frame');
  return { analysis, result };
}

describe('integer form against the steps worked out exactly', () => {
  it('equals exact rational rounding over the whole domain of every chain, and is proved', () => {
    fc.assert(
      fc.property(anySignal('S'), anySignal('T'), anySteps, (source, target, steps) => {
        const { pairing, route } = routeBetween([source], target, steps);
        const result = compileRoute(analyseRoute(pairing, route), 10);
        if (result.kind !== 'values') {
          // A curve that refuses everything leaves nothing to compile.
          expect(result).toMatchObject({ kind: 'refused', why: expect.stringContaining('no value') });
          for (const raw of rawsOf(source)) expect(naiveSteps(physicalOf(raw, source), steps)).toBeNull();
          return;
        }
        const runner = wideRunner(result.program);
        for (const raw of rawsOf(source)) {
          const exact = naiveSteps(physicalOf(raw, source), steps);
          const out = runner.run([{ value: raw, status: 0 }]);
          if (exact === null) expect(out.status).toBe(1);
          else expect(out).toEqual({ value: encode(exact, target), status: 0 });
        }
        const proof = proveRoute(result);
        expect(proof.holds).toBe(true);
        expect(proof.method).toBe('exhaustive');
        expect(compare(proof.worstErrorSteps!, toRational('1/2'))).toBeLessThanOrEqual(0);
      }),
      { numRuns: 600 },
    );
  });

  it('claims the worst error that occurs', () => {
    fc.assert(
      fc.property(anySignal('S'), anySignal('T'), fc.integer({ min: -300, max: 300 }), (source, target, n) => {
        fc.pre(n !== 0);
        const steps: Step[] = [{ do: 'linear', factor: n / 16, offset: n / 7.5, unit: 'V' }];
        const { result } = compiled([source], target, steps);
        let worst: Rational = toRational(0);
        const raws = rawsOf(target);
        for (const raw of rawsOf(source)) {
          const exact = div(
            sub(naiveSteps(physicalOf(raw, source), steps)!, toRational(target.offset)),
            toRational(target.factor),
          );
          if (compare(exact, { num: raws[0]!, den: 1n }) < 0 || compare({ num: raws.at(-1)!, den: 1n }, exact) < 0)
            continue;
          const off = abs(sub(exact, { num: roundHalfAway(exact), den: 1n }));
          if (compare(off, worst) > 0) worst = off;
        }
        expect(proveRoute(result).worstErrorSteps).toEqual(worst);
      }),
      { numRuns: 300 },
    );
  });

  it('combines several sources without any loss of its own', () => {
    const combining = fc.constantFrom<Step>(
      { do: 'highest' },
      { do: 'lowest' },
      { do: 'sum' },
      { do: 'difference' },
      { do: 'first-valid' },
    );
    const linear = fc
      .tuple(fc.integer({ min: -30, max: 30 }), fc.integer({ min: -30, max: 30 }))
      .map(([a, b]): Step => ({ do: 'linear', factor: `${a === 0 ? 1 : a}/6`, offset: `${b}/9`, unit: 'V' }));
    fc.assert(
      fc.property(
        anySignal('A', 5),
        anySignal('B', 5),
        anySignal('T'),
        fc.array(linear, { maxLength: 2 }),
        combining,
        fc.array(linear, { maxLength: 1 }),
        (a, b, target, before, combine, after) => {
          const first = before.map((step, index): Step => (step.do === 'linear' ? { ...step, of: index } : step));
          const { result, analysis } = compiled([a, b], target, [...first, combine, ...after]);
          const runner = wideRunner(result.program);
          for (const x of rawsOf(a)) {
            for (const y of rawsOf(b)) {
              // The exact evaluation is itself held against hand-made cases in tests/translate/evaluate.test.ts.
              const exact = evaluateRoute(analysis, [
                { kind: 'raw', raw: x },
                { kind: 'raw', raw: y },
              ]);
              expect(
                runner.run([
                  { value: x, status: 0 },
                  { value: y, status: 0 },
                ]).value,
              ).toBe(exact.target.raw);
            }
          }
        },
      ),
      { numRuns: 60 },
    );
  });

  it('proves a 32-bit source at the ends of its segments', () => {
    const wide = signal({ id: 'S', bits: { start: 0, length: 32, order: 'little' }, factor: 0.001, unit: 'km' });
    const { result } = compiled(
      [wide],
      signal({ id: 'T', bits: { start: 0, length: 24, order: 'little' }, factor: 0.125, unit: '[mi_i]' }),
      [{ do: 'convert' }],
    );
    const proof = proveRoute(result);
    expect(proof).toMatchObject({ method: 'ends', holds: true, widthBits: 64 });
    // 1 mi = 1.609344 km (NIST SP 811 B.8): raw 1 000 000 is 1000 km = 621.371… mi = 4970.97 steps of 1/8 mi.
    expect(wideRunner(result.program).run([{ value: 1_000_000n, status: 0 }]).value).toBe(4971n);
  });
});
