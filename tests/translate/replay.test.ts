import { describe, expect, it } from 'vitest';
import type { Message, Route, Signal, Step, Transmit, Wire } from '../../src/model/index.ts';
import { type ReplayOutput, type RouteSample, createReplay } from '../../src/translate/index.ts';
import { XM, benchPairing, message, signal, wire } from './bench-pairing.ts';

const bits = (start: number, length: number): Signal['bits'] => ({ start, length, order: 'little' });
const MS = 1000;

interface Setup {
  readonly from: readonly (Signal | Wire)[];
  readonly to: Signal | Wire;
  readonly steps?: Step[];
  readonly route?: Partial<Route>;
  readonly transmit?: Partial<Transmit>;
  readonly source?: Partial<Message>;
  readonly target?: Partial<Message>;
  readonly more?: readonly Signal[];
  readonly module?: Partial<typeof XM>;
}

/** One route from fields of one donor message M (or wires) into a host message T that xm sends every 20 ms (or a wire). */
function bench({ from, to, steps, route, transmit, source, target, more, module }: Setup) {
  const isWire = (end: Signal | Wire): end is Wire => 'electrical' in end;
  const pairing = benchPairing({
    donor: {
      messages: [message({ id: 'M', frameId: '0x100', ...source }, from.filter((end) => !isWire(end)) as Signal[])],
      wires: from.filter(isWire),
    },
    host: isWire(to)
      ? { wires: [to] }
      : { messages: [message({ id: 'T', frameId: '0x200', length: 2, ...target }, [to, ...(more ?? [])])] },
    interfaceModules: [{ ...XM, ...module }],
    transmits: isWire(to) ? [] : [{ message: 'host:T', by: 'xm', port: 'A', cycleMs: 20, ...transmit }],
    routes: [
      {
        id: 'r',
        from: from.map((end) => (isWire(end) ? `donor:${end.id}` : `donor:M.${end.id}`)),
        to: isWire(to) ? `host:${to.id}` : `host:T.${to.id}`,
        carrier: 'interface',
        by: 'xm',
        ...(steps ? { steps } : {}),
        ...route,
      },
    ],
  });
  const out: string[] = [];
  const samples: RouteSample[] = [];
  const replay = createReplay(pairing, {
    startUs: 0,
    output: (event: ReplayOutput) =>
      out.push(
        event.kind === 'frame'
          ? `${event.timeUs / MS} ${event.frameId.toString(16)}#${Buffer.from(event.data).toString('hex')}`
          : `${event.timeUs / MS} ${event.wire}=${event.level.kind === 'open' ? 'open' : event.level.kind === 'switched' ? Number(event.level.active) : event.level.thousandths}`,
      ),
    sample: (sample) => samples.push(sample),
  });
  const frame = (ms: number, ...data: number[]): void =>
    replay.onFrame({
      timeUs: ms * MS,
      bus: 'donor:bus',
      frameId: 0x100,
      extended: false,
      data: Uint8Array.from({ length: source?.length ?? 8 }, (_, i) => data[i] ?? 0),
    });
  return { replay, out, samples, frame, until: (ms: number) => replay.advanceTo(ms * MS) };
}

const RPM = signal({
  id: 'S',
  bits: bits(0, 16),
  factor: 0.125,
  unit: '{rev}/min',
  notAvailable: [65535],
  error: [65024],
});
const TACH = signal({ id: 'V', bits: bits(0, 16), factor: 0.25, unit: '{rev}/min', notAvailable: [65535] });

