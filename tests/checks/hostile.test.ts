import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { RULES, check } from '../../src/checks/index.ts';
import { CrossloomMap, Platform, pair } from '../../src/model/index.ts';

/** Numbers that a document may hold and that break careless arithmetic: fractions, ends of doubles, digits beyond 2^53. */
const NUMBERS = [0, -1, 1, 1e308, -1e-300, 2 ** 53, '1/3', '-160/9', '18446744073709551615', '1e-5'];
const WORDS = ['', 'constructor', 'x'.repeat(50), 'host:nothing', 'donor:FromEngine', 'not a thing', '°C', '/'];

/** The same document with some of its leaves replaced; what no longer fits the schema is left out by the caller. */
function disturb(value: unknown, next: () => number): unknown {
  if (Array.isArray(value)) return value.map((entry) => disturb(entry, next));
  if (typeof value === 'object' && value !== null) {
    return Object.fromEntries(
      Object.entries(value)
        .filter(([key]) => key === 'format' || key === 'version' || key === 'id' || next() % 101 !== 0)
        .map(([key, entry]) => [key, disturb(entry, next)]),
    );
  }
  if (typeof value === 'number' && next() % 15 === 0) return NUMBERS[next() % NUMBERS.length];
  if (typeof value === 'string' && next() % 60 === 0) return WORDS[next() % WORDS.length];
  return value;
}

describe('disturbed documents', () => {
  it('never make a check throw, whatever the schema lets through', () => {
    let ran = 0;
    const cases = RULES.flatMap(({ examples }) => [examples.failing().documents, examples.passing().documents]);
    fc.assert(
      fc.property(fc.nat({ max: cases.length - 1 }), fc.infiniteStream(fc.nat({ max: 10_000 })), (at, stream) => {
        const next = (): number => stream.next().value as number;
        const { map, host, donor } = cases[at]!;
        const read = [
          CrossloomMap.safeParse(disturb(map, next)),
          Platform.safeParse(disturb(host, next)),
          Platform.safeParse(disturb(donor, next)),
        ] as const;
        // A part that the schema refuses is replaced by the sound one.
        const pairing = pair(read[0].data ?? map, read[1].data ?? host, read[2].data ?? donor);
        ran += Number(read.some(({ success }) => success));
        for (const finding of check(pairing).findings) expect(finding.message).not.toMatch(/undefined|NaN|\[object/);
      }),
      { numRuns: 2500 },
    );
    expect(ran).toBeGreaterThan(300);
  }, 180_000);
});
