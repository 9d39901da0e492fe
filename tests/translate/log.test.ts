/** Logs in and out: what is read, what is refused and how it is said. Candump lines as in the comment on parse_canframe of can-utils' lib.h; CSV by RFC 4180. */
import { describe, expect, it } from 'vitest';
import {
  BusNamesError,
  LogClockError,
  type LogEvent,
  type LogReader,
  MOST_FAULTS,
  REORDER_EVENTS,
  WIRE_LOG_HEADER,
  busNames,
  frameLogReader,
  frameLogWriter,
  logReader,
  mergeLogs,
  wireLogReader,
  wireLogWriter,
} from '../../src/translate/index.ts';
import { benchPairing, wire } from './bench-pairing.ts';

const pairing = benchPairing({
  host: {
    wires: [
      wire({ id: 'button', meaning: { active: 'Pressed', inactive: 'Released' } }),
      wire({ id: 'plain' }),
      wire({
        id: 'sender',
        electrical: { class: 'resistive' },
        meaning: { scale: { of: 'Ohm', factor: 1, offset: 0, range: [0, 500] }, unit: 'Ohm' },
      }),
      wire({
        id: 'duty',
        electrical: { class: 'pwm-ground' },
        meaning: { scale: { of: '%', factor: 1, offset: 0, range: [0, 100] }, unit: '%' },
      }),
      wire({
        id: 'ladder',
        electrical: { class: 'resistor-ladder' },
        meaning: {
          codes: [
            { ohm: [10, 20], state: 'a' },
            { ohm: [30, 40], state: 'b' },
          ],
        },
      }),
      wire({ id: 'pulse', electrical: { class: 'hall-frequency' } }),
      wire({ id: 'supply', electrical: { class: 'feed' } }),
    ],
  },
  routes: [],
});
const names = busNames(pairing, ['can0=host:bus', 'can1=donor:bus']);

function readAll(reader: LogReader, text: string): LogEvent[] {
  return [...reader.push(text), ...reader.end()];
}

const shown = (event: LogEvent): string =>
  event.kind === 'frame'
    ? `${event.timeUs} ${event.bus} ${event.extended ? 'x' : ''}${event.frameId.toString(16)}${event.fd ? ' fd' : ''} ${Buffer.from(event.data).toString('hex')}`
    : `${event.timeUs} ${event.wire} ${event.level.kind === 'measured' ? event.level.thousandths : event.level.kind === 'open' ? 'open' : event.level.active}`;

