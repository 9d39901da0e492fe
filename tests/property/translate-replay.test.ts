import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Step } from '../../src/model/index.ts';
import {
  type ReplayOptions,
  analyseRoute,
  compileRoute,
  createReplay,
  fitsDoubles,
  wideRunner,
} from '../../src/translate/index.ts';
import { fastProgram } from '../../src/translate/replay/fast-program.ts';
import { MARK, markOfStatus, statusOfMark } from '../../src/translate/replay/marks.ts';
import { routeBetween, signal } from '../translate/bench-pairing.ts';
import { randomLog } from '../translate/random-log.ts';
import { randomPairing } from '../translate/random-map.ts';
import { anySignal, anySteps, anyTimedStep, rawsOf, statesOf } from '../translate/arbitrary.ts';

const combining = fc.constantFrom<Step>(
  { do: 'highest' },
  { do: 'lowest' },
  { do: 'sum' },
  { do: 'difference' },
  { do: 'first-valid' },
  { do: 'choose-by', selector: 0, cases: { 1: { source: 1 }, '-2.5': { value: 3 } }, otherwise: { source: 0 } },
);

/** Runs a program on both runners, tick by tick, on values and missing values alike. */
function agree(
  program: Parameters<typeof wideRunner>[0],
  ticks: readonly (readonly (bigint | 1 | 2 | 3 | 4)[])[],
): void {
  const wide = wideRunner(program);
  const inputs: number[] = [];
  const fast = fastProgram(
    program,
    program.sources.map((_, index) => () => inputs[index]!),
  );
  for (const tick of ticks) {
    const slots = tick.map((x) =>
      typeof x === 'bigint' ? { value: x, status: 0 as const } : { value: 0n, status: x },
    );
    tick.forEach((x, index) => (inputs[index] = typeof x === 'bigint' ? Number(x) : markOfStatus(x)));
    const expected = wide.run(slots);
    const actual = fast();
    if (expected.status === 0) expect(actual).toBe(Number(expected.value));
    else expect(actual >= MARK && statusOfMark(actual)).toBe(expected.status);
  }
}

const anyTick = (raws: readonly bigint[]): fc.Arbitrary<bigint | 1 | 2 | 3 | 4> =>
  fc.oneof(
    { weight: 9, arbitrary: fc.constantFrom(...raws) },
    { weight: 1, arbitrary: fc.constantFrom(1 as const, 2 as const, 3 as const, 4 as const) },
  );