describe('cadence', () => {
  it('sends at its cycle what was received last, with the time of the tick plus the latency', () => {
    // SAE J1939-71, SPN 190, worked example of the reference: raw 6400 at 1/8 rev/min is 800 rev/min, raw 3200 at 1/4.
    const { frame, until, out, replay } = bench({
      from: [RPM],
      to: TACH,
      route: { staleAfterMs: 100 },
      module: { latencyMs: 2 },
    });
    expect(replay.refused).toEqual([]);
    frame(0, 0x00, 0x19);
    frame(15, 0x02, 0x19);
    until(40);
    // 3200 = 0x0C80; 6402/2 = 3201 = 0x0C81
    expect(out).toEqual(['2 200#800c', '22 200#810c', '42 200#810c']);
  });

  it('keeps its phase, and the grid of its cycle when time jumps', () => {
    const { frame, until, out } = bench({ from: [RPM], to: TACH, transmit: { cycleMs: 50, phaseMs: 13 } });
    frame(0, 8, 0);
    until(130);
    // Ticks are every 10 ms: 13 ms is due at 20, 63 at 70, 113 at 120.
    expect(out.map((line) => line.split(' ')[0])).toEqual(['20', '70', '120']);
  });

  it('sends changes, no closer together than the minimum gap', () => {
    const { frame, until, out } = bench({ from: [RPM], to: TACH, transmit: { send: 'on-change', minGapMs: 30 } });
    frame(0, 8, 0);
    frame(12, 8, 0);
    frame(14, 16, 0);
    frame(24, 24, 0);
    until(100);
    expect(out).toEqual(['0 200#0400', '30 200#0c00']);
  });

  it('adds changes to a cycle without moving it', () => {
    const { frame, until, out } = bench({
      from: [RPM],
      to: TACH,
      transmit: { send: 'cyclic-and-on-change', cycleMs: 50 },
    });
    frame(0, 8, 0);
    frame(14, 16, 0);
    until(100);
    expect(out).toEqual(['0 200#0400', '20 200#0800', '50 200#0800', '100 200#0800']);
  });

  it('forwards signals when they come in', () => {
    const { frame, until, out } = bench({
      from: [RPM],
      to: TACH,
      transmit: { send: 'forwarded' },
      module: { latencyMs: 1.5 },
    });
    frame(3, 8, 0);
    frame(7.25, 16, 0);
    until(100);
    expect(out).toEqual(['4.5 200#0400', '8.75 200#0800']);
  });

  it('passes whole messages on, byte for byte', () => {
    const pairing = benchPairing({
      donor: { messages: [message({ id: 'Request', frameId: '0x7DF' }, [])] },
      host: { messages: [message({ id: 'Request', frameId: '0x7DF' }, [])] },
      transmits: [{ message: 'donor:Request', by: 'xm', port: 'B' }],
      routes: [{ id: 'diag', from: ['host:Request'], to: 'donor:Request', carrier: 'interface', by: 'xm' }],
    });
    const out: unknown[] = [];
    const replay = createReplay(pairing, {
      output: (event) => event.kind === 'frame' && out.push([event.bus, event.timeUs, [...event.data]]),
    });
    replay.onFrame({
      timeUs: 5,
      bus: 'host:bus',
      frameId: 0x7df,
      extended: false,
      data: Uint8Array.of(2, 1, 0x0c, 0, 0, 0, 0, 0),
    });
    replay.onFrame({ timeUs: 9, bus: 'donor:bus', frameId: 0x7df, extended: false, data: Uint8Array.of(1) });
    replay.onFrame({ timeUs: 9, bus: 'host:bus', frameId: 0x7df, extended: true, data: Uint8Array.of(1) });
    expect(out).toEqual([['donor:bus', 5, [2, 1, 0x0c, 0, 0, 0, 0, 0]]]);
  });
});