describe('a log of frames', () => {
  it('gives data frames on the buses their interfaces stand for; counts the rest', () => {
    const reader = frameLogReader(names);
    const events = readAll(
      reader,
      [
        '(1436509052.249713) can0 123#DEADBEEF',
        '(1436509052.249900) can1 18DAF100#0102\r',
        '',
        '(1436509052.250000) can1 123##1112233',
        '(1436509052.250100) can1 123#R4',
        '(1436509052.250200) can0 20000004#0004000000000000',
        '(1436509052.250300) can7 123#00',
        '(1436509052.250400) can7 123#00',
        '(1436509052.250500) can0 123#DEADBEE',
        'can0  123   [1]  11',
        ' (1436509052.250600)  can0  124   [2]  11 22',
      ].join('\n'),
    );
    expect(events.map(shown)).toEqual([
      '1436509052249713 host:bus 123 deadbeef',
      '1436509052249900 donor:bus x18daf100 0102',
      '1436509052250000 donor:bus 123 fd 112233',
      '1436509052250600 host:bus 124 1122',
    ]);
    expect(events.map(({ line }) => line)).toEqual([1, 2, 4, 11]);
    const { report } = reader;
    expect({ ...report, faults: null, unmapped: null }).toMatchObject({
      lines: 11,
      frames: 4,
      remote: 1,
      errors: 1,
      bad: 2,
    });
    expect([...report.unmapped]).toEqual([['can7', 2]]);
    expect(report.faults).toEqual([
      { line: 9, column: 36, problem: 'a byte expected as two hexadecimal digits' },
      { line: 10, column: 1, problem: expect.stringContaining('no time') as string },
    ]);
    expect([report.firstUs, report.lastUs]).toEqual([1436509052249713, 1436509052250600]);
  });

  it('puts a line that lags by up to a tenth of a second into its place, and refuses one that lags more', () => {
    const reader = frameLogReader(names);
    const events = readAll(
      reader,
      ['1.000000', '1.100000', '1.050000', '1.000000', '0.999999', '1.100000']
        .map((time, index) => `(${time}) can0 123#0${index}\n`)
        .join(''),
    );
    expect(events.map(({ timeUs, line }) => `${timeUs} ${line}`)).toEqual([
      '1000000 1',
      '1000000 4',
      '1050000 3',
      '1100000 2',
      '1100000 6',
    ]);
    expect(reader.report.faults).toEqual([
      { line: 5, column: 1, problem: expect.stringMatching(/0\.100001 s before line 2.*split it/) as string },
    ]);
  });

  it('refuses a jump of its clock by more than an hour', () => {
    const reader = frameLogReader(names);
    expect(
      readAll(reader, '(5.0) can0 123#00\n(3605.0) can0 123#01\n(7205.000001) can0 123#02\n(3606.0) can0 123#03')
        .length,
    ).toBe(3);
    expect(reader.report.faults.map(({ line, problem }) => `${line} ${problem}`)).toEqual([
      expect.stringMatching(/^3 its time is 3600 s after line 2/),
    ]);
  });

  it('keeps no more than so many waiting, whatever the times are', () => {
    const reader = frameLogReader(names);
    let given = 0;
    for (let line = 0; line < 5 * REORDER_EVENTS; line += 1) given += reader.push('(1.0) can0 123#00\n').length;
    expect(given).toBe(4 * REORDER_EVENTS);
    // Earlier than what has been given: it would go back in time.
    expect(reader.push('(0.999999) can0 123#00\n')).toEqual([]);
    expect(reader.report.bad).toBe(1);
    expect(reader.end().length).toBe(REORDER_EVENTS);
  });

  it('names the first faults and counts the others; a line without end costs no memory', () => {
    const reader = frameLogReader(names);
    for (let line = 0; line < 1000; line += 1) reader.push('garbage\u0000 \u001b[2J\n');
    for (let piece = 0; piece < 1000; piece += 1) reader.push('x'.repeat(10_000));
    reader.push('\n(1.0) can0 123#00');
    expect(reader.end().map(shown)).toEqual(['1000000 host:bus 123 00']);
    expect(reader.report.bad).toBe(1001);
    expect(reader.report.faults.length).toBe(MOST_FAULTS);
    expect(JSON.stringify(reader.report.faults)).not.toContain('\\u001b');
  });

  it('counts the frames of endless interface names in bounded memory, with names that are only names', () => {
    const reader = frameLogReader(names);
    for (const name of ['__proto__', 'constructor', ...Array.from({ length: 1000 }, (_, k) => `can${k + 2}`)])
      reader.push(`(1.0) ${name} 123#00\n`);
    expect(reader.report.unmapped.get('__proto__')).toBe(1);
    expect(reader.report.unmapped.size).toBeLessThan(40);
    expect([...reader.report.unmapped.values()].reduce((sum, count) => sum + count)).toBe(1002);
  });
});

describe('interface names', () => {
  it('are mapped as told, and stand for the bus they spell', () => {
    expect(names.busOf('can0')).toBe('host:bus');
    expect(names.busOf('donor:bus')).toBe('donor:bus');
    expect(names.busOf('bus')).toBeNull();
    expect(names.busOf('can2')).toBeNull();
    expect(names.nameOf('donor:bus')).toBe('can1');
    expect(busNames(pairing).nameOf('donor:bus')).toBe('donor:bus');
  });

  it('need not be given where the interface module hears one bus only', () => {
    const one = benchPairing({
      routes: [],
      interfaceModules: [
        { id: 'xm', title: 'X', periodMs: 10, latencyMs: 0, ports: [{ id: 'A', bus: 'donor:bus' }], pins: [] },
      ],
    });
    expect(busNames(one).busOf('can0')).toBe('donor:bus');
    expect(busNames(one, ['can1=host:bus']).busOf('can0')).toBeNull();
  });

  it.each([
    ['can0', 'is no mapping'],
    ['=host:bus', 'is no mapping'],
    ['can0=host:none', 'there are: host:bus, donor:bus'],
    ['can0=bus', 'there is no bus "bus"'],
    ['can0=__proto__', 'there is no bus'],
  ])('%s is refused', (pair, words) => {
    expect(() => busNames(pairing, [pair])).toThrow(BusNamesError);
    expect(() => busNames(pairing, [pair])).toThrow(words);
  });

  it('cannot stand for two buses', () => {
    expect(() => busNames(pairing, ['can0=host:bus', 'can0=donor:bus'])).toThrow('given two buses');
  });
});

