/**
 * The logs of the sample drive, and what the sample map makes of them. Expectations are worked out here from the text of the logs by
 * plain arithmetic on bytes (layouts as the platforms give them, written out below) and from the moments of the drive; nothing of the
 * project's codec, units or routes is used for them. CRC-8/SAE-J1850: polynomial 0x1D, initial and final 0xFF, check value 0x4B
 * (catalogue of parametrised CRC algorithms).
 */
import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { sampleLogs } from '../../src/cli/sample-drive/index.ts';
import { pair, readMap, readPlatform, type ReadResult } from '../../src/model/index.ts';
import {
  busNames,
  createReplay,
  frameLogReader,
  mergeLogs,
  playLog,
  type ReplayOutput,
  type RouteTally,
  tallySamples,
  wireLogReader,
} from '../../src/translate/index.ts';

const textOf = (name: string): string => readFileSync(new URL(`../../sample-maps/${name}`, import.meta.url), 'utf8');
const texts = {
  map: textOf('ft6-orrin32.map.json'),
  host: textOf('halden-ft6.platform.json'),
  donor: textOf('orrin-32.platform.json'),
};
const frameText = textOf('logs/drive.log');
const wireText = textOf('logs/drive-wires.csv');

interface Frame {
  /** Microseconds. */
  readonly t: number;
  readonly d: Uint8Array;
}
interface Level {
  readonly t: number;
  readonly value: string;
}

/** What went in, from the text of the log alone. */
function framesOf(name: string, id: string): Frame[] {
  return [...frameText.matchAll(new RegExp(`^\\((\\d+)\\.(\\d{6})\\) ${name} ${id}#([0-9A-F]+)$`, 'gm'))].map(([, s, us, hex]) => ({
    t: Number(s) * 1e6 + Number(us),
    d: Uint8Array.from(Buffer.from(hex!, 'hex')),
  }));
}

/** What the interface module hears: it starts 30 ms after the first event, which is at 0 s in the table of wire levels. */
function heard(name: string, id: string): Frame[] {
  return framesOf(name, id).filter(({ t }) => t >= START);
}

const out = new Map<string, Frame[]>();
const levels = new Map<string, Level[]>();
let routes: readonly RouteTally[] = [];

function documentOf<T>(read: ReadResult<T>): T {
  if (!read.ok) throw new Error('a document of the sample cannot be read');
  return read.document;
}

async function* pieces(text: string): AsyncGenerator<string> {
  for (let at = 0; at < text.length; at += 10_007) yield await Promise.resolve(text.slice(at, at + 10_007));
}

beforeAll(async () => {
  const pairing = pair(documentOf(readMap(texts.map)), documentOf(readPlatform(texts.host)), documentOf(readPlatform(texts.donor)));
  const names = busNames(pairing, ['can0=host:chassis-can', 'can1=donor:powertrain-can', 'can2=host:body-can']);
  const output = (event: ReplayOutput): void => {
    if (event.kind === 'frame') {
      const key = `${event.bus} ${event.frameId.toString(16).toUpperCase()}`;
      listIn(out, key).push({ t: event.timeUs, d: event.data.slice() });
      return;
    }
    const { level } = event;
    const value =
      level.kind === 'open' ? 'open' : level.kind === 'switched' ? String(level.active) : String(level.thousandths);
    listIn(levels, event.wire).push({ t: event.timeUs, value });
  };
  const tallies = tallySamples(() => replay.plans);
  const replay = createReplay(pairing, { output, sample: tallies.sample });
  const player = playLog(replay, () => Promise.resolve(true));
  const frames = frameLogReader(names);
  const wires = wireLogReader(pairing);
  const sources = [
    { name: 'drive.log', reader: frames, chunks: pieces(frameText) },
    { name: 'drive-wires.csv', reader: wires, chunks: pieces(wireText) },
  ];
  for await (const events of mergeLogs(sources)) await player.play(events);
  await player.end();
  expect([frames.report.bad, wires.report.bad, frames.report.unmapped.size]).toEqual([0, 0, 0]);
  expect(replay.refused).toEqual([]);
  expect(wires.report.firstUs).toBe(0);
  routes = tallies.upTo(player.nowUs!);
});

function listIn<T>(lists: Map<string, T[]>, key: string): T[] {
  const known = lists.get(key);
  if (known !== undefined) return known;
  const list: T[] = [];
  lists.set(key, list);
  return list;
}