describe('loss', () => {
  it('falls back to its loss behaviour past the limit, and comes back after the declared number of good samples', () => {
    const { frame, until, out, samples } = bench({
      from: [RPM],
      to: TACH,
      route: { staleAfterMs: 50, recoverAfter: 2, onLoss: { do: 'substitute', value: 100 } },
    });
    frame(0, 8, 0);
    until(50);
    frame(95, 16, 0);
    until(100);
    frame(110, 16, 0);
    until(120);
    // 100 rev/min is raw 400 = 0x190. Age 50 ms is not yet too old; 60 is.
    expect(out).toEqual([
      '0 200#0400',
      '20 200#0400',
      '40 200#0400',
      '60 200#9001',
      '80 200#9001',
      '100 200#9001',
      '120 200#0800',
    ]);
    expect(samples.map(({ state }) => state)).toEqual(['value', 'value', 'value', 'lost', 'lost', 'lost', 'value']);
  });

  it('counts good samples anew after another gap', () => {
    const { frame, until, out } = bench({
      from: [RPM],
      to: TACH,
      route: { staleAfterMs: 50, recoverAfter: 2, onLoss: { do: 'stop-sending' } },
    });
    frame(0, 8, 0);
    frame(100, 16, 0);
    frame(160, 16, 0);
    until(200);
    expect(out.map((line) => line.split(' ')[0])).toEqual(['0', '20', '40']);
  });

  it('holds for its time, then tells that nothing is available', () => {
    const { frame, until, out } = bench({
      from: [RPM],
      to: TACH,
      route: { staleAfterMs: 15, onLoss: { do: 'hold', forMs: 30, then: 'not-available' } },
    });
    frame(0, 8, 0);
    until(100);
    // Lost at the tick of 20 ms; held until 50 ms.
    expect(out).toEqual(['0 200#0400', '20 200#0400', '40 200#0400', '60 200#ffff', '80 200#ffff', '100 200#ffff']);
  });

  it('passes special values on, and does as on loss where the target has none', () => {
    const { frame, until, out } = bench({ from: [RPM], to: TACH, route: { onLoss: { do: 'substitute', value: 1 } } });
    frame(0, 0xff, 0xff);
    until(20);
    frame(25, 0x00, 0xfe);
    until(40);
    // The target knows no error value: the one for "not available" is the nearest it can say.
    expect(out).toEqual(['0 200#ffff', '20 200#ffff', '40 200#ffff']);
    const bare = bench({
      from: [RPM],
      to: signal({ ...TACH, notAvailable: [] }),
      route: { onLoss: { do: 'substitute', value: 1 } },
    });
    bare.frame(0, 0xff, 0xff);
    bare.until(0);
    expect(bare.out).toEqual(['0 200#0400']);
  });

  it.each([
    ['not-available', { do: 'substitute', value: 1 }, ['0 200#ffff']],
    ['loss-behaviour', { do: 'substitute', value: 1 }, ['0 200#0400']],
    ['stop-sending', { do: 'substitute', value: 1 }, []],
    [undefined, { do: 'hold' }, ['0 200#ffff']],
    [undefined, { do: 'stop-sending' }, []],
  ] as const)('starts with %s and %o', (atStart, onLoss, expected) => {
    const { until, out } = bench({ from: [RPM], to: TACH, route: { onLoss, ...(atStart ? { atStart } : {}) } });
    until(10);
    expect(out).toEqual(expected);
  });

  it('takes a backup while the main route has no value', () => {
    const pairing = benchPairing({
      donor: {
        messages: [message({ id: 'M', frameId: '0x100' }, [RPM]), message({ id: 'N', frameId: '0x101' }, [RPM])],
      },
      host: { messages: [message({ id: 'T', frameId: '0x200', length: 2 }, [TACH])] },
      transmits: [{ message: 'host:T', by: 'xm', port: 'A', cycleMs: 20 }],
      routes: [
        {
          id: 'backup',
          from: ['donor:N.S'],
          to: 'host:T.V',
          carrier: 'interface',
          by: 'xm',
          backupOf: 'main',
          staleAfterMs: 100,
        },
        {
          id: 'main',
          from: ['donor:M.S'],
          to: 'host:T.V',
          carrier: 'interface',
          by: 'xm',
          staleAfterMs: 30,
          onLoss: { do: 'substitute', value: 0 },
        },
      ],
    });
    const out: number[] = [];
    const replay = createReplay(pairing, {
      startUs: 0,
      output: (event) => event.kind === 'frame' && out.push(event.data[0]!),
    });
    const frame = (ms: number, frameId: number, raw: number): void =>
      replay.onFrame({
        timeUs: ms * MS,
        bus: 'donor:bus',
        frameId,
        extended: false,
        data: Uint8Array.of(raw, 0, 0, 0, 0, 0, 0, 0),
      });
    frame(0, 0x100, 8);
    frame(0, 0x101, 80);
    replay.advanceTo(140 * MS);
    // Main until 30 ms of age, then the backup until 100 ms, then main's loss behaviour.
    expect(out).toEqual([4, 4, 40, 40, 40, 40, 0, 0]);
  });
});

