import { describe, expect, it } from 'vitest';
import { deriveCircuits } from '../../src/model/index.ts';
import { feedLoads, fuseCoordination, type FeedLoad } from '../../src/wiring/index.ts';
import { smallPairing } from './small-pairing.ts';

const feeds = [
  { id: 'B1', kind: 'battery', fuseA: 60, loadA: 0 },
  { id: 'R1', kind: 'ignition', fuseA: 20, from: 'B1', loadA: 6 },
  { id: 'R2', kind: 'accessory', fuseA: 30, from: 'B1', loadA: 10 },
  { id: 'F12', kind: 'ignition', fuseA: 10, from: 'R1', loadA: 3, at: { connector: 'C9', cavity: '3' } },
  { id: 'F14', kind: 'battery', fuseA: 20, loadA: 1, at: { connector: 'C9', cavity: '5' } },
];
const pairing = smallPairing({}, { feeds });
const loads = feedLoads(pairing, deriveCircuits(pairing));
const find = (ref: string): FeedLoad => loads.find((load) => load.ref === ref)!;

describe('loads along the feed tree', () => {
  it('add what the map puts on a feed to what stays on it, and hand the sum upwards', () => {
    // Added by hand: module 1.5 A and coil 12 V / 90 Ω on F12, lamps 3.5 A on F14.
    const added = 1.5 + 12 / 90;
    expect(find('host:F12').loadA).toEqual({ off: 0, accessory: 0, run: 3 + added, start: 3 + added });
    expect(find('host:R1').loadA.run).toBeCloseTo(6 + 3 + added, 9);
    expect(find('host:F14').loadA.off).toBeCloseTo(4.5, 9);
  });

  it('count each feed only in the key states in which it is live', () => {
    const { loadA } = find('host:B1');
    expect(loadA.off).toBe(0);
    expect(loadA.accessory).toBeCloseTo(10, 9);
    expect(loadA.run).toBeCloseTo(10 + 9 + 1.5 + 12 / 90, 9);
    expect(loadA.start).toBeCloseTo(9 + 1.5 + 12 / 90, 9);
  });

  it('name a feed over its continuous share and over its rating', () => {
    const verdict = (fuseA: number | null) => {
      const changed = feeds.map((feed) => (feed.id === 'F14' ? { ...feed, fuseA } : feed));
      const other = smallPairing({}, { feeds: changed });
      return feedLoads(other, deriveCircuits(other)).find(({ ref }) => ref === 'host:F14')!.verdict;
    };
    expect([20, 5, 4, null].map(verdict)).toEqual(['within', 'over-continuous', 'over-rating', 'unknown']);
  });

  it('survive feeds that hang on each other in a circle', () => {
    const circle = [
      { id: 'a', kind: 'battery', fuseA: 10, from: 'b', loadA: 1 },
      { id: 'b', kind: 'battery', fuseA: 10, from: 'a', loadA: 1 },
    ];
    const other = smallPairing({}, { feeds: circle });
    expect(feedLoads(other, []).map(({ ref }) => ref)).toEqual(expect.arrayContaining(['host:a', 'host:b']));
  });
});

it('two fuses in line are selective from 3 to 1 by their time gates, and inverted when the later is no smaller', () => {
  expect(fuseCoordination(loads).map(({ upstream, downstream, verdict }) => [upstream, downstream, verdict])).toEqual([
    ['host:B1', 'host:R1', 'selective'],
    ['host:B1', 'host:R2', 'larger'],
    ['host:R1', 'host:F12', 'larger'],
  ]);
  const turned = feeds.map((feed) => (feed.id === 'R1' ? { ...feed, fuseA: 10 } : feed));
  const other = smallPairing({}, { feeds: turned });
  expect(fuseCoordination(feedLoads(other, [])).find(({ upstream }) => upstream === 'host:R1')!.verdict).toBe(
    'inverted',
  );
});
