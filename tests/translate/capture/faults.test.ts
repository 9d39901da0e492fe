// Each kind of fault, planted alone into a clean recording of the sample map: it is found, and nothing else is.
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { applyChecksum, compileField, insertRaw } from '../../../src/can/index.ts';
import type { Pairing, Signal } from '../../../src/model/index.ts';
import {
  type CaptureReport,
  type MismatchKind,
  busNames,
  frameLogReader,
  wireLogReader,
} from '../../../src/translate/index.ts';
import { samplePairing } from '../../export/spec-tables.ts';
import { type LogEvent } from '../random-log.ts';
import { type Recorded, record, verify } from './recording.ts';

const sample = samplePairing();
const UNTIL = 12_000_000;

/** The first seconds of the sample drive: idle, and driving away. */
function drive(pairing: Pairing): readonly LogEvent[] {
  const text = (name: string): string =>
    readFileSync(resolve(import.meta.dirname, '../../../sample-maps/logs', name), 'utf8');
  const names = busNames(pairing, ['can0=host:chassis-can', 'can1=donor:powertrain-can', 'can2=host:body-can']);
  const frames = frameLogReader(names);
  const levels = wireLogReader(pairing);
  return [...levels.push(text('drive-wires.csv')), ...levels.end(), ...frames.push(text('drive.log')), ...frames.end()]
    .filter(
      (event): event is LogEvent & typeof event =>
        event.timeUs < UNTIL && (event.kind === 'frame' || event.level.kind !== 'open'),
    )
    .map((event, at) => ({ event, at }))
    .sort((a, b) => a.event.timeUs - b.event.timeUs || a.at - b.at)
    .map(({ event }) => event);
}

const traffic = drive(sample);
const clean = record(sample, traffic, { startUs: 0, untilUs: UNTIL });

type Frame = Extract<Recorded, { kind: 'frame' }>;

const sentAs = (message: string): readonly Frame[] =>
  clean.filter((event): event is Frame => event.kind === 'frame' && event.sent === message);

function signalOf(ref: string): Signal {
  const end = sample.find(ref);
  if (end?.kind !== 'signal') throw new Error(`${ref} is no signal`);
  return end.signal;
}

/** The recording with one event replaced, doubled or left out (null); in order of time again. */
function planted(change: (event: Recorded) => Recorded | readonly Recorded[] | null): readonly Recorded[] {
  return clean
    .flatMap((event): readonly Recorded[] => {
      const changed = change(event);
      return changed === null ? [] : 'kind' in changed ? [changed] : changed;
    })
    .map((event, at) => ({ event, at }))
    .sort((a, b) => a.event.timeUs - b.event.timeUs || a.at - b.at)
    .map(({ event }) => event);
}

function kinds({ totals }: CaptureReport): Partial<Record<MismatchKind, number>> {
  return Object.fromEntries(Object.entries(totals).filter(([, count]) => count > 0));
}

const changed = (frame: Frame, change: (data: Uint8Array) => void): Frame => {
  const data = frame.data.slice();
  change(data);
  return { ...frame, data };
};

/** The frame with some bits of one field turned over. */
const flipped = (frame: Frame, bits: Signal['bits'], mask: number): Frame =>
  changed(frame, (data) => {
    const { read, write } = compileField(bits, 'unsigned');
    write(data, Number(read(data)) ^ mask);
  });

describe('a clean recording', () => {
  it('verifies, and most of it is judged', () => {
    const report = verify(sample, clean);
    expect(report.mismatches).toEqual([]);
    expect(report.unheard).toEqual([]);
    const judged = report.routes.filter((route) => route.judged > 0);
    expect(judged.length).toBeGreaterThan(report.routes.length * 0.65);
  });
  it('verifies from the middle on', () => {
    const from = 4_345_678;
    const report = verify(
      sample,
      clean.filter(({ timeUs }) => timeUs >= from),
    );
    expect(report.mismatches).toEqual([]);
  });
  it('verifies where the recording lacks a source frame here and there', () => {
    let at = 0;
    const thinned = clean.filter((event) => event.kind === 'wire' || event.sent !== null || (at += 1) % 97 !== 0);
    expect(verify(sample, thinned).mismatches).toEqual([]);
  });
});