describe('frames made up', () => {
  it('counts and signs what it sends', () => {
    const { frame, until, out } = bench({
      from: [signal({ id: 'S', bits: bits(0, 8), unit: 'V' })],
      to: signal({ id: 'V', bits: bits(0, 8), unit: 'V' }),
      more: [
        signal({ id: 'Count', bits: bits(8, 4) }),
        signal({ id: 'Spare', bits: bits(12, 4) }),
        signal({ id: 'Crc', bits: bits(16, 8) }),
      ],
      target: {
        length: 3,
        protection: { counter: 'Count', checksum: 'Crc', algorithm: 'crc8-sae-j1850', counterModulo: 3 },
      },
      transmit: { fill: { Spare: 15 } },
    });
    frame(0, 0xf2);
    until(60);
    // CRC-8 SAE-J1850 (polynomial 0x1D, start and final 0xFF): worked bit by bit below, independent of the table in src/can.
    const crc = (...bytes: number[]): number => {
      let register = 0xff;
      for (const byte of bytes) {
        register ^= byte;
        for (let bit = 0; bit < 8; bit += 1)
          register = register & 0x80 ? ((register << 1) ^ 0x1d) & 0xff : (register << 1) & 0xff;
      }
      return register ^ 0xff;
    };
    // AUTOSAR SWS CRC Library 7.2.1.1: F2 01 83 gives 0x37.
    expect(crc(0xf2, 0x01, 0x83)).toBe(0x37);
    const hex = (n: number): string => n.toString(16).padStart(2, '0');
    expect(out).toEqual(
      [0xf0, 0xf1, 0xf2, 0xf0].map((second, i) => `${i * 20} 200#f2${hex(second)}${hex(crc(0xf2, second))}`),
    );
  });

  it('verifies a protected source: a wrong checksum or a counter that stands still is no sample', () => {
    const protection = { counter: 'Count', checksum: 'Sum', algorithm: 'xor8' as const };
    const source = [
      signal({ id: 'S', bits: bits(0, 8), unit: 'V' }),
      signal({ id: 'Count', bits: bits(8, 4) }),
      signal({ id: 'Sum', bits: bits(16, 8) }),
    ];
    const pairing = benchPairing({
      donor: { messages: [message({ id: 'M', frameId: '0x100', length: 3, protection }, source)] },
      host: {
        messages: [
          message({ id: 'T', frameId: '0x200', length: 1 }, [signal({ id: 'V', bits: bits(0, 8), unit: 'V' })]),
        ],
      },
      transmits: [{ message: 'host:T', by: 'xm', port: 'A', cycleMs: 10 }],
      routes: [
        {
          id: 'r',
          from: ['donor:M.S'],
          to: 'host:T.V',
          carrier: 'interface',
          by: 'xm',
          verifySource: true,
          staleAfterMs: 25,
          onLoss: { do: 'substitute', value: 0 },
        },
      ],
    });
    const out: number[] = [];
    const replay = createReplay(pairing, {
      startUs: 0,
      output: (event) => event.kind === 'frame' && out.push(event.data[0]!),
    });
    const frame = (ms: number, ...data: number[]): void =>
      replay.onFrame({
        timeUs: ms * MS,
        bus: 'donor:bus',
        frameId: 0x100,
        extended: false,
        data: Uint8Array.from(data),
      });
    frame(0, 7, 1, 7 ^ 1);
    frame(8, 8, 2, 99); // wrong checksum
    frame(18, 9, 1, 9 ^ 1); // counter repeated
    replay.advanceTo(25 * MS);
    frame(38, 10, 4, 10 ^ 4); // two lost in between: accepted
    replay.advanceTo(40 * MS);
    expect(out).toEqual([7, 7, 7, 0, 10]);
  });

  it('listens to one page of a multiplexed message and sends pages in turn', () => {
    const page = signal({ id: 'Page', bits: bits(0, 8), multiplexer: true });
    const pairing = benchPairing({
      donor: {
        messages: [
          message({ id: 'M', frameId: '0x100', length: 2 }, [
            page,
            signal({ id: 'A', bits: bits(8, 8), unit: 'V', multiplexed: { by: 'Page', on: [1] } }),
            signal({ id: 'B', bits: bits(8, 8), unit: 'V', multiplexed: { by: 'Page', on: [[2, 3]] } }),
          ]),
        ],
      },
      host: {
        messages: [
          message({ id: 'T', frameId: '0x200', length: 2 }, [
            page,
            signal({ id: 'P', bits: bits(8, 8), unit: 'V', multiplexed: { by: 'Page', on: [4] } }),
            signal({ id: 'Q', bits: bits(8, 8), unit: 'V', multiplexed: { by: 'Page', on: [5] } }),
          ]),
        ],
      },
      transmits: [{ message: 'host:T', by: 'xm', port: 'A', cycleMs: 10 }],
      routes: [
        {
          id: 'a',
          from: ['donor:M.A'],
          to: 'host:T.P',
          carrier: 'interface',
          by: 'xm',
          onLoss: { do: 'substitute', value: 0 },
        },
        {
          id: 'b',
          from: ['donor:M.B'],
          to: 'host:T.Q',
          carrier: 'interface',
          by: 'xm',
          onLoss: { do: 'substitute', value: 0 },
        },
      ],
    });
    const out: string[] = [];
    const replay = createReplay(pairing, {
      startUs: 0,
      output: (event) => event.kind === 'frame' && out.push(Buffer.from(event.data).toString('hex')),
    });
    const frame = (ms: number, ...data: number[]): void =>
      replay.onFrame({
        timeUs: ms * MS,
        bus: 'donor:bus',
        frameId: 0x100,
        extended: false,
        data: Uint8Array.from(data),
      });
    frame(0, 1, 0x11);
    frame(1, 3, 0x33);
    frame(2, 9, 0x99);
    replay.advanceTo(30 * MS);
    // At the tick of 0 ms only page 1 had come; page 3 belongs to B, page 9 to nobody.
    expect(out).toEqual(['0411', '0533', '0411', '0533']);
  });

  it('fills unused bits and start values', () => {
    const { frame, until, out } = bench({
      from: [signal({ id: 'S', bits: bits(0, 4), unit: 'V' })],
      to: signal({ id: 'V', bits: bits(0, 4), unit: 'V' }),
      more: [signal({ id: 'Start', bits: bits(4, 2), initial: 2 }), signal({ id: 'Nothing', bits: bits(8, 4) })],
      transmit: { unusedBits: '1' },
    });
    frame(0, 5);
    until(0);
    // bits 0–3 value 5, 4–5 start value 2, 6–7 and 12–15 unused ones, 8–11 a signal nobody writes
    expect(out).toEqual(['0 200#e5f0']);
  });
});

