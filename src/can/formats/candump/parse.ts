import { dlcOf, type IdFormat, MAX_FRAME_ID } from '../../frame/dlc.ts';
import { type CandumpFault, type CandumpFrame, ERROR_ID_BIT, FD_FLAGS } from './frame.ts';
import { Cursor } from './cursor.ts';
import { quickLine } from './quick.ts';

/**
 * One line of a log in candump's format, in either layout:
 *
 *     (1436509052.249713) can0 123#DEADBEEF          log: 3 digits 11-bit id, 8 digits 29-bit id or error report
 *     (1436509052.249713) can0 12345678##1112233     CAN FD: `##`, a digit of flags, then the bytes
 *     (1436509052.249713) can0 123#R4                remote frame that asks for 4 bytes
 *       can0  123   [4]  DE AD BE EF                 plain, with or without a time in front
 *
 * Also read: `.` between bytes, `_9` … `_F` (length code of a classical frame of 8 bytes), a direction (`R`/`T` at the end of a log line,
 * `RX`/`TX` with two flags in a plain one), text behind the bytes of a plain line. Null for a blank line.
 * Source: the comment on `parse_canframe` in can-utils' lib.h.
 */
export function parseCandumpLine(line: string, lineNumber: number): CandumpFrame | CandumpFault | null {
  return quickLine(line) ?? parseCarefully(line, lineNumber);
}

/** Every kind of line, and what is wrong with a bad one. */
export function parseCarefully(line: string, lineNumber: number): CandumpFrame | CandumpFault | null {
  const cursor = new Cursor(line);
  cursor.skipSpaces();
  if (cursor.atEnd()) return null;
  const frame = parseLine(cursor);
  if (cursor.problem === null) return frame;
  return { kind: 'fault', line: lineNumber, column: cursor.problemColumn, problem: cursor.problem };
}

interface Head {
  timeUs: number | null;
  restNs: number;
  interfaceName: string;
}

/** Null only together with a problem of the cursor. */
function parseLine(cursor: Cursor): CandumpFrame | null {
  const head: Head = { timeUs: null, restNs: 0, interfaceName: '' };
  if (cursor.isAt('(')) {
    readTime(cursor, head);
    cursor.skipSpaces();
  }
  head.interfaceName = cursor.word('an interface name');
  if (head.interfaceName.includes('#')) cursor.fail('no interface name before the frame', head.interfaceName.length);
  cursor.skipSpaces();
  const digits = cursor.hexDigitsAhead();
  return cursor.codeAt(digits) === HASH ? readLog(cursor, head, digits) : readPlain(cursor, head);
}

const HASH = 35;
const TIME_DIGITS = 9;

function readTime(cursor: Cursor, head: Head): void {
  cursor.expect('(');
  cursor.skipSpaces();
  const seconds = cursor.decimal('seconds');
  if (cursor.isAt('-')) {
    cursor.fail('the time is a date without a zone: seconds are needed, as in (1436509052.249713)');
  }
  cursor.expect('.');
  const before = cursor.position;
  const fraction = cursor.decimal('a fraction of a second');
  const digits = cursor.position - before;
  if (digits > TIME_DIGITS) cursor.fail(`${digits} decimals of a second: at most ${TIME_DIGITS}`, digits);
  cursor.expect(')');
  const nanoseconds = fraction * 10 ** (TIME_DIGITS - digits);
  const timeUs = seconds * 1e6 + Math.floor(nanoseconds / 1000);
  if (!Number.isSafeInteger(timeUs)) cursor.fail('the time is beyond what can be kept exactly');
  head.timeUs = timeUs;
  head.restNs = nanoseconds % 1000;
}

/** `123#…`, `12345678#…`. */
function readLog(cursor: Cursor, { timeUs, restNs, interfaceName }: Head, digits: number): CandumpFrame | null {
  const id = readId(cursor, digits);
  cursor.expect('#');
  if (id === null) return null;
  if (id.kind === 'error') {
    const bytes = cursor.bytes(8);
    const direction = readDirection(cursor);
    return { kind: 'error', timeUs, restNs, interfaceName, direction, errorClass: id.errorClass, bytes };
  }
  const { frameId, idFormat } = id;
  if (cursor.isAt('R') || cursor.isAt('r')) {
    cursor.advance();
    const requestedBytes = cursor.isDecimalDigit() ? cursor.decimal('a length') : 0;
    if (requestedBytes > 8) cursor.fail(`a remote frame asks for ${requestedBytes} bytes: at most 8`, 1);
    readRawDlc(cursor);
    const direction = readDirection(cursor);
    return { kind: 'remote', timeUs, restNs, interfaceName, direction, frameId, idFormat, requestedBytes };
  }
  let flags = 0;
  const fd = cursor.isAt('#');
  if (fd) {
    cursor.advance();
    if (cursor.isAt('#')) cursor.fail('CAN XL frames are not read');
    flags = cursor.hexDigit('a digit of flags');
  }
  const bytes = cursor.bytes(fd ? 64 : 8);
  if (fd) checkFdLength(cursor, bytes.length);
  const rawDlc = fd ? null : readRawDlc(cursor);
  const direction = readDirection(cursor);
  const frameFormat = fd ? 'fd' : 'classic';
  return {
    kind: 'data',
    timeUs,
    restNs,
    interfaceName,
    direction,
    frameId,
    idFormat,
    frameFormat,
    flags,
    bytes,
    rawDlc,
  };
}