describe('a table of wire levels', () => {
  it('takes words and numbers with their unit, in thousandths of the quantity of the wire', () => {
    const reader = wireLogReader(pairing);
    const events = readAll(
      reader,
      [
        '\ufefftime_s,wire,value',
        '0.5,host:button,Pressed',
        '0.6,host:button,inactive',
        '1,host:plain,active',
        '1.25,host:sender,182.5 Ohm',
        '1.250001,host:sender,1.8 kOhm',
        '1.250002,"host:sender","47 Ω"',
        '2,host:duty,33.3335%',
        '2,host:ladder,15 Ohm',
        '2,host:pulse,1.5 kHz',
        '2.000000999,host:duty,-0.0005 %\r',
      ].join('\n'),
    );
    expect(reader.report.faults).toEqual([]);
    expect(events.map(shown)).toEqual([
      '500000 host:button true',
      '600000 host:button false',
      '1000000 host:plain true',
      '1250000 host:sender 182500',
      '1250001 host:sender 1800000',
      '1250002 host:sender 47000',
      // Half away from zero: 33333.5 and −0.5.
      '2000000 host:duty 33334',
      '2000000 host:ladder 15000',
      '2000000 host:pulse 1500000',
      '2000000 host:duty -1',
    ]);
  });

  it.each([
    [
      '1,host:button,Perhaps',
      15,
      '"Perhaps" is no level of this wire: "active" or "inactive", or "Pressed" or "Released"',
    ],
    ['1,host:sender,180', 15, 'a decimal number and its unit are needed'],
    ['1,host:sender,180 V', 15, '"V" is no unit of this wire, which is read in Ohm'],
    ['1,host:sender,180 smoots', 15, '"smoots" is no unit'],
    ['1,host:sender,1e3 Ohm', 15, '"e3 Ohm" is no unit'],
    ['1,host:sender,3 MOhm', 15, 'beyond 2147483.647 Ohm'],
    ['1,host:sender,open', 15, 'an input cannot be open'],
    ['1,host:absent,active', 3, 'no wire of the pairing'],
    ['1,button,active', 3, 'no wire of the pairing'],
    ['1,host:supply,active', 3, 'no wire of the pairing that carries a signal'],
    ['1,__proto__,active', 3, 'no wire of the pairing'],
    ['soon,host:button,active', 1, 'is no time'],
    ['-1,host:button,active', 1, 'is no time'],
    ['1.0000000001,host:button,active', 1, 'is no time'],
    ['1,host:button', 1, '2 cells: time, wire and value are needed'],
    ['1,"host:button,active', 3, 'not closed'],
    ['1,"host:button"x,active', 16, 'after the closing quote'],
    [`1,host:button,${'x'.repeat(2000)}`, 1025, 'longer than 1024 characters'],
  ])('%s', (line, column, words) => {
    const reader = wireLogReader(pairing);
    const events = readAll(reader, `time_s,wire,value\n${line}\n1.1,host:button,active\n`);
    expect(reader.report.faults).toEqual([{ line: 2, column, problem: expect.stringContaining(words) as string }]);
    expect(events.length).toBe(1);
  });

  it('finds its columns by name and says when they are missing', () => {
    expect(readAll(wireLogReader(pairing), 'note,value,wire,time_s\nx,active,host:plain,3\n').map(shown)).toEqual([
      '3000000 host:plain true',
    ]);
    const reader = wireLogReader(pairing);
    expect(readAll(reader, '1,host:plain,active\n2,host:plain,inactive\n').length).toBe(2);
    expect(reader.report.faults).toEqual([
      { line: 1, column: 1, problem: 'the first line must name the columns: time_s,wire,value' },
    ]);
  });

  it('may hold "open" in what came out', () => {
    const events = readAll(
      wireLogReader(pairing, { mayBeOpen: true }),
      'time_s,wire,value\n1,host:duty,open\n2,host:plain,open',
    );
    expect(events.map(shown)).toEqual(['1000000 host:duty open', '2000000 host:plain open']);
  });
});