describe('wires', () => {
  it('drives switched and measured outputs when they change', () => {
    const lamp = bench({
      from: [signal({ id: 'S', bits: bits(0, 2), states: { 0: 'Off', 1: 'On' } })],
      to: wire({ id: 'lamp', meaning: { active: 'On', inactive: 'Off' } }),
      route: { staleAfterMs: 30, onLoss: { do: 'open-output' } },
    });
    lamp.frame(0, 1);
    lamp.frame(12, 0);
    lamp.until(60);
    expect(lamp.out).toEqual(['0 host:lamp=1', '20 host:lamp=0', '50 host:lamp=open']);
    // 0–90 Ω gauge sender, half is 45 Ω.
    const gauge = bench({
      from: [signal({ id: 'S', bits: bits(0, 8), factor: 0.5, unit: '%' })],
      to: wire({
        id: 'gauge',
        electrical: { class: 'resistive' },
        meaning: {
          curve: {
            of: 'Ohm',
            points: [
              [0, 0],
              [90, 100],
            ],
          },
          unit: '%',
        },
      }),
    });
    gauge.frame(0, 100);
    gauge.until(0);
    expect(gauge.out).toEqual(['0 host:gauge=45000']);
  });

  it('reads switched, resistive and frequency inputs', () => {
    const pulses = bench({
      from: [wire({ id: 'vss', electrical: { class: 'hall-frequency', frequencyHz: [0, 500] } })],
      to: signal({ id: 'V', bits: bits(0, 8), unit: '[mi_i]/h' }),
      steps: [{ do: 'pulses', pulsesPerUnit: 4000, per: '[mi_i]', unit: '[mi_i]/h' }],
      target: { length: 1 },
      route: { onLoss: { do: 'stop-sending' } },
    });
    // 4000 pulses a mile at 60 mi/h: 66.667 Hz.
    pulses.replay.onWire('donor:vss', { kind: 'measured', thousandths: 66_667 }, 0);
    pulses.until(0);
    expect(pulses.out).toEqual(['0 200#3c']);
    const brake = bench({
      from: [wire({ id: 'brake', meaning: { active: 'Pressed', inactive: 'Released' } })],
      to: signal({ id: 'V', bits: bits(0, 1), states: { 0: 'Released', 1: 'Pressed' } }),
      steps: [{ do: 'debounce', forMs: 20 }],
      target: { length: 1 },
      transmit: { cycleMs: 10 },
    });
    brake.replay.onWire('donor:brake', { kind: 'switched', active: false }, 0);
    brake.replay.onWire('donor:brake', { kind: 'switched', active: true }, 12 * MS);
    brake.replay.onWire('donor:brake', { kind: 'switched', active: false }, 25 * MS);
    brake.replay.onWire('donor:brake', { kind: 'switched', active: true }, 31 * MS);
    brake.until(70);
    // Seen pressed at 20, released at 30, pressed at 40, 50, 60: taken over when 20 ms have passed at 60.
    expect(brake.out.map((line) => line.split('#')[1])).toEqual(['00', '00', '00', '00', '00', '00', '01', '01']);
  });

  it('carries a level over a conductor without any firmware', () => {
    const pairing = benchPairing({
      donor: { wires: [wire({ id: 'range' })] },
      host: { wires: [wire({ id: 'start' })] },
      routes: [{ id: 'pn', from: ['donor:range'], to: 'host:start', carrier: 'hard-wire' }],
    });
    const out: unknown[] = [];
    const replay = createReplay(pairing, { output: (event) => out.push(event) });
    replay.onWire('donor:range', { kind: 'switched', active: true }, 123);
    expect(out).toEqual([
      { kind: 'wire', by: null, wire: 'host:start', level: { kind: 'switched', active: true }, timeUs: 123 },
    ]);
  });
});

