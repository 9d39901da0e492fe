/** Candump logs: faults with their place, bounded lines, linear time. */
import { describe, expect, it } from 'vitest';
import { type CandumpFault, candumpReader, MAX_LINE_CHARACTERS, parseCandumpLine } from '../../src/can/index.ts';

const HEAD = '(1.5) can0 ';

describe('a line that cannot be read', () => {
  it.each([
    ['hello', 6, /frame id expected/],
    [`${HEAD}800#00`, 12, /0x800 is beyond 11 bits/],
    [`${HEAD}60000000#00`, 12, /0x60000000 is beyond 29 bits/],
    [`${HEAD}1234#00`, 12, /3 or 8 hexadecimal digits, not 4/],
    [`${HEAD}123#0`, 16, /two hexadecimal digits/],
    [`${HEAD}123#0G`, 16, /two hexadecimal digits/],
    [`${HEAD}123#112233445566778899`, 16, /more than 8 bytes/],
    [`${HEAD}123##0${'00'.repeat(9)}`, 36, /no CAN FD frame has 9 bytes/],
    [`${HEAD}123##`, 17, /digit of flags/],
    [`${HEAD}123#R9`, 17, /asks for 9 bytes/],
    [`${HEAD}123#00 extra`, 24, /text after the frame/],
    [`${HEAD}123###00`, 17, /CAN XL/],
    ['(1.5) 123#00', 7, /no interface name/],
    ['(1,5) can0 123#00', 3, /"\." expected before ","/],
    ['(2015-07-10 06:17:32.249713) can0 123#00', 6, /date without a zone/],
    ['(99999999999999.000000) can0 123#00', 24, /beyond what can be kept exactly/],
    ['(1.0000000001) can0 123#00', 4, /10 decimals/],
    ['can0  123   [3]  11 22', 23, /byte 3 of 3/],
    ['can0  123   [9]  11 22', 15, /9 bytes are more than a classical frame holds/],
    ['can0  123   [2]  11 2233', 21, /byte 2 of 2/],
  ])('%s', (line, column, problem) => {
    expect(parseCandumpLine(line, 3)).toEqual({
      kind: 'fault',
      line: 3,
      column,
      problem: expect.stringMatching(problem) as string,
    });
  });

  it('is told apart from a blank line', () => {
    for (const blank of ['', '   ', '\t', '\r']) expect(parseCandumpLine(blank, 1)).toBeNull();
  });
});

describe('what only some logs have', () => {
  it('nanoseconds, raw length codes, directions and flags', () => {
    expect(parseCandumpLine('(1436509052.249713042) can0 123#00', 1)).toMatchObject({
      timeUs: 1436509052249713,
      restNs: 42,
    });
    expect(parseCandumpLine('(1.25) can0 123#00', 1)).toMatchObject({ timeUs: 1_250_000, restNs: 0 });
    expect(parseCandumpLine(`${HEAD}123#1122334455667788_C`, 1)).toMatchObject({ rawDlc: 12 });
    expect(parseCandumpLine(`${HEAD}123#1122334455667788_C T`, 1)).toMatchObject({ rawDlc: 12, direction: 'sent' });
    expect(parseCandumpLine('  can0  RX B -  123  [03]  11 22 33', 1)).toMatchObject({
      direction: 'received',
      flags: 1,
      frameFormat: 'fd',
    });
  });
});

describe('the reader', () => {
  it('keeps what can be read and names the lines that cannot', () => {
    const reader = candumpReader();
    const first = reader.push(`${HEAD}123#01\r\n\nnonsense\n${HEAD}123#0`);
    const second = reader.push('2\n(1.5) can0 12');
    const last = reader.end();
    expect([...first.frames, ...second.frames].map((frame) => 'bytes' in frame && [...frame.bytes])).toEqual([
      [1],
      [2],
    ]);
    expect([...first.faults, ...second.faults, ...last.faults].map(({ line }) => line)).toEqual([3, 5]);
    expect(reader.lines).toBe(5);
  });

  it('skips a line without end, once, in bounded memory, and goes on after it', () => {
    const reader = candumpReader();
    const faults: CandumpFault[] = [];
    for (let i = 0; i < 1000; i += 1) faults.push(...reader.push('x'.repeat(10_000)).faults);
    const after = reader.push(`\n${HEAD}123#01\n${'y'.repeat(MAX_LINE_CHARACTERS + 1)}\n${HEAD}123#02\n`);
    expect(faults.map(({ line }) => line)).toEqual([1]);
    expect(after.frames.length).toBe(2);
    expect(after.faults.map(({ line }) => line)).toEqual([3]);
  });

  it('takes bytes that are no text as faults of their lines', () => {
    const reader = candumpReader();
    const { faults } = reader.push(Uint8Array.from([0xff, 0xfe, 0x00, 10, 0xc3, 10]));
    expect(faults.map(({ line }) => line)).toEqual([1, 2]);
    expect(reader.end()).toEqual({ frames: [], faults: [] });
  });

  it('reads garbage as fast as frames', () => {
    const started = performance.now();
    const reader = candumpReader();
    let faults = 0;
    const chunk = 'not a frame at all\n'.repeat(5000);
    for (let i = 0; i < 100; i += 1) faults += reader.push(chunk).faults.length;
    expect(faults).toBe(500_000);
    // 9.5 MB; well under a second here, and a machine ten times slower still passes.
    expect(performance.now() - started).toBeLessThan(10_000);
  });
});
