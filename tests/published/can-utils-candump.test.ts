/** Lines of candump's formats as given in the comments on `parse_canframe` and `sprint_long_canframe` of can-utils' lib.h (linux-can/can-utils). */
import { describe, expect, it } from 'vitest';
import { type CandumpFrame, formatCandumpFrame, parseCandumpLine } from '../../src/can/index.ts';

function read(line: string): CandumpFrame {
  const frame = parseCandumpLine(line, 1);
  if (frame === null || frame.kind === 'fault') throw new Error(`not read: ${JSON.stringify(frame)}`);
  return frame;
}

const hex = (frame: CandumpFrame): string => ('bytes' in frame ? Buffer.from(frame.bytes).toString('hex') : '');

describe('lib.h, parse_canframe: frames in log layout', () => {
  it.each([
    ['123#', { kind: 'data', frameId: 0x123, idFormat: 'standard', frameFormat: 'classic' }, ''],
    ['12345678#', { kind: 'data', frameId: 0x12345678, idFormat: 'extended' }, ''],
    ['123#R', { kind: 'remote', frameId: 0x123, requestedBytes: 0 }, ''],
    ['123#R0', { kind: 'remote', frameId: 0x123, requestedBytes: 0 }, ''],
    ['123#R7', { kind: 'remote', frameId: 0x123, requestedBytes: 7 }, ''],
    ['7A1#r', { kind: 'remote', frameId: 0x7a1, requestedBytes: 0 }, ''],
    ['123#00', { kind: 'data', frameId: 0x123 }, '00'],
    ['123#1122334455667788', { kind: 'data', frameId: 0x123 }, '1122334455667788'],
    ['123#11.22.33.44.55.66.77.88', { kind: 'data', frameId: 0x123 }, '1122334455667788'],
    ['123#11.2233.44556677.88', { kind: 'data', frameId: 0x123 }, '1122334455667788'],
    ['32345678#112233', { kind: 'error', errorClass: 0x12345678 }, '112233'],
    ['123##0112233', { kind: 'data', frameFormat: 'fd', flags: 0 }, '112233'],
    ['123##1112233', { kind: 'data', frameFormat: 'fd', flags: 1 }, '112233'],
    ['123##2112233', { kind: 'data', frameFormat: 'fd', flags: 2 }, '112233'],
    ['123##3', { kind: 'data', frameFormat: 'fd', flags: 3 }, ''],
  ])('%s', (text, expected, bytes) => {
    const frame = read(`(1436509052.249713) can0 ${text}`);
    expect(frame).toMatchObject({ ...expected, timeUs: 1436509052249713, interfaceName: 'can0' });
    expect(hex(frame)).toBe(bytes);
  });
});

describe('lib.h, sprint_long_canframe: frames in plain layout', () => {
  it.each([
    ['12345678   [3]  11 22 33', { kind: 'data', frameId: 0x12345678, idFormat: 'extended' }, '112233'],
    ['12345678   [0]  remote request', { kind: 'remote', frameId: 0x12345678, requestedBytes: 0 }, ''],
    ["14B0DC51   [8]  4A 94 E8 2A EC 58 55 62   'J..*.XUb'", { kind: 'data', frameId: 0x14b0dc51 }, '4a94e82aec585562'],
    ['20001111   [7]  C6 23 7B 32 69 98 3C      ERRORFRAME', { kind: 'error', errorClass: 0x1111 }, 'c6237b3269983c'],
    ['12345678  [03]  11 22 33', { kind: 'data', frameFormat: 'fd', frameId: 0x12345678 }, '112233'],
    ['123   [3]  11 22 33', { kind: 'data', frameFormat: 'classic', frameId: 0x123, idFormat: 'standard' }, '112233'],
    ['     123   [3]  11 22 33', { kind: 'data', frameId: 0x123 }, '112233'],
  ])('%s', (text, expected, bytes) => {
    const frame = read(`  can0  ${text}`);
    expect(frame).toMatchObject({ ...expected, timeUs: null, interfaceName: 'can0' });
    expect(hex(frame)).toBe(bytes);
    expect(read(` (1436509052.249713)  can0  ${text}`)).toMatchObject({ ...expected, timeUs: 1436509052249713 });
  });
});

describe('docs of an open log reader (socketcan crate, CanDumpLogFormat): lines written by candump -L', () => {
  it.each([
    '(1735270496.916858) can0 110#00112233',
    '(1735270588.936508) can0 120##500112233445566778899AABB',
    '(1735279041.257318) can1 104#R',
    '(1735279048.349278) can1 110#R4',
    '(1469439874.299654) can1 104#',
  ])('%s is written back as it was', (line) => {
    expect(formatCandumpFrame(read(line))).toBe(line);
  });
});