describe('steps in time', () => {
  const volts = (id: string) => signal({ id, bits: bits(0, 8), unit: 'V' });
  const run = (steps: Step[], inputs: readonly (readonly [number, number])[], untilMs: number): number[] => {
    const setup = bench({
      from: [volts('S')],
      to: volts('V'),
      steps,
      target: { length: 1 },
      transmit: { cycleMs: 10 },
    });
    for (const [ms, raw] of inputs) setup.frame(ms, raw);
    setup.until(untilMs);
    return setup.out.map((line) => Number.parseInt(line.split('#')[1]!, 16));
  };

  it('limits the rate of change up and down', () => {
    expect(
      run(
        [{ do: 'rate-limit', risePerS: 250, fallPerS: 1000, unit: 'V' }],
        [
          [0, 0],
          [1, 6],
          [45, 0],
        ],
        60,
      ),
    ).toEqual([0, 3, 5, 6, 6, 0, 0]);
  });

  it('smooths like a first-order lag', () => {
    // Step response 1 − e^(−t/τ): after τ it is 63.2 %, after 2τ 86.5 %, after 3τ 95.0 % (any text on linear systems).
    const response = run(
      [{ do: 'smooth', timeConstantMs: 100 }],
      [
        [0, 0],
        [1, 200],
      ],
      400,
    );
    for (const [after, part] of [
      [10, 0.632],
      [20, 0.865],
      [30, 0.95],
    ] as const) {
      expect(Math.abs(response[after]! / 200 - part)).toBeLessThan(0.004);
    }
    expect(response.at(-1)).toBe(196);
    expect(
      run(
        [{ do: 'smooth', timeConstantMs: 100 }],
        [
          [0, 0],
          [1, 200],
        ],
        2000,
      ).at(-1),
    ).toBe(200);
  });

  it('delays by whole ticks', () => {
    expect(
      run(
        [{ do: 'delay', byMs: 25 }],
        [
          [0, 1],
          [5, 2],
          [15, 3],
        ],
        60,
      ),
    ).toEqual([1, 1, 1, 1, 2, 3, 3]);
  });

  it('sorts into bands with hysteresis and dwell', () => {
    const setup = bench({
      from: [volts('S')],
      to: signal({ id: 'V', bits: bits(0, 1), states: { 0: 'Low', 1: 'High' } }),
      steps: [{ do: 'bands', at: [45], states: ['Low', 'High'], hysteresis: 5, dwellMs: 20, unit: 'V' }],
      target: { length: 1 },
      transmit: { cycleMs: 10 },
    });
    for (const [ms, raw] of [
      [0, 44],
      [5, 45],
      [35, 41],
      [55, 39],
      [60, 40],
      [75, 39],
    ] as const)
      setup.frame(ms, raw);
    setup.until(110);
    // Up at 45 (seen 10, held 20 ms: 30). 41 and 40 stay high; 39 seen at 80, taken over at 100. The 39 of 55 ms was gone by 60.
    expect(setup.out.map((line) => Number(line.at(-1)))).toEqual([0, 0, 0, 1, 1, 1, 1, 1, 1, 1, 0, 0]);
  });
});

