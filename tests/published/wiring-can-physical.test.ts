import { describe, expect, it } from 'vitest';
import { canLengthLimits, termination } from '../../src/wiring/index.ts';

describe('CAN physical layer', () => {
  it('ISO 11898-2: two of 120 Ω measure 60 Ω; one or three are named', () => {
    expect(termination([120, 120])).toEqual({ count: 2, pairOhm: 60, verdict: 'two' });
    expect(termination([120])).toMatchObject({ pairOhm: 120, verdict: 'too-few' });
    expect(termination([120, 120, 120]).verdict).toBe('too-many');
    expect(termination([120, 120, 120]).pairOhm).toBeCloseTo(40, 9);
    expect(termination([]).pairOhm).toBe(Infinity);
    expect(termination([120, 220]).verdict).toBe('wrong-value');
  });

  it('equipment makers: 500 kbit/s 100 m, 250 kbit/s 250 m, 125 kbit/s 500 m, 1 Mbit/s 25 m at the short end', () => {
    expect([500_000, 250_000, 125_000, 1_000_000].map((rate) => canLengthLimits(rate).busM)).toEqual([
      100, 250, 500, 25,
    ]);
    expect(canLengthLimits(1_000_000).stubM).toBe(0.3);
  });

  it('never allows a longer bus at a higher bit rate', () => {
    const rates = [50, 83.333, 125, 200, 250, 333, 500, 667, 800, 1000, 2000].map((kilo) => kilo * 1000);
    const lengths = rates.map((rate) => canLengthLimits(rate).busM);
    expect(lengths).toEqual([...lengths].sort((a, b) => b - a));
  });
});