const MS = 1000;
/** From a tick of the interface module to what leaves it; ticks are 5 ms apart, the first 30 ms after the first event (the map). */
const LATENCY = 1 * MS;
const PERIOD = 5 * MS;
const START = 30 * MS;
/** Moments of the drive, from its plan: see EVENTS_MS of the generator. */
const at = (seconds: number): number => seconds * 1e6;
const DROPOUT = at(42);
const RECOVERY = at(43.5);

/** The last of a list at or before a moment. */
function latest(list: readonly Frame[], moment: number): Frame | undefined {
  let lo = 0;
  let hi = list.length;
  while (lo < hi) {
    const middle = (lo + hi) >> 1;
    if (list[middle]!.t <= moment) lo = middle + 1;
    else hi = middle;
  }
  return list[lo - 1];
}

const sent = (key: string): readonly Frame[] => out.get(key)!;
const little16 = ({ d }: Frame, byte: number): number => d[byte]! | (d[byte + 1]! << 8);
/** EngineStatus1: 16 bits after the counter's nibble of byte 1, most significant first. */
const engineStatusRpm = ({ d }: Frame): number => ((d[1]! & 0xf) << 12) | (d[2]! << 4) | (d[3]! >> 4);
const changes = (values: readonly number[]): number[] => values.filter((value, index) => value !== values[index - 1]);

describe('the logs of the drive', () => {
  it('are what their script makes of its seeds, byte for byte', () => {
    const made = new Map(sampleLogs(texts).map(({ path, content }) => [path, content]));
    expect([...made.keys()]).toEqual(['sample-maps/logs/drive.log', 'sample-maps/logs/drive-wires.csv']);
    expect(made.get('sample-maps/logs/drive.log') === frameText, 'drive.log is stale: run npm run generate').toBe(true);
    expect(made.get('sample-maps/logs/drive-wires.csv') === wireText, 'drive-wires.csv is stale: run npm run generate').toBe(true);
  });

  it('hold frames in order, at the cadence of their messages', () => {
    const times = [...frameText.matchAll(/^\((\d+)\.(\d{6})\)/gm)].map(([, s, us]) => Number(s) * 1e6 + Number(us));
    expect(times.every((time, index) => index === 0 || time >= times[index - 1]!)).toBe(true);
    for (const [name, id, cycleMs] of [
      ['can1', '0CF01000', 10],
      ['can0', '0B8', 10],
      ['can1', '0CF03103', 20],
      ['can2', '420', 100],
    ] as const) {
      const list = framesOf(name, id).filter(({ t }) => t < DROPOUT - at(0.2) || t > RECOVERY + at(0.2));
      const steps = list.slice(1).map(({ t }, index) => t - list[index]!.t).filter((step) => step < at(1));
      expect(Math.max(...steps), id).toBeLessThan(cycleMs * MS + 500);
      expect(Math.min(...steps), id).toBeGreaterThan(cycleMs * MS - 500);
    }
  });
});

