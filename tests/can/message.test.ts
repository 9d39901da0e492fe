/** Messages: plain, nested and range multiplexing, states, indicators, faults. */
import { describe, expect, it } from 'vitest';
import { compileMessage, type FrameSignal, type SignalValue } from '../../src/can/index.ts';
import { rational, toRational } from '../../src/number/index.ts';

function signal(name: string, start: number, length: number, more: Partial<FrameSignal> = {}): FrameSignal {
  return {
    name,
    field: { start, length, order: 'little' },
    number: 'unsigned',
    scaling: { factor: rational(1), offset: rational(0) },
    unit: '',
    ...more,
  };
}

const on = (by: string, ...ranges: [number, number][]): Pick<FrameSignal, 'multiplexed'> => ({
  multiplexed: { by, on: ranges.map(([lo, hi]): [bigint, bigint] => [BigInt(lo), BigInt(hi)]) },
});
const raw = (value: number | bigint): SignalValue => ({ kind: 'raw', raw: value });
const namesIn = (signals: readonly FrameSignal[], ...bytes: number[]): string[] =>
  compileMessage(signals)
    .decode(Uint8Array.from(bytes))
    .map(({ name }) => name);

// Inner is itself selected, and stands before its own selector: the order in the file must not matter.
const nested: readonly FrameSignal[] = [
  signal('Leaf', 16, 8, on('Inner', [3, 5], [9, 9])),
  signal('Inner', 8, 8, on('Page', [1, 1])),
  signal('Page', 0, 8),
  signal('Other', 8, 16, on('Page', [0, 0], [2, 255])),
];

describe('multiplexing', () => {
  it('reads what the selectors select, nested and by ranges', () => {
    expect(namesIn(nested, 1, 3, 7)).toEqual(['Leaf', 'Inner', 'Page']);
    expect(namesIn(nested, 1, 9, 7)).toEqual(['Leaf', 'Inner', 'Page']);
    expect(namesIn(nested, 1, 6, 7)).toEqual(['Inner', 'Page']);
    expect(namesIn(nested, 2, 3, 7)).toEqual(['Page', 'Other']);
  });

  it('never expands a range: one of 2^64 values costs nothing', () => {
    const wide: readonly FrameSignal[] = [
      signal('Page', 0, 64),
      signal('Any', 64, 8, { multiplexed: { by: 'Page', on: [[0n, 2n ** 64n - 2n]] } }),
    ];
    expect(namesIn(wide, 0, 0, 0, 0, 0, 0, 0, 0, 1)).toEqual(['Page', 'Any']);
    expect(namesIn(wide, 255, 255, 255, 255, 255, 255, 255, 255, 1)).toEqual(['Page']);
  });

  it('matches a signed selector by its bits as well', () => {
    const signed = [signal('Page', 0, 8, { number: 'signed' }), signal('High', 8, 8, on('Page', [200, 200]))];
    expect(namesIn(signed, 200, 1)).toEqual(['Page', 'High']);
    expect(namesIn(signed, 100, 1)).toEqual(['Page']);
  });

  it('writes the selector first, and refuses what it does not select', () => {
    const message = compileMessage(nested);
    const written = message.encode(
      new Map([
        ['Leaf', raw(7)],
        ['Inner', raw(4)],
        ['Page', raw(1)],
      ]),
      new Uint8Array(3),
    );
    expect(written).toMatchObject({ bytes: Uint8Array.of(1, 4, 7), faults: [] });
    const refused = message.encode(new Map([['Other', raw(1)]]), Uint8Array.of(1, 9, 8));
    expect(refused.bytes).toEqual(Uint8Array.of(1, 9, 8));
    expect(refused.faults).toEqual([{ signal: 'Other', problem: '"Page" does not select it in this frame' }]);
  });

  it('lists circles and unknown selectors, and reads the rest', () => {
    const message = compileMessage([
      signal('A', 0, 8, on('B', [0, 9])),
      signal('B', 8, 8, on('A', [0, 9])),
      signal('C', 16, 8, on('Nobody', [0, 9])),
      signal('D', 16, 8),
    ]);
    expect(message.faults.map((fault) => fault.signal).sort()).toEqual(['A', 'B', 'C']);
    expect(message.decode(new Uint8Array(3)).map(({ name }) => name)).toEqual(['D']);
  });
});

