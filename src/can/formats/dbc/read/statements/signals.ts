import { classOf, NAME } from '../../characters.ts';
import { quoted } from '../../faults.ts';
import { NO_NODE } from '../../keywords.ts';
import { NO_ATTRIBUTES, type DbcSignal, type Mutable } from '../../model.ts';
import {
  COLON,
  COMMA,
  endsLine,
  isKeyword,
  looksLikeStatement,
  QUOTE,
  skipBlank,
  take,
  takeLimit,
  takeName,
  takeNumber,
  takeText,
  takeWhole,
} from '../scan.ts';
import { fail, report } from '../reading.ts';
import type { Outcome, Reading } from '../reading.ts';
import { noteNode } from './messages.ts';

const PIPE = 0x7c;
const AT = 0x40;
const OPEN = 0x28;
const SHUT = 0x29;
const OPEN_SQUARE = 0x5b;
const SHUT_SQUARE = 0x5d;
const PLUS = 0x2b;
const MINUS = 0x2d;
const ZERO = 0x30;
const ONE = 0x31;
const LF = 0x0a;
const CR = 0x0d;

const NO_RECEIVERS: readonly string[] = [];

/** `SG_ Name [M|m0|m0M] : start|length@order sign (factor,offset) [min|max] "unit" Receiver,Receiver` */
export function readSignal(r: Reading): Outcome {
  const name = takeName(r);
  const at = r.pos - name.length;
  if (name === '') return fail(r, r.pos, 'the name of the signal');
  if (r.unusualName) report(r, 'name-unusual', at, quoted(name));

  let isMultiplexer = false;
  let multiplexValue: bigint | null = null;
  if (!take(r, COLON)) {
    const indicatorAt = r.pos;
    const indicator = takeName(r);
    if (indicator === 'M') isMultiplexer = true;
    else {
      const match = /^m(\d{1,20})(M?)$/.exec(indicator);
      if (match === null) return fail(r, indicatorAt, 'a colon, M, or m and a number');
      multiplexValue = BigInt(match[1] as string);
      isMultiplexer = match[2] === 'M';
    }
    if (!take(r, COLON)) return fail(r, r.pos, 'a colon');
  }

  const startBit = takeWhole(r);
  if (startBit < 0) return fail(r, r.pos, 'the start bit');
  if (!take(r, PIPE)) return fail(r, r.pos, '| between start bit and length');
  const lengthBits = takeWhole(r);
  if (lengthBits < 0) return fail(r, r.pos, 'the length in bits');
  if (!take(r, AT)) return fail(r, r.pos, '@ before the byte order');
  const little = take(r, ONE);
  if (!little && !take(r, ZERO)) return fail(r, r.pos, '1 (little-endian) or 0 (big-endian)');
  const signed = take(r, MINUS);
  if (!signed && !take(r, PLUS)) return fail(r, r.pos, '+ (unsigned) or - (signed)');

  if (!take(r, OPEN)) return fail(r, r.pos, '( before the factor');
  const factor = takeNumber(r);
  if (factor === null) return fail(r, r.pos, 'the factor');
  if (!take(r, COMMA)) return fail(r, r.pos, 'a comma between factor and offset');
  const offset = takeNumber(r);
  if (offset === null) return fail(r, r.pos, 'the offset');
  if (!take(r, SHUT)) return fail(r, r.pos, ') after the offset');
  if (!take(r, OPEN_SQUARE)) return fail(r, r.pos, '[ before the minimum');
  const min = takeLimit(r);
  if (min === null) return fail(r, r.pos, 'the minimum');
  if (!take(r, PIPE)) return fail(r, r.pos, '| between minimum and maximum');
  const max = takeLimit(r);
  if (max === null) return fail(r, r.pos, 'the maximum');
  if (!take(r, SHUT_SQUARE)) return fail(r, r.pos, '] after the maximum');
  skipBlank(r);
  if (r.text.charCodeAt(r.pos) !== QUOTE) return fail(r, r.pos, 'the unit in quotes');
  const unit = takeText(r);
  if (unit === null) return 'failed';

  const entry = r.current;
  if (entry === null) {
    r.failure = 'signal-without-message';
    r.failedAt = at;
    r.expected = name;
    return 'failed';
  }
  const signal: Mutable<DbcSignal> = {
    name,
    shortName: name,
    isMultiplexer,
    multiplexValue,
    extendedMultiplexing: null,
    startBit,
    lengthBits,
    order: little ? 'little' : 'big',
    signed,
    number: 'integer',
    factor,
    offset,
    min,
    max,
    unit,
    receivers: takeReceivers(r, name),
    comment: null,
    states: null,
    attributes: NO_ATTRIBUTES,
  };
  if (r.apart) report(r, 'signal-apart', at, quoted(name), quoted(entry.message.name));
  r.partsLeft--;
  entry.message.signals.push(signal);
  entry.signalOffsets.push(at);
  entry.byName = null;
  return 'read';
}

/** Node names after the unit: separated by commas or blanks, to the end of the line, or further after a comma. */
function takeReceivers(r: Reading, by: string): readonly string[] {
  const text = r.text;
  let receivers: string[] | null = null;
  let afterComma = false;
  for (;;) {
    const from = r.pos;
    skipBlank(r);
    const at = r.pos;
    const code = text.charCodeAt(at);
    if (code === COMMA) {
      r.pos++;
      afterComma = true;
      continue;
    }
    if ((classOf(code) & NAME) === 0) break;
    const nextLine = !afterComma && holdsLineEnd(text, from, at);
    if (nextLine && receivers !== null) break;
    const name = takeName(r);
    if (isKeyword(name) || (nextLine && (looksLikeStatement(name) || !endsLine(text, r.pos)))) {
      r.pos = at;
      break;
    }
    afterComma = false;
    if (name === NO_NODE) continue;
    noteNode(r, name, at, by);
    if (--r.partsLeft < 0) break;
    if (receivers === null) receivers = [name];
    else receivers.push(name);
  }
  return receivers ?? NO_RECEIVERS;
}

function holdsLineEnd(text: string, from: number, to: number): boolean {
  for (let pos = from; pos < to; pos++) {
    const code = text.charCodeAt(pos);
    if (code === LF || code === CR) return true;
  }
  return false;
}