describe('engine speed on the chassis network', () => {
  const source = heard('can1', '0CF01000');

  it('is the value last received, from 0.125 to 0.25 rev/min a step, halves away from zero', () => {
    let compared = 0;
    for (const frame of sent('host:chassis-can C0')) {
      const tick = frame.t - LATENCY;
      const from = latest(source, tick);
      if (from === undefined || (tick >= DROPOUT && tick < RECOVERY + at(0.1))) continue;
      compared += 1;
      expect(engineStatusRpm(frame)).toBe(Math.floor((little16(from, 0) + 1) / 2));
    }
    expect(compared).toBeGreaterThan(5500);
  });

  it('is 700 rev/min at idle, within a step', () => {
    const idle = sent('host:chassis-can C0').filter(({ t }) => t > at(3.6) && t < at(9));
    expect(idle.length).toBeGreaterThan(500);
    for (const frame of idle) expect(Math.abs(engineStatusRpm(frame) * 0.25 - 700)).toBeLessThanOrEqual(0.25);
  });

  it('goes out every 10 ms with a count of its own and a checksum that holds', () => {
    expect(crc8J1850(Buffer.from('123456789'))).toBe(0x4b);
    const list = sent('host:chassis-can C0');
    list.forEach(({ t, d }, index) => {
      if (index > 0) {
        expect(t - list[index - 1]!.t).toBe(10 * MS);
        expect(d[1]! >> 4).toBe(((list[index - 1]!.d[1]! >> 4) + 1) % 16);
      }
      // All bytes but the checksum's, then the data id 0x00C0, low byte alone as it is below 256.
      expect(d[0]).toBe(crc8J1850(Uint8Array.of(...d.slice(1), 0xc0)));
    });
  });

  it('is not available from 50 ms after the last frame of the dropout until the third good frame after it', () => {
    const lastBefore = source.filter(({ t }) => t < DROPOUT).at(-1)!;
    const thirdAfter = source.filter(({ t }) => t >= RECOVERY)[2]!;
    expect(source.some(({ t }) => t >= DROPOUT && t < RECOVERY)).toBe(false);
    const held = Math.floor((little16(lastBefore, 0) + 1) / 2);
    let lost = 0;
    for (const frame of sent('host:chassis-can C0')) {
      const tick = frame.t - LATENCY;
      if (tick <= lastBefore.t || tick >= thirdAfter.t) continue;
      const raw = engineStatusRpm(frame);
      if (tick - lastBefore.t <= 50 * MS) expect(raw).toBe(held);
      else {
        lost += 1;
        expect(raw).toBe(0xffff);
      }
    }
    // 43.52 s less 42.04 s, in frames of 10 ms.
    expect(lost).toBeGreaterThanOrEqual(147);
    expect(lost).toBeLessThanOrEqual(149);
    const back = sent('host:chassis-can C0').find(({ t }) => t - LATENCY >= thirdAfter.t)!;
    expect(back.t - LATENCY - thirdAfter.t).toBeLessThan(2 * PERIOD);
    expect(engineStatusRpm(back)).toBe(Math.floor((little16(thirdAfter, 0) + 1) / 2));
    const tally = routes.find(({ route }) => route === 'engine-speed')!;
    expect([tally.lost, tally.losses]).toEqual([lost, 1]);
    expect(Math.abs(tally.lostUs - lost * 10 * MS)).toBeLessThanOrEqual(10 * MS);
  });

  it('is shown by the tachometer in steps of 8 rev/min', () => {
    for (const frame of sent('host:body-can 308')) {
      const tick = frame.t - LATENCY;
      const from = latest(source, tick);
      if (from === undefined || (tick >= DROPOUT && tick < RECOVERY + at(0.1))) continue;
      // 0.125 / 8 is 1/64.
      expect(frame.d[0]! | ((frame.d[1]! & 3) << 8)).toBe(Math.floor((little16(from, 0) + 32) / 64));
    }
  });
});