describe('the engine on doubles against the plain interpreter on unbounded integers', () => {
  it('gives the same for one source, with and without memory', () => {
    const steps = fc
      .tuple(anySteps, fc.array(anyTimedStep, { maxLength: 2 }), anySteps)
      .map(([a, b, c]) => [...a.slice(0, 2), ...b, ...c.slice(0, 2)]);
    fc.assert(
      fc.property(
        anySignal('S').chain((source) =>
          fc.tuple(fc.constant(source), fc.array(anyTick(rawsOf(source)), { minLength: 5, maxLength: 60 })),
        ),
        anySignal('T'),
        steps,
        ([source, ticks], target, list) => {
          const { pairing, route } = routeBetween([source], target, list);
          const result = compileRoute(analyseRoute(pairing, route), 10);
          fc.pre(result.kind === 'values' && fitsDoubles(result.program));
          if (result.kind !== 'values') return;
          agree(
            result.program,
            ticks.map((x) => [x]),
          );
        },
      ),
      { numRuns: 500 },
    );
  });

  it('gives the same for several sources', () => {
    fc.assert(
      fc.property(
        fc
          .tuple(anySignal('A'), anySignal('B'))
          .chain(([a, b]) =>
            fc.tuple(
              fc.constant([a, b]),
              fc.array(fc.tuple(anyTick(rawsOf(a)), anyTick(rawsOf(b))), { minLength: 5, maxLength: 40 }),
            ),
          ),
        anySignal('T'),
        anySteps,
        combining,
        fc.array(anyTimedStep, { maxLength: 1 }),
        ([sources, ticks], target, before, combine, after) => {
          const { pairing, route } = routeBetween([...sources], target, [...before.slice(0, 1), combine, ...after]);
          const result = compileRoute(analyseRoute(pairing, route), 10);
          fc.pre(result.kind === 'values' && fitsDoubles(result.program));
          if (result.kind !== 'values') return;
          agree(result.program, ticks);
        },
      ),
      { numRuns: 300 },
    );
  });

  it('gives the same for states', () => {
    const steps = fc.constantFrom<Step[]>(
      [{ do: 'all-of', when: ['s1', 's3'], yields: 's0', otherwise: 's2' }],
      [
        { do: 'any-of', when: ['s1'], yields: 's1', otherwise: 's0' },
        { do: 'debounce', forMs: 25 },
      ],
      [{ do: 'first-valid' }, { do: 'states', map: { s0: 's3', 6: 's1' }, otherwise: 's2' }],
      [
        { do: 'states', of: 0, map: { s0: 's1', s1: 's0' } },
        { do: 'choose-by', selector: 0, cases: { s0: { source: 1 }, s1: { state: 's3' } } },
        { do: 'delay', byMs: 30 },
      ],
    );
    const raws = [0n, 1n, 2n, 3n, 4n, 5n, 6n, 7n];
    fc.assert(
      fc.property(
        fc.array(fc.tuple(anyTick(raws), anyTick(raws)), { minLength: 3, maxLength: 40 }),
        steps,
        (ticks, list) => {
          const { pairing, route } = routeBetween([statesOf('A'), statesOf('B')], statesOf('T'), list);
          const result = compileRoute(analyseRoute(pairing, route), 10);
          if (result.kind !== 'values') throw new Error('refused');
          agree(result.program, ticks);
        },
      ),
      { numRuns: 200 },
    );
  });

  it('leaves 64-bit values to the interpreter', () => {
    const wide = (id: string) => signal({ id, bits: { start: 0, length: 64, order: 'little' }, unit: 'm' });
    const { pairing, route } = routeBetween([wide('S')], wide('T'), []);
    const result = compileRoute(analyseRoute(pairing, route), 10);
    expect(result.kind === 'values' && fitsDoubles(result.program)).toBe(false);
  });
});

/** Everything a replay of a random map and log sends, as text. */
function outputOf(seed: number, more: Partial<ReplayOptions>): string[] {
  const pairing = randomPairing(seed);
  const lines: string[] = [];
  const replay = createReplay(pairing, {
    startUs: 0,
    output: (event) =>
      lines.push(
        event.kind === 'frame'
          ? `${event.timeUs} ${event.frameId} ${Buffer.from(event.data).toString('hex')}`
          : `${event.timeUs} ${event.wire} ${JSON.stringify(event.level)}`,
      ),
    ...more,
  });
  for (const event of randomLog(pairing, seed + 1, 1500)) {
    if (event.kind === 'frame') replay.onFrame(event);
    else replay.onWire(event.wire, event.level, event.timeUs);
  }
  replay.advanceTo(1_600_000);
  return lines;
}

describe('the three ways the engine can run a route', () => {
  it('send the same bytes at the same times on random maps and logs', () => {
    let frames = 0;
    for (let seed = 1; seed <= 150; seed += 1) {
      // With samples every route goes the general way; without, lanes; with made functions, lanes in code.
      const general = outputOf(seed, { sample: () => undefined });
      expect(outputOf(seed, {}), `seed ${seed}`).toEqual(general);
      const makeFunction = (parameters: readonly string[], body: string): unknown => new Function(...parameters, body);
      expect(outputOf(seed, { makeFunction }), `seed ${seed}`).toEqual(general);
      frames += general.length;
    }
    expect(frames).toBeGreaterThan(10_000);
  });
});
