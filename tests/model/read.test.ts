import { describe, expect, it } from 'vitest';
import {
  readMap,
  readPlatform,
  writeMap,
  writePlatform,
  type DocumentFault,
  type Platform,
} from '../../src/model/index.ts';

const platform: Platform = {
  format: 'crossloom-platform',
  version: 1,
  id: 'p',
  title: 'P',
  buses: [{ id: 'b', kind: 'can', bitRate: 500000 }],
  modules: [{ id: 'm', title: 'M', buses: ['b'] }],
  messages: [
    {
      id: 'Msg',
      bus: 'b',
      frameId: '0x1C0',
      idFormat: 'standard',
      length: 8,
      sender: 'm',
      signals: [
        {
          id: 'S',
          bits: { start: 0, length: 8, order: 'little' },
          number: 'unsigned',
          factor: 1,
          offset: 0,
          unit: '',
          states: { '0': 'Off', '1': 'On' },
        },
      ],
    },
  ],
  wires: [],
  connectors: [],
  feeds: [],
  grounds: [],
};
const text = writePlatform(platform);

function faultsOf(body: string): readonly DocumentFault[] {
  const result = readPlatform(body);
  if (result.ok) throw new Error('expected faults');
  return result.faults;
}

/** Line and column, from 1, of the first place where `part` stands. */
function placeOf(body: string, part: string): { line: number; column: number } {
  const before = body.slice(0, body.indexOf(part)).split('\n');
  return { line: before.length, column: before.at(-1)!.length + 1 };
}

