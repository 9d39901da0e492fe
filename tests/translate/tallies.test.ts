/** What a replay tells of each route: counted here by hand, sample by sample. */
import { describe, expect, it } from 'vitest';
import type { Route, Signal } from '../../src/model/index.ts';
import { createReplay, type RouteTally, tallySamples } from '../../src/translate/index.ts';
import { benchPairing, message, signal, wire } from './bench-pairing.ts';

const MS = 1000;
const speed = (id: string, more: Partial<Signal> = {}): Signal =>
  signal({
    id,
    bits: { start: 0, length: 8, order: 'little' },
    unit: 'km/h',
    range: [0, 254],
    notAvailable: [255],
    ...more,
  });

function tallied(
  routes: Route[],
  play: (frame: (id: number, ms: number, value: number) => void) => number,
  target: Signal = speed('V'),
): readonly RouteTally[] {
  const pairing = benchPairing({
    donor: {
      messages: [
        message({ id: 'A', frameId: '0x100', length: 1 }, [speed('S')]),
        message({ id: 'B', frameId: '0x101', length: 1 }, [speed('S')]),
      ],
      wires: [wire({ id: 'w' })],
    },
    host: { messages: [message({ id: 'T', frameId: '0x200', length: 1 }, [target])], wires: [wire({ id: 'lamp' })] },
    transmits: [{ message: 'host:T', by: 'xm', port: 'A', cycleMs: 20 }],
    routes,
  });
  const tallies = tallySamples(() => replay.plans);
  const replay = createReplay(pairing, { startUs: 0, output: () => undefined, sample: tallies.sample });
  expect(replay.refused).toEqual([]);
  const endMs = play((frameId, ms, value) =>
    replay.onFrame({ timeUs: ms * MS, bus: 'donor:bus', frameId, extended: false, data: Uint8Array.of(value) }),
  );
  replay.advanceTo(endMs * MS);
  return tallies.upTo(endMs * MS);
}

const route = (more: Partial<Route>): Route => ({
  id: 'r',
  from: ['donor:A.S'],
  to: 'host:T.V',
  carrier: 'interface',
  by: 'xm',
  staleAfterMs: 50,
  onLoss: { do: 'substitute', notAvailable: true },
  ...more,
});

describe('the tally of a route', () => {
  it('tells values, no value, nothing yet and loss apart, and how long it was lost', () => {
    // Sent at 0, 20, 40 … ms. Nothing until 30; a value at 30 and 50; "not available" at 70; silence; lost after 120; back at 250.
    const [tally] = tallied([route({})], (frame) => {
      frame(0x100, 30, 10);
      frame(0x100, 50, 20);
      frame(0x100, 70, 255);
      frame(0x100, 250, 30);
      return 290;
    });
    expect(tally).toEqual({
      route: 'r',
      by: 'xm',
      // 0 … 280.
      samples: 15,
      // 40, 60; 260, 280.
      values: 4,
      // 80, 100, 120.
      notAvailable: 3,
      error: 0,
      // 140 … 240.
      lost: 6,
      // 0, 20.
      notYet: 2,
      losses: 1,
      // Found lost at 140, a value again at 260.
      lostUs: 120 * MS,
      firstLostUs: 140 * MS,
      clipped: null,
    });
  });

  it('counts a loss up to the end', () => {
    const [tally] = tallied([route({})], (frame) => {
      frame(0x100, 0, 10);
      return 200;
    });
    // Lost at 60, the end is 200.
    expect(tally).toMatchObject({ losses: 1, lostUs: 140 * MS, lost: 8 });
  });

  it('counts values at an end of the target beyond which the source goes', () => {
    const [tally] = tallied(
      [route({})],
      (frame) => {
        [10, 199, 200, 201, 254, 50].forEach((value, index) => frame(0x100, 10 + 20 * index, value));
        return 120;
      },
      speed('V', { range: [0, 200] }),
    );
    // 200, and 201 and 254 cut to it; 20 ms apart, sent at 20, 40 … 120.
    expect(tally).toMatchObject({ values: 6, clipped: 3 });
  });

  it('tells of a route also while its backup stands in', () => {
    const tallies = tallied([route({}), route({ id: 'b', from: ['donor:B.S'], backupOf: 'r' })], (frame) => {
      frame(0x100, 0, 10);
      for (let ms = 0; ms < 200; ms += 10) frame(0x101, ms, 20);
      return 200;
    });
    const [first, backup] = tallies;
    // The first has a value at 0 (seen at the tick of 20), 20 and 40, and is lost from 60 to 200.
    expect(first).toMatchObject({ route: 'r', lost: 8, losses: 1, lostUs: 140 * MS });
    expect(backup).toMatchObject({ route: 'b', values: 8, lost: 0, losses: 0 });
  });

  it('knows only routes of the plans', () => {
    const { sample, upTo } = tallySamples(() => []);
    sample({ route: '__proto__', timeUs: 0, raw: 1, state: 'value' });
    expect(upTo(0)).toEqual([]);
  });
});
