import { describe, expect, it } from 'vitest';
import {
  FUSE_RATINGS,
  ambientFactor,
  baseAmpacity,
  chooseFuse,
  conductorSize,
  fuseColour,
  isFuseRating,
  largestFuseA,
  selectiveRatio,
} from '../../src/wiring/index.ts';

describe('fuses', () => {
  it('ISO 8820-3 as reproduced in public references: 10 A red, 15 A blue, 20 A yellow, 30 A green, 7.5 A brown', () => {
    expect([10, 15, 20, 30, 7.5].map(fuseColour)).toEqual(['red', 'blue', 'yellow', 'green', 'brown']);
    expect([12, 18, 0].map(isFuseRating)).toEqual([false, false, false]);
  });

  it('application guide: a fan of 22 A needs 30 A; 10 AWG of 105 °C in an engine space, 60 A × 0.85 = 51 A, bears it', () => {
    const bears = baseAmpacity(conductorSize('10AWG')!, 105).ampere * ambientFactor(105, 50);
    expect(bears).toBeCloseTo(51, 0);
    expect(chooseFuse(22, bears)).toMatchObject({ ratingA: 30, colour: 'green', protectsConductor: true });
    expect(chooseFuse(22, 25)).toMatchObject({ ratingA: 30, protectsConductor: false });
    expect(largestFuseA(bears)).toBe(50);
  });

  it('public fuse calculator: 600 W at 12 V is 50 A, × 1.25 is 62.5 A; the next size of its series is 80 A', () => {
    const { neededA } = chooseFuse(600 / 12, null);
    expect(neededA).toBe(62.5);
    expect(chooseFuse(50, null, 25, [40, 60, 80, 100]).ratingA).toBe(80);
    // ISO 8820 large forms have a 70 A.
    expect(chooseFuse(50, null).ratingA).toBe(70);
  });

  it('a load is at most 80 % of its fuse, and a load above the series finds none', () => {
    for (const loadA of [0.3, 1.7, 4, 8, 8.01, 23, 31.9]) {
      const { ratingA } = chooseFuse(loadA, null);
      expect(loadA / ratingA!).toBeLessThanOrEqual(0.8 + 1e-9);
      const smaller = FUSE_RATINGS.findLast((row) => row.ratingA < ratingA!);
      if (smaller) expect(loadA / smaller.ratingA).toBeGreaterThan(0.8);
    }
    expect(chooseFuse(1000, null).ratingA).toBeNull();
  });

  it('ISO 8820-3 time gates (from memory): at 600 % within 0.1 s, at 200 % not before 0.15 s, so 3 to 1 is selective', () => {
    expect(selectiveRatio()).toBe(3);
  });
});