describe('reading a platform', () => {
  it('reads back what was written, byte for byte', () => {
    const result = readPlatform(text);
    expect(result.ok && writePlatform(result.document)).toBe(text);
  });

  it('reads keys in any order and writes them in one', () => {
    const shuffled = JSON.stringify(Object.fromEntries(Object.entries(platform).reverse()));
    const result = readPlatform(shuffled);
    expect(result.ok && writePlatform(result.document)).toBe(text);
  });

  it('takes a byte order mark', () => {
    expect(readPlatform(`\ufeff${text}`).ok).toBe(true);
  });

  it('names every fault with line, column and path, not only the first', () => {
    const body = text
      .replace('"bitRate": 500000', '"bitRate": "fast"')
      .replace('"length": 8,\n      "sender"', '"length": 65,\n      "sender"')
      .replace('"order": "little"', '"order": "middle"');
    const faults = faultsOf(body);
    expect(faults.map(({ path }) => path.join('.'))).toEqual([
      'buses.0.bitRate',
      'messages.0.length',
      'messages.0.signals.0.bits.order',
    ]);
    expect(faults[0]).toMatchObject(placeOf(body, '"fast"'));
    expect(faults[1]).toMatchObject(placeOf(body, '65,'));
    expect(faults[2]).toMatchObject(placeOf(body, '"middle"'));
  });

  it('names an unknown key at its place', () => {
    const body = text.replace('"kind": "can"', '"kind": "can", "speed": 5');
    expect(faultsOf(body)).toEqual([
      expect.objectContaining({
        ...placeOf(body, '"speed"'),
        path: ['buses', 0, 'speed'],
        message: expect.stringContaining('"speed"') as string,
      }),
    ]);
  });

  it('says what is missing', () => {
    const faults = faultsOf(text.replace('      "sender": "m",\n', ''));
    expect(faults).toHaveLength(1);
    expect(faults[0]!.message).toBe('"sender" is missing');
  });

  it.each(['__proto__', 'constructor', 'prototype'])('refuses the key %s wherever names are free', (key) => {
    const inStates = text.replace('"0": "Off"', `${JSON.stringify(key)}: "Off"`);
    expect(faultsOf(inStates).length).toBeGreaterThan(0);
    const atTop = text.replace('"id": "p"', `"id": "p", ${JSON.stringify(key)}: {"polluted": true}`);
    expect(faultsOf(atTop).length).toBeGreaterThan(0);
    expect(({} as Record<string, unknown>)['polluted']).toBeUndefined();
  });

  it('finds a key that stands twice, which would lose its first value', () => {
    const body = text.replace('"title": "P"', '"title": "Q",\n  "title": "P"');
    expect(faultsOf(body)).toEqual([
      expect.objectContaining({ path: ['title'], message: expect.stringContaining('twice') as string }),
    ]);
    expect(faultsOf(text.replace('"title": "P"', '"title" : "Q", "title": "P"'))[0]!.message).toContain('twice');
  });

  it('finds ids that stand twice and names without a bearer', () => {
    const twice = writePlatform({ ...platform, modules: [...platform.modules, { id: 'm', title: 'Again' }] });
    expect(faultsOf(twice)[0]).toMatchObject({ path: ['modules', 1, 'id'] });
    const message = platform.messages[0]!;
    const stray = writePlatform({ ...platform, messages: [{ ...message, bus: 'x', sender: 'y' }] });
    expect(faultsOf(stray).map(({ path }) => path.join('.'))).toEqual(['messages.0.bus', 'messages.0.sender']);
  });

  it('finds multiplexers that select themselves', () => {
    const signal = platform.messages[0]!.signals[0]!;
    const circle = writePlatform({
      ...platform,
      messages: [
        {
          ...platform.messages[0]!,
          signals: [
            { ...signal, id: 'A', multiplexed: { by: 'B', on: [1] } },
            { ...signal, id: 'B', multiplexed: { by: 'A', on: [1] } },
          ],
        },
      ],
    });
    expect(faultsOf(circle).some(({ message }) => message.includes('selects itself'))).toBe(true);
  });

  it('refuses a newer version in words and leaves it alone', () => {
    expect(faultsOf(text.replace('"version": 1', '"version": 2'))).toEqual([
      expect.objectContaining({ path: ['version'], message: expect.stringContaining('version 2') as string }),
    ]);
  });

  it('tells a map from a platform', () => {
    const result = readMap(text);
    expect(result.ok).toBe(false);
    expect(!result.ok && result.faults[0]!.message).toContain('not a map');
  });

  it.each([
    ['nothing', ''],
    ['blank', '  \n'],
    ['truncated', text.slice(0, text.length / 2)],
    ['binary', '\u0000\u0001\u0002\ufffd'.repeat(1000)],
    ['a number', '42'],
    ['a list', '[]'],
    ['null', 'null'],
    ['huge number', text.replace('500000', '1e999')],
    ['deep nesting', '['.repeat(1_000_000)],
    ['deep nesting, closed', `${'['.repeat(200_000)}${']'.repeat(200_000)}`],
    ['words', 'BO_ 291 Message: 8 Node\n'.repeat(10_000)],
  ])('gives a clear fault for %s', (_, body) => {
    const faults = faultsOf(body);
    expect(faults.length).toBeGreaterThan(0);
    expect(faults.length).toBeLessThanOrEqual(201);
    for (const fault of faults) {
      expect(fault.message.length).toBeGreaterThan(5);
      expect(fault.line).toBeGreaterThanOrEqual(1);
      expect(fault.column).toBeGreaterThanOrEqual(1);
    }
  });

  it('names every syntax fault', () => {
    const body = '{\n  "format": "crossloom-platform"\n  "version": 1,\n  "id": tru\n}\n';
    const lines = faultsOf(body).map(({ line }) => line);
    expect(lines).toEqual(expect.arrayContaining([3, 4]));
  });
});

describe('reading a map', () => {
  it('bounds the option combinations', () => {
    const result = readMap(
      writeMap({
        format: 'crossloom-map',
        version: 1,
        id: 'm',
        title: 'M',
        revision: 'A',
        host: { platform: 'a.platform.json' },
        donor: { platform: 'b.platform.json' },
        fates: {},
        options: Array.from({ length: 13 }, (_, at) => ({ id: `o${at}`, choices: ['y', 'n'] })),
        interfaceModules: [],
        transmits: [],
        routes: [],
      }),
    );
    expect(!result.ok && result.faults[0]!.message).toContain('8192 combinations');
  });
});
