import { describe, expect, it } from 'vitest';
import {
  replayLogs,
  type LogText,
  type ReplayWatch,
} from '../../../src/workbench/places/bench/recording/log-replay.ts';
import { openRecording } from '../../../src/workbench/places/bench/recording/open-recording.ts';
import { signal } from '../../translate/bench-pairing.ts';
import { sentRoute } from './sent-route.ts';

const pairing = sentRoute(signal({ id: 'S', factor: 2, unit: 'km/h' }), signal({ id: 'T', unit: 'km/h' }), {
  staleAfterMs: 50,
});
const build = pairing.options.combinations[0] ?? new Map<string, string>();

function line(ms: number, value: number): string {
  const hex = value.toString(16).toUpperCase().padStart(2, '0');
  return `(${(100 + ms / 1000).toFixed(6)}) donor:bus 100#${hex}00000000000000\n`;
}

/** A log whose text comes in pieces of so many characters. */
function logOf(name: string, text: string, piece = 37): LogText {
  async function* chunks(): AsyncGenerator<Uint8Array> {
    for (let at = 0; at < text.length; at += piece) yield new TextEncoder().encode(text.slice(at, at + piece));
  }
  return { name, bytes: text.length, chunks: chunks() };
}

function watch(part: Partial<ReplayWatch> = {}): ReplayWatch & { readonly told: number[] } {
  const told: number[] = [];
  let now = 0;
  return {
    told,
    stopped: () => false,
    progress: (fraction) => told.push(fraction),
    breathe: () => Promise.resolve(),
    // Every look at the clock finds it a second later: each run is a turn of its own.
    nowMs: () => (now += 1000),
    ...part,
  };
}

const text = Array.from({ length: 200 }, (_, at) => line(at * 10, at % 100)).join('');
const replay = (logs: readonly LogText[], ports: ReplayWatch = watch(), most?: number) =>
  replayLogs(pairing, build, [], logs, ports, most === undefined ? {} : { mostBytes: most });

describe('replaying logs', () => {
  it('reads a log in pieces of any size to the same recording, and tells how far it is', async () => {
    const ports = watch();
    const whole = await replay([logOf('whole', text, text.length)]);
    const cut = await replay([logOf('cut', text)], ports);
    expect(cut.cutShort).toBeNull();
    expect(cut.recording.counts).toEqual(whole.recording.counts);
    expect(cut.recording.counts.framesIn).toBe(200);
    expect(cut.recording.sources.get('donor:M.S')!.values.view()).toEqual(
      whole.recording.sources.get('donor:M.S')!.values.view(),
    );
    expect(ports.told.length).toBeGreaterThan(10);
    expect(ports.told).toEqual(ports.told.toSorted((a, b) => a - b));
    expect(ports.told.at(-1)).toBeLessThanOrEqual(1);
  });

  it('merges logs that were recorded together by time', async () => {
    const lines = text.trimEnd().split('\n');
    const even = lines.filter((_, at) => at % 2 === 0).join('\n');
    const odd = lines.filter((_, at) => at % 2 === 1).join('\n');
    const { recording } = await replay([logOf('even', even), logOf('odd', odd)]);
    const values = [...recording.sources.get('donor:M.S')!.values.view()];
    expect(values).toEqual(Array.from({ length: 200 }, (_, at) => at % 100));
  });

  it('keeps what there is when it is stopped, or when its memory is full', async () => {
    let looks = 0;
    const stopped = await replay([logOf('stopped', text)], watch({ stopped: () => (looks += 1) > 20 }));
    expect(stopped.cutShort).toBe('stopped');
    expect(stopped.recording.counts.framesIn).toBeGreaterThan(0);
    expect(stopped.recording.counts.framesIn).toBeLessThan(200);
    const full = await replay([logOf('full', text)], watch(), 1);
    expect(full.cutShort).toBe('full');
  });

  it('tells lines that are none, and interfaces that stand for no bus', async () => {
    const replayed = await replay([
      logOf('odd.log', `${line(0, 5)}no frame\n(100.020000) can9 100#0100000000000000\n`),
    ]);
    const { logs, framesIn } = openRecording(replayed).summary(1);
    expect(framesIn).toBe(1);
    expect(logs[0]).toMatchObject({ name: 'odd.log', bad: 1, unmapped: [['can9', 1]] });
    expect(logs[0]!.faults[0]).toMatch(/^odd\.log:2:\d+: /);
  });
});

describe('a recording looked at', () => {
  it('gives a route at a moment in words and figures', async () => {
    const replayed = await replay([logOf('log', text)]);
    const open = openRecording(replayed);
    // The frame of 500 ms holds 50 counts of 2 km/h; it is sent on at the same tick.
    const { routes, frame } = open.moment(100_505_000, null, ['r']);
    expect(routes[0]).toMatchObject({
      route: 'r',
      state: 'value',
      delivered: '100 km/h',
      target: '100 km/h',
      raw: '100',
      clip: 'none',
      sources: [{ ref: 'donor:M.S', value: '100 km/h', raw: '50', state: 'fresh', ageMs: 5 }],
    });
    expect(frame).toMatchObject({ ref: 'host:T', by: 'xm', frameId: '0x200', hex: '64 00 00 00 00 00 00 00' });
    const before = open.step(100_505_000, frame!.place, -1, ['r']);
    expect(before.frame).toMatchObject({ ref: 'donor:M', by: null, hex: '32 00 00 00 00 00 00 00' });
  });

  it('finds where clipping begins and ends', async () => {
    // 255 is the most the target holds: from 128 counts on, 256 km/h and more, the value is held there.
    const rising = Array.from({ length: 60 }, (_, at) => line(at * 10, 100 + at)).join('');
    const open = openRecording(await replay([logOf('rising', rising)]));
    const turned = open.turn(100_100_000, 1, ['r']);
    expect(turned.timeUs).toBe(100_280_000);
    expect(turned.routes[0]).toMatchObject({ clip: 'high', raw: '255' });
    expect(open.turn(turned.timeUs, -1, ['r']).timeUs).toBeLessThan(100_280_000);
    const { points } = open.lanes(['r'], { fromUs: 100_000_000, toUs: 100_590_000, columns: 59 });
    expect(points[0]!.clips).toEqual([{ fromUs: 100_280_000, toUs: 100_590_000, kind: 2 }]);
  });
});