describe('what cannot be run', () => {
  it('is named with its reason, and the rest runs', () => {
    const pairing = benchPairing({
      donor: { messages: [message({ id: 'M', frameId: '0x100' }, [RPM])] },
      host: {
        messages: [
          message({ id: 'T', frameId: '0x200' }, [TACH, signal({ id: 'W', bits: bits(16, 16), unit: 'km/h' })]),
        ],
      },
      transmits: [{ message: 'host:T', by: 'xm', port: 'A', cycleMs: 20 }],
      routes: [
        { id: 'good', from: ['donor:M.S'], to: 'host:T.V', carrier: 'interface', by: 'xm' },
        { id: 'units', from: ['donor:M.S'], to: 'host:T.W', carrier: 'interface', by: 'xm' },
        { id: 'nowhere', from: ['donor:M.X'], to: 'host:T.W', carrier: 'interface', by: 'xm' },
      ],
    });
    const out: ReplayOutput[] = [];
    const replay = createReplay(pairing, { startUs: 0, output: (event) => out.push(event) });
    replay.advanceTo(0);
    expect(replay.refused.map(({ id }) => id)).toEqual(['units', 'nowhere']);
    expect(replay.refused[0]?.why).toMatch(/dimensions differ|rotation/);
    expect(out).toHaveLength(1);
  });
});