describe('the rest of the drive', () => {
  it('coolant arrives in °F with an offset of 40', () => {
    const source = heard('can1', '18F02000');
    let compared = 0;
    for (const frame of sent('host:body-can 310')) {
      const tick = frame.t - LATENCY;
      const from = latest(source, tick);
      if (from === undefined || tick - from.t > at(1)) continue;
      const celsius = from.d[0]! - 40;
      expect(frame.d[0]! | ((frame.d[1]! & 1) << 8)).toBe(Math.round(celsius * 1.8 + 32 + 40));
      compared += 1;
    }
    expect(compared).toBeGreaterThan(500);
  });

  it('vehicle speed arrives in km/h, 1/256 a step', () => {
    // BrakeStatus1: 14 bits after the counter's nibble, most significant first, 0.02 mi/h a step.
    const source = heard('can0', '0B8');
    for (const frame of sent('donor:powertrain-can 8F0700B')) {
      const from = latest(source, frame.t - LATENCY);
      if (from === undefined) continue;
      const raw = ((from.d[1]! & 0xf) << 10) | (from.d[2]! << 2) | (from.d[3]! >> 6);
      // 0.02 · 1.609344 · 256 = 8.23984128, in whole numbers so that no half is missed.
      expect(little16(frame, 0)).toBe(Number((BigInt(raw) * 823_984_128n * 2n + 100_000_000n) / 200_000_000n));
    }
  });

  it('the air conditioning is asked for from 45 °F up and not below 40 °F, and cycles inside its band', () => {
    const source = heard('can2', '420');
    const asked: number[] = [];
    let on = false;
    let index = 0;
    for (const frame of sent('donor:powertrain-can 18F0B019')) {
      const tick = frame.t - LATENCY;
      // The band follows every tick: between two ticks at most one frame comes, so every frame counts.
      for (; index < source.length && source[index]!.t <= tick; index += 1) {
        const { d } = source[index]!;
        const fahrenheit = ((d[0]! >> 2) | ((d[1]! & 7) << 6)) * 0.5 - 40;
        if (fahrenheit >= 45) on = true;
        else if (fahrenheit < 40) on = false;
      }
      if (index === 0) continue;
      const wanted = (source[index - 1]!.d[0]! & 3) === 1;
      expect(frame.d[0]! & 3, `at ${frame.t}`).toBe(on && wanted ? 1 : 0);
      asked.push(frame.d[0]! & 3);
    }
    // From 12 s to 56 s, some 6 °F down at 1.6 °F/s and up at 2 °F/s: 6.7 s a cycle, after 8 s from 52 °F down.
    const starts = changes(asked).filter((value) => value === 1).length;
    expect(starts).toBeGreaterThanOrEqual(6);
    expect(starts).toBeLessThanOrEqual(7);
  });

  it('the range display follows lever and gears through the manual shifts, and is blank in the dropout', () => {
    const shown = changes(sent('host:body-can 330').map(({ d }) => d[0]! & 31));
    const [NOTHING_YET, BLANK, P, R, N, D, THIRD, FOURTH, FIFTH] = [31, 0, 1, 2, 3, 4, 13, 14, 15];
    expect(shown).toEqual([NOTHING_YET, P, R, N, D, THIRD, FOURTH, FIFTH, FOURTH, THIRD, BLANK, THIRD, D, P]);
  });

  it('the shift buttons reach the gearbox, each for as long as it is held', () => {
    const list = sent('donor:powertrain-can CF08113');
    const presses = (shift: number): number[] => {
      const starts: number[] = [];
      list.forEach(({ t, d }, index) => {
        const now = (d[1]! >> shift) & 3;
        if (now === 1 && ((list[index - 1]!.d[1]! >> shift) & 3) === 0) starts.push(t);
      });
      return starts;
    };
    for (const [shift, moments] of [
      [0, [32, 35]],
      [2, [38.5, 40]],
    ] as const) {
      const starts = presses(shift);
      expect(starts.length).toBe(2);
      // A cycle of the switches (20 ms, sent a while into it), and one of the buttons' message.
      starts.forEach((t, index) => {
        expect(t).toBeGreaterThan(at(moments[index]!));
        expect(t).toBeLessThan(at(moments[index]! + 0.07));
      });
    }
  });

  it('reverse is shown 150 ms after it is selected', () => {
    const source = heard('can1', '0CF03103');
    const selected = source.find(({ d }) => ((d[1]! >> 4) & 3) === 1)!;
    const shown = sent('host:chassis-can 1D0').find(({ d }) => ((d[2]! >> 2) & 3) === 1)!;
    const later = shown.t - LATENCY - selected.t;
    expect(later).toBeGreaterThanOrEqual(150 * MS);
    expect(later).toBeLessThanOrEqual(150 * MS + PERIOD + 20 * MS);
  });

  it('conductors from end to end carry what is on them, at once', () => {
    const from = (wire: string): Level[] =>
      wireText
        .split('\n')
        .map((line) => line.split(','))
        .filter(([, name]) => name === wire)
        .map(([time, , value]) => ({ t: Math.round(Number(time) * 1e6), value: value! }));
    const plain = (list: readonly Level[]): Level[] => list.map(({ t, value }) => ({ t, value: String(value === 'active') }));
    expect(levels.get('host:reverse-relay-coil')).toEqual(plain(from('donor:reverse-contact')));
    expect(levels.get('host:reverse-relay-coil')).toEqual([
      { t: 0, value: 'false' },
      { t: at(6), value: 'true' },
      { t: at(7), value: 'false' },
    ]);
    expect(levels.get('donor:brake-b-in')).toEqual(plain(from('host:brake-switch-b')));
    expect(levels.get('donor:pedal-1-in')).toEqual(
      from('host:pedal-track-1').map(({ t, value }) => ({ t, value: String(Math.round(Number(value.replace(' V', '')) * 1000)) })),
    );
  });

  it('the speed pulses are 8,000 a mile', () => {
    const source = heard('can0', '0B8');
    const list = levels.get('host:speed-pulse')!;
    expect(list.length).toBeGreaterThan(1000);
    for (const { t, value } of list) {
      const from = latest(source, t - LATENCY)!;
      const raw = ((from.d[1]! & 0xf) << 10) | (from.d[2]! << 2) | (from.d[3]! >> 6);
      // mHz: raw · 0.02 mi/h · 8000 / 3600 s.
      expect(Math.abs(Number(value) - (raw * 0.02 * 8000 * 1000) / 3600)).toBeLessThanOrEqual(0.5 + 1e-6);
    }
  });

  it('the interface module sends nothing before it has started', () => {
    for (const list of out.values()) expect(list[0]!.t).toBeGreaterThanOrEqual(START + LATENCY);
  });
});

function crc8J1850(bytes: Uint8Array): number {
  let crc = 0xff;
  for (const byte of bytes) {
    crc ^= byte;
    for (let bit = 0; bit < 8; bit += 1) crc = crc & 0x80 ? ((crc << 1) ^ 0x1d) & 0xff : (crc << 1) & 0xff;
  }
  return crc ^ 0xff;
}