describe('a log of either kind', () => {
  it('is told by its first line', () => {
    expect(readAll(logReader(pairing, names), '\n\n(1.0) can0 123#00\n').map(shown)).toEqual([
      '1000000 host:bus 123 00',
    ]);
    const wires = logReader(pairing, names);
    expect(readAll(wires, '\n"time_s","wire","value"\n1,host:plain,active').map(shown)).toEqual([
      '1000000 host:plain true',
    ]);
    expect(wires.report.levels).toBe(1);
    const nothing = logReader(pairing, names);
    expect(readAll(nothing, '  \n ')).toEqual([]);
    expect(nothing.report.bad).toBe(0);
  });
});

describe('what is written', () => {
  it('is one line a frame or level, and is read back', () => {
    const frame = {
      timeUs: 12_045_000,
      bus: 'donor:bus',
      frameId: 0x18daf100,
      extended: true,
      fd: false,
      data: Uint8Array.of(1, 0xab),
    };
    expect(frameLogWriter(names)(frame)).toBe('(0000000012.045000) can1 18DAF100#01AB\n');
    expect(frameLogWriter(names)({ ...frame, extended: false, frameId: 0x7, fd: true, bus: 'host:bus' })).toBe(
      '(0000000012.045000) can0 007##401AB\n',
    );
    const write = wireLogWriter(pairing);
    const rows = [
      write({ timeUs: 1, wire: 'host:button', level: { kind: 'switched', active: true } }),
      write({ timeUs: 1_000_000, wire: 'host:duty', level: { kind: 'measured', thousandths: -1 } }),
      write({ timeUs: 1_500_000, wire: 'host:sender', level: { kind: 'measured', thousandths: 182_500 } }),
      write({ timeUs: 1_500_000, wire: 'host:ladder', level: { kind: 'open' } }),
    ];
    expect(rows.join('')).toBe(
      '0.000001,host:button,active\n1.000000,host:duty,-0.001 %\n1.500000,host:sender,182.5 Ohm\n1.500000,host:ladder,open\n',
    );
    expect(readAll(wireLogReader(pairing, { mayBeOpen: true }), WIRE_LOG_HEADER + rows.join('')).map(shown)).toEqual([
      '1 host:button true',
      '1000000 host:duty -1',
      '1500000 host:sender 182500',
      '1500000 host:ladder open',
    ]);
  });
});

describe('several logs', () => {
  async function* pieces(...texts: string[]): AsyncGenerator<string> {
    for (const text of texts) yield await Promise.resolve(text);
  }
  const source = (name: string, reader: LogReader, ...texts: string[]) => ({ name, reader, chunks: pieces(...texts) });
  async function merged(...sources: Parameters<typeof mergeLogs>[0]): Promise<string[]> {
    const lines: string[] = [];
    for await (const run of mergeLogs(sources)) lines.push(...run.map(shown));
    return lines;
  }

  it('are laid into one by time; at one moment the first log comes first', async () => {
    expect(
      await merged(
        source('a', frameLogReader(names), '(1.0) can0 001#\n(3.0)', ' can0 003#\n'),
        source(
          'b',
          wireLogReader(pairing),
          'time_s,wire,value\n1,host:plain,active\n',
          '2.5,host:plain,inactive\n4,host:plain,active\n',
        ),
        source('c', frameLogReader(names)),
      ),
    ).toEqual([
      '1000000 host:bus 1 ',
      '1000000 host:plain true',
      '2500000 host:plain false',
      '3000000 host:bus 3 ',
      '4000000 host:plain true',
    ]);
  });

  it('must be on one clock', async () => {
    const apart = merged(
      source('drive.log', frameLogReader(names), '(1436509052.249713) can0 123#00\n'),
      source('wires.csv', wireLogReader(pairing), 'time_s,wire,value\n1,host:plain,active\n'),
    );
    await expect(apart).rejects.toThrow(LogClockError);
    await expect(apart).rejects.toThrow('drive.log goes on 1436509051 s after the end of wires.csv');
  });

  it('are let go when reading stops early or fails', async () => {
    const closed: string[] = [];
    async function* endless(name: string): AsyncGenerator<string> {
      try {
        for (let k = 1; ; k += 1) yield await Promise.resolve(`(${k}.0) can0 123#00\n`);
      } finally {
        closed.push(name);
      }
    }
    const sources = ['a', 'b'].map((name) => ({ name, reader: frameLogReader(names), chunks: endless(name) }));
    let count = 0;
    for await (const run of mergeLogs(sources)) if ((count += run.length) > 10) break;
    expect(closed.sort()).toEqual(['a', 'b']);
  });
});
