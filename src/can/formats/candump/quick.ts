import { type CandumpData, ERROR_ID_BIT } from './frame.ts';
import { MAX_FRAME_ID } from '../../frame/dlc.ts';
import { HEX, NO_DIGIT } from './cursor.ts';

const HASH = 35;
const OPEN = 40;
const CLOSE = 41;
const DOT = 46;
const SPACE = 32;
/** `(1.000000) c 123#` */
const SHORTEST = 17;
/** Digits of the seconds; with their microseconds they may go beyond what is exact, which is looked at. */
const MOST_SECOND_DIGITS = 10;

/**
 * The commonest line of a log, `(1436509052.249713) can0 123#DEADBEEF`: a classical data frame with six decimals of a second and
 * nothing behind it. Null for every other line, good or bad, which `parseCandumpLine` then reads with care. Logs hold millions of these:
 * this way takes a third of the time.
 */
export function quickLine(line: string): CandumpData | null {
  // A character is never looked for beyond the end: that alone would make every later look slow.
  const { length } = line;
  if (length < SHORTEST || line.charCodeAt(0) !== OPEN) return null;
  let at = 1;
  let timeUs = 0;
  for (; at < length; at += 1) {
    const digit = line.charCodeAt(at) - 48;
    if (digit < 0 || digit > 9) break;
    timeUs = timeUs * 10 + digit;
  }
  if (at === 1 || at > 1 + MOST_SECOND_DIGITS || at + 9 > length || line.charCodeAt(at) !== DOT) return null;
  const end = at + 7;
  for (at += 1; at < end; at += 1) {
    const digit = line.charCodeAt(at) - 48;
    if (digit < 0 || digit > 9) return null;
    timeUs = timeUs * 10 + digit;
  }
  if (timeUs > Number.MAX_SAFE_INTEGER) return null;
  if (line.charCodeAt(at) !== CLOSE || line.charCodeAt(at + 1) !== SPACE) return null;
  const nameAt = at + 2;
  for (at = nameAt; at < length; at += 1) {
    const code = line.charCodeAt(at);
    if (code <= SPACE || code === HASH) break;
  }
  if (at === nameAt || at >= length || line.charCodeAt(at) !== SPACE) return null;
  const nameEnd = at;
  const idAt = at + 1;
  let frameId = 0;
  for (at = idAt; at < length && at < idAt + 9; at += 1) {
    const code = line.charCodeAt(at);
    const digit = code < 128 ? HEX[code]! : NO_DIGIT;
    if (digit === NO_DIGIT) break;
    frameId = frameId * 16 + digit;
  }
  const digits = at - idAt;
  const idFormat = digits === 3 ? 'standard' : 'extended';
  if ((digits !== 3 && digits !== 8) || at >= length || line.charCodeAt(at) !== HASH) return null;
  if (frameId > MAX_FRAME_ID[idFormat] || frameId >= ERROR_ID_BIT) return null;
  at += 1;
  const count = (length - at) >> 1;
  if (count > 8 || ((length - at) & 1) === 1) return null;
  const bytes = new Uint8Array(count);
  for (let index = 0; index < count; index += 1, at += 2) {
    const first = line.charCodeAt(at);
    const second = line.charCodeAt(at + 1);
    const high = first < 128 ? HEX[first]! : NO_DIGIT;
    const low = second < 128 ? HEX[second]! : NO_DIGIT;
    if (high === NO_DIGIT || low === NO_DIGIT) return null;
    bytes[index] = high * 16 + low;
  }
  // In an order of their own: the machine then lays these objects out apart from those read with care, whose fields hold other kinds
  // of values (a time may be null); laid out as those are, one odd line would make all that follow take three times as long.
  return {
    frameId,
    timeUs,
    bytes,
    kind: 'data',
    interfaceName: line.slice(nameAt, nameEnd),
    idFormat,
    frameFormat: 'classic',
    restNs: 0,
    direction: null,
    flags: 0,
    rawDlc: null,
  };
}