describe('planted faults', () => {
  it('one frame delayed', () => {
    const frame = sentAs('host:EngineGauges')[5]!;
    const report = verify(
      sample,
      planted((event) => (event === frame ? { ...frame, timeUs: frame.timeUs + 60_000 } : event)),
    );
    expect(kinds(report)).toEqual({ late: 1 });
    expect(report.mismatches[0]).toMatchObject({ subject: 'host:EngineGauges', timeUs: frame.timeUs + 60_000 });
  });
  it('three frames dropped', () => {
    const frames: readonly Recorded[] = sentAs('host:Tachometer').slice(20, 23);
    const report = verify(
      sample,
      planted((event) => (frames.includes(event) ? null : event)),
    );
    expect(kinds(report)).toEqual({ missing: 3 });
    expect(report.messages.find(({ message }) => message === 'host:Tachometer')!.missing).toBe(3);
  });
  it('one bit of one field changed in one frame', () => {
    const frame = sentAs('host:EngineGauges')[40]!;
    const { bits } = signalOf('host:EngineGauges.CoolantTemp');
    const report = verify(
      sample,
      planted((event) => (event === frame ? flipped(frame, bits, 0x20) : event)),
    );
    expect(kinds(report)).toEqual({ wrong: 1 });
    expect(report.mismatches[0]).toMatchObject({ timeUs: frame.timeUs, route: 'gauge-coolant' });
  });
  it.each([
    ['a filtered value far from all that went in', 'host:EngineGauges.OilPressure', 'gauge-oil-pressure', 0x40],
    ['a debounced state against an input that stands still', 'host:EngineLamps.OilLevelLow', 'lamp-oil-level', 1],
    ['a delayed state against one that does not change', 'host:TransStatus2.ReverseEngaged', 'reverse-status', 1],
  ])('steps in time: %s', (_title, ref, route, flip) => {
    const message = ref.slice(0, ref.lastIndexOf('.'));
    const frame = sentAs(message).at(-30)!;
    const { bits } = signalOf(ref);
    const report = verify(
      sample,
      planted((event) => (event === frame ? flipped(frame, bits, flip) : event)),
    );
    expect(report.mismatches.filter(({ kind }) => kind !== 'checksum')).toMatchObject([
      { kind: 'wrong', timeUs: frame.timeUs, route },
    ]);
  });
  it('another factor: every value of the route is wrong, and only of it', () => {
    const { bits } = signalOf('host:EngineGauges.BatteryVolts');
    const report = verify(
      sample,
      planted((event) =>
        event.kind === 'frame' && event.sent === 'host:EngineGauges'
          ? changed(event, (data) => {
              const { read, write } = compileField(bits, 'unsigned');
              const raw = Number(read(data));
              if (raw < 250) write(data, Math.round(raw * 0.9));
            })
          : event,
      ),
    );
    expect(Object.keys(kinds(report))).toEqual(['wrong']);
    expect(new Set(report.mismatches.map(({ route }) => route))).toEqual(new Set(['gauge-voltage']));
    expect(report.totals.wrong).toBeGreaterThan(50);
  });
  it('a counter taken over from the source', () => {
    const transmit = sample.map.transmits.find(({ message }) => message === 'host:EngineStatus1')!;
    const counter = signalOf(`host:EngineStatus1.${transmit.protection!.counter!}`);
    const checksum = signalOf(`host:EngineStatus1.${transmit.protection!.checksum!}`);
    let at = 0;
    const report = verify(
      sample,
      planted((event) =>
        event.kind === 'frame' && event.sent === 'host:EngineStatus1'
          ? changed(event, (data) => {
              // Another sender's counter jumps where the two cadences part.
              at += 1;
              insertRaw(data, counter.bits, BigInt((at + Math.floor(at / 50)) % 16));
              const { algorithm, dataId, dataIdAt } = transmit.protection!;
              if (algorithm === undefined || algorithm === 'unknown') throw new Error('no algorithm');
              applyChecksum(
                data,
                { algorithm, ...(dataId === undefined ? {} : { dataId }), ...(dataIdAt ? { dataIdAt } : {}) },
                checksum.bits,
              );
            })
          : event,
      ),
    );
    expect(Object.keys(kinds(report))).toEqual(['counter']);
    expect(report.totals.counter).toBe(Math.floor(sentAs('host:EngineStatus1').length / 50));
  });
  it('a wrong checksum', () => {
    const frame = sentAs('host:EngineStatus1')[100]!;
    const { protection } = sample.map.transmits.find(({ message }) => message === 'host:EngineStatus1')!;
    const { bits } = signalOf(`host:EngineStatus1.${protection!.checksum!}`);
    const report = verify(
      sample,
      planted((event) => (event === frame ? flipped(frame, bits, 1) : event)),
    );
    expect(kinds(report)).toEqual({ checksum: 1 });
  });
  it('an id that nobody sends', () => {
    const frame = sentAs('host:EngineGauges')[7]!;
    const stray: Frame = { ...frame, sent: null, frameId: 0x7a1, timeUs: frame.timeUs + 1_234 };
    const report = verify(
      sample,
      planted((event) => (event === frame ? [frame, stray] : event)),
    );
    expect(kinds(report)).toEqual({ extra: 1 });
    expect(report.mismatches[0]).toMatchObject({ subject: `${frame.bus} 0x7A1` });
  });
  it('a frame sent twice', () => {
    const frame = sentAs('host:EngineLamps')[7]!;
    const report = verify(
      sample,
      planted((event) => (event === frame ? [frame, { ...frame, timeUs: frame.timeUs + 20_000 }] : event)),
    );
    expect(kinds(report)).toEqual({ extra: 1 });
  });
  it('the last value held after the source is lost', () => {
    const lostAt = 6_000_000;
    const without = traffic.filter(
      (event) => event.kind === 'wire' || event.timeUs < lostAt || !isMessage(event, 'donor:EngineTemps'),
    );
    const recording = record(sample, without, { startUs: 0, untilUs: UNTIL });
    expect(verify(sample, recording).mismatches).toEqual([]);
    const { bits } = signalOf('host:EngineGauges.CoolantTemp');
    const { read, write } = compileField(bits, 'unsigned');
    let held: number | bigint = 0;
    const report = verify(
      sample,
      recording.map((event) => {
        if (event.kind !== 'frame' || event.sent !== 'host:EngineGauges') return event;
        if (event.timeUs < lostAt) held = read(event.data);
        return event.timeUs < lostAt ? event : changed(event, (data) => write(data, held));
      }),
    );
    expect(Object.keys(kinds(report))).toEqual(['wrong']);
    expect(new Set(report.mismatches.map(({ route }) => route))).toEqual(new Set(['gauge-coolant']));
    expect(report.mismatches[0]!.expected).toContain('not available');
    // Lost a second after its last frame: nearly all of the last five seconds at ten frames a second.
    expect(report.totals.wrong).toBeGreaterThan(40);
  });
});

function isMessage(event: Extract<LogEvent, { kind: 'frame' }>, ref: string): boolean {
  const end = sample.find(ref);
  return (
    end?.kind === 'message' &&
    Number(end.message.frameId) === event.frameId &&
    event.bus === `${end.side}:${end.message.bus}`
  );
}