function readRawDlc(cursor: Cursor): number | null {
  if (!cursor.isAt('_')) return null;
  cursor.advance();
  const dlc = cursor.hexDigit('a length code');
  if (dlc < 9) cursor.fail('a raw length code is 9 to F', 1);
  return dlc;
}

function readDirection(cursor: Cursor): 'received' | 'sent' | null {
  cursor.skipSpaces();
  if (cursor.atEnd()) return null;
  const letter = cursor.word('a direction');
  cursor.skipSpaces();
  if ((letter !== 'R' && letter !== 'T') || !cursor.atEnd()) cursor.fail('text after the frame');
  return letter === 'R' ? 'received' : 'sent';
}

/** `123   [4]  DE AD BE EF`, with `RX`/`TX` and two flag letters before the id where the log has them. */
function readPlain(cursor: Cursor, { timeUs, restNs, interfaceName }: Head): CandumpFrame | null {
  let direction: 'received' | 'sent' | null = null;
  let flags = 0;
  if (cursor.startsWith('RX') || cursor.startsWith('TX')) {
    direction = cursor.word('a direction') === 'RX' ? 'received' : 'sent';
    cursor.skipSpaces();
    if (cursor.word('flags') === 'B') flags |= FD_FLAGS.bitRateSwitch;
    cursor.skipSpaces();
    if (cursor.word('flags') === 'E') flags |= FD_FLAGS.errorStateIndicator;
    cursor.skipSpaces();
  }
  const id = readId(cursor, cursor.hexDigitsAhead());
  cursor.skipSpaces();
  cursor.expect('[');
  const before = cursor.position;
  const length = cursor.decimal('a length');
  const fd = cursor.position - before === 2;
  const most = fd ? 64 : 8;
  if (length > most) cursor.fail(`${length} bytes are more than a ${fd ? 'CAN FD' : 'classical'} frame holds`);
  cursor.expect(']');
  cursor.skipSpaces();
  if (id === null || cursor.problem !== null) return null;
  if (id.kind === 'error') {
    const bytes = cursor.spacedBytes(length);
    return { kind: 'error', timeUs, restNs, interfaceName, direction, errorClass: id.errorClass, bytes };
  }
  const { frameId, idFormat } = id;
  if (!fd && cursor.startsWith('remote request')) {
    return { kind: 'remote', timeUs, restNs, interfaceName, direction, frameId, idFormat, requestedBytes: length };
  }
  const bytes = cursor.spacedBytes(length);
  if (fd) checkFdLength(cursor, length);
  const frameFormat = fd ? 'fd' : 'classic';
  if (!fd) flags = 0;
  return {
    kind: 'data',
    timeUs,
    restNs,
    interfaceName,
    direction,
    frameId,
    idFormat,
    frameFormat,
    flags,
    bytes,
    rawDlc: null,
  };
}

type Id =
  | { readonly kind: 'frame'; readonly frameId: number; readonly idFormat: IdFormat }
  | { readonly kind: 'error'; readonly errorClass: number };

function readId(cursor: Cursor, digits: number): Id | null {
  if (digits !== 3 && digits !== 8) {
    if (digits === 0) cursor.fail('a frame id expected: 3 or 8 hexadecimal digits');
    else cursor.fail(`a frame id has 3 or 8 hexadecimal digits, not ${digits > 8 ? 'more than 8' : digits}`);
    return null;
  }
  const value = cursor.hex(digits);
  const idFormat = digits === 3 ? 'standard' : 'extended';
  if (digits === 8 && value >= ERROR_ID_BIT && value < 2 * ERROR_ID_BIT) {
    return { kind: 'error', errorClass: value - ERROR_ID_BIT };
  }
  if (value > MAX_FRAME_ID[idFormat]) {
    cursor.fail(`frame id 0x${value.toString(16).toUpperCase()} is beyond ${digits === 3 ? 11 : 29} bits`, digits);
  }
  return { kind: 'frame', frameId: value, idFormat };
}

function checkFdLength(cursor: Cursor, length: number): void {
  if (dlcOf(length, 'fd') === null) {
    cursor.fail(`no CAN FD frame has ${length} bytes: 0–8, 12, 16, 20, 24, 32, 48 or 64`);
  }
}
