import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { contentOfDbc, readDbc } from '../../../src/can/index.ts';
import { readPlatform, type Message, type Platform, type Signal } from '../../../src/model/index.ts';
import { likelyProtection } from '../../../src/workbench/parts/frame-fields.ts';

const signal = (id: string, length: number, more: Partial<Signal> = {}): Signal => ({
  id,
  bits: { start: 0, length, order: 'little' },
  number: 'unsigned',
  factor: 1,
  offset: 0,
  unit: '',
  ...more,
});
const message = (id: string, signals: readonly Signal[]): Message => ({
  id,
  bus: 'b',
  frameId: '0x100',
  idFormat: 'standard',
  length: 8,
  sender: 'ecm',
  signals: [...signals],
});

describe('counters and checksums by name', () => {
  // Names as makers commonly give them (common practice).
  it.each([
    ['MsgCounter', 'Crc'],
    ['COUNTER', 'CHECKSUM'],
    ['AliveCounter', 'CRC8'],
    ['Rolling_Cnt', 'Chksum'],
    ['EngineStatus_Alive', 'EngineStatus_Crc'],
    ['Counter_EngineStatus', 'Checksum_EngineStatus'],
  ])('takes %s and %s', (counter, checksum) => {
    expect(likelyProtection(message('EngineStatus', [signal(counter, 4), signal(checksum, 8)]))).toEqual({
      counter,
      checksum,
      algorithm: 'unknown',
      evidence: 'inferred',
    });
  });

  it.each([
    ['TripCounter', 16],
    ['PulseCount', 8],
    ['CrashCount', 4],
    ['KeyCount', 3],
    ['SumOfFaults', 8],
    ['AliveSince', 8],
    ['Counter', 1],
    ['Crc', 7],
  ])('leaves %s of %i bits alone', (id, length) => {
    expect(likelyProtection(message('EngineStatus', [signal(id, length)]))).toBeNull();
  });

  it('leaves scaled values, values with a unit or states, and doubtful cases alone', () => {
    const not = (signals: readonly Signal[]): void => expect(likelyProtection(message('M', signals))).toBeNull();
    not([signal('Counter', 8, { factor: 0.5 })]);
    not([signal('Counter', 8, { unit: 'km' })]);
    not([signal('Counter', 4, { states: { '0': 'None' } })]);
    not([signal('Counter', 4), signal('MsgCounter', 4)]);
    expect(
      likelyProtection({
        ...message('M', [signal('Counter', 4), signal('Crc', 8)]),
        protection: { counter: 'Counter' },
      }),
    ).toBeNull();
  });

  it('finds in the DBC files of the sample just what its platforms declare', () => {
    const read = (path: string): string => readFileSync(`sample-maps/${path}`, 'utf8');
    const platform = (path: string): Platform => {
      const result = readPlatform(read(path));
      if (!result.ok) throw new Error(path);
      return result.document;
    };
    let declared = 0;
    for (const [dbc, file] of [
      ['chassis-can', 'halden-ft6'],
      ['body-can', 'halden-ft6'],
      ['powertrain-can', 'orrin-32'],
    ] as const) {
      const known = new Map(platform(`${file}.platform.json`).messages.map((each) => [each.id, each.protection]));
      for (const imported of contentOfDbc(readDbc(read(`dbc/${dbc}.dbc`)).database, dbc).messages) {
        const found = likelyProtection(imported);
        const truth = known.get(imported.id);
        expect([imported.id, found?.counter, found?.checksum]).toEqual([imported.id, truth?.counter, truth?.checksum]);
        if (truth) declared += 1;
      }
    }
    expect(declared).toBeGreaterThan(10);
  });
});