describe('decoding', () => {
  it('gives exact values, states and what is not available', () => {
    const [temperature, gear] = compileMessage([
      signal('Temperature', 0, 8, {
        scaling: { factor: toRational('0.1'), offset: toRational(-40) },
        unit: 'degC',
        notAvailable: [255n],
        error: [254n],
      }),
      signal('Gear', 8, 4, {
        number: 'signed',
        states: new Map([
          ['-1', 'Reverse'],
          ['0', 'Neutral'],
        ]),
      }),
    ]).decode(Uint8Array.of(123, 0x0f));
    expect(temperature).toEqual({
      ...{ name: 'Temperature', raw: 123, value: rational(-277, 10), unit: 'degC', state: null },
      ...{ available: true, indicator: 'none' },
    });
    expect(gear).toMatchObject({ raw: -1, state: 'Reverse' });
    const message = compileMessage([signal('T', 0, 8, { notAvailable: [255n], error: [254n] })]);
    expect(message.decode(Uint8Array.of(255))[0]).toMatchObject({ available: false, indicator: 'not-available' });
    expect(message.decode(Uint8Array.of(254))[0]).toMatchObject({ available: false, indicator: 'error' });
  });

  it('64-bit raw values never pass through a double', () => {
    const message = compileMessage([signal('Count', 0, 64)]);
    const bytes = Uint8Array.of(0xfd, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff);
    expect(message.decode(bytes)[0]).toMatchObject({ raw: 2n ** 64n - 3n, value: rational(2n ** 64n - 3n) });
    const physical: SignalValue = { kind: 'physical', value: rational(2n ** 64n - 3n) };
    expect(message.encode(new Map([['Count', physical]]), new Uint8Array(8)).bytes).toEqual(bytes);
  });

  it('leaves out what a short frame does not hold, and names it', () => {
    const message = compileMessage([signal('Near', 0, 8), signal('Far', 56, 8)]);
    expect(message.decode(new Uint8Array(4)).map(({ name }) => name)).toEqual(['Near']);
    expect(message.outsideOf(4)).toEqual(['Far']);
  });

  it('a float that is not a number is not available', () => {
    const message = compileMessage([signal('Flow', 0, 32, { number: 'float32' })]);
    expect(message.decode(Uint8Array.of(0, 0, 0xc0, 0x7f))[0]).toMatchObject({ available: false, value: NaN });
    expect(message.decode(Uint8Array.of(0, 0, 0x80, 0x3f))[0]).toMatchObject({ available: true, value: 1 });
  });
});

describe('encoding', () => {
  const message = compileMessage([
    signal('Speed', 0, 8, { scaling: { factor: toRational('0.5'), offset: toRational(0) } }),
    signal('Range', 8, 3, { states: new Map([['4', 'Drive']]), notAvailable: [7n] }),
    signal('Spare', 16, 8),
  ]);
  const base = Uint8Array.of(0, 0xff, 0xaa);

  it('rounds half away from zero, clips, and tells the error', () => {
    const write = (value: string) => {
      const physical: SignalValue = { kind: 'physical', value: toRational(value) };
      return message.encode(new Map([['Speed', physical]]), base).written[0];
    };
    expect(write('1.25')).toMatchObject({ raw: 3, clipped: 'none', error: rational(1, 4) });
    expect(write('200')).toMatchObject({ raw: 255, clipped: 'high', error: rational(-145, 2) });
    expect(write('-1')).toMatchObject({ raw: 0, clipped: 'low', error: rational(1) });
  });

  it('writes states and "not available", and keeps every other bit of the base', () => {
    const drive = message.encode(new Map([['Range', { kind: 'state', state: 'Drive' }]]), base);
    expect(drive.bytes).toEqual(Uint8Array.of(0, 0xfc, 0xaa));
    const none = message.encode(new Map([['Range', { kind: 'not-available' }]]), Uint8Array.of(0, 0, 0xaa));
    expect(none.bytes).toEqual(Uint8Array.of(0, 7, 0xaa));
  });

  it('lists what it cannot write and writes the rest', () => {
    const result = message.encode(
      new Map<string, SignalValue>([
        ['Range', { kind: 'state', state: 'Low' }],
        ['Speed', { kind: 'raw', raw: 256 }],
        ['Nobody', raw(1)],
        ['Spare', raw(1)],
      ]),
      base,
    );
    expect(result.bytes).toEqual(Uint8Array.of(0, 0xff, 1));
    expect(result.faults.map((fault) => fault.signal).sort()).toEqual(['Nobody', 'Range', 'Speed']);
  });
});

describe('faults of signals', () => {
  it('are listed, and none of them throws', () => {
    const message = compileMessage([
      signal('Long', 0, 65),
      signal('Half', 0, 16, { number: 'float32' }),
      signal('Twice', 0, 8),
      signal('Twice', 8, 8),
      signal('State', 0, 8, { states: new Map([['on', 'On']]) }),
      signal('__proto__', 16, 8, { states: new Map([['0', 'constructor']]) }),
    ]);
    expect(message.faults.map((fault) => fault.signal).sort()).toEqual(['Half', 'Long', 'State', 'Twice']);
    const decoded = message.decode(new Uint8Array(3));
    expect(decoded.map(({ name }) => name)).toEqual(['Twice', 'Twice', 'State', '__proto__']);
    expect(decoded.at(-1)).toMatchObject({ state: 'constructor' });
  });
});
