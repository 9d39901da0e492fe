/** Statements that say more about signals defined before: float kinds, extended multiplexing, groups. */
import { quoted } from '../../faults.ts';
import type { DbcSelectorRange, DbcSignal, Mutable } from '../../model.ts';
import { multiplexingStatement, valueTypeStatement } from '../../write/statement-text.ts';
import { close, COLON, COMMA, isKeyword, skipBlank, startsLine, take, takeName, takeWhole } from '../scan.ts';
import { fail, findSignal, missing, report, supersede } from '../reading.ts';
import type { Outcome, Reading } from '../reading.ts';

const MINUS = 0x2d;
const NUMBER_KINDS = ['integer', 'float32', 'float64'] as const;
const MAX_RANGE_DIGITS = 20;

/** `SIG_VALTYPE_ id Signal : 1;` with 0 integer, 1 float of 32 bits, 2 float of 64 bits. */
export function readValueType(r: Reading): Outcome {
  const owner = takeSignal(r);
  if (owner === null) return 'failed';
  take(r, COLON);
  skipBlank(r);
  const at = r.pos;
  const number = NUMBER_KINDS[takeWhole(r)];
  if (number === undefined) return fail(r, at, '0 (integer), 1 (float of 32 bits) or 2 (float of 64 bits)');
  if (close(r) === 'failed') return 'failed';
  const { signal, id, name } = owner;
  if (signal === null) return 'missing';
  if (signal.number !== 'integer') {
    const what = `the number kind of ${name}`;
    // Integer is what a signal is without this statement, so an earlier one kept in the file would come to count again.
    if (number === 'integer') report(r, 'statement-repeated', at, what);
    else supersede(r, valueTypeStatement(id, name, signal.number), at, what);
  }
  signal.number = number;
  return 'read';
}

/** `SG_MUL_VAL_ id Signal Multiplexer 0-3, 5-5;` */
export function readExtendedMultiplexing(r: Reading): Outcome {
  const owner = takeSignal(r);
  if (owner === null) return 'failed';
  const selector = takeName(r);
  const at = r.pos - selector.length;
  if (selector === '') return fail(r, at, 'the name of the multiplexer');
  const ranges: DbcSelectorRange[] = [];
  for (;;) {
    skipBlank(r);
    const from = takeDigits(r);
    if (from === null) break;
    const to = take(r, MINUS) ? takeDigits(r) : from;
    if (to === null) return fail(r, r.pos, 'the end of the range');
    if (--r.partsLeft < 0) break;
    ranges.push({ from, to });
    take(r, COMMA);
  }
  if (ranges.length === 0) return fail(r, r.pos, 'a range such as 0-3');
  if (close(r) === 'failed') return 'failed';
  const { signal, id, name } = owner;
  if (signal === null) return 'missing';
  if (signal.extendedMultiplexing !== null) {
    supersede(r, multiplexingStatement(id, name, signal.extendedMultiplexing), at, `the multiplexing of ${name}`);
  }
  signal.extendedMultiplexing = { selector, ranges };
  return 'read';
}

function takeDigits(r: Reading): bigint | null {
  skipBlank(r);
  const from = r.pos;
  let pos = from;
  for (let code = r.text.charCodeAt(pos); code >= 0x30 && code <= 0x39; code = r.text.charCodeAt(++pos));
  if (pos === from || pos - from > MAX_RANGE_DIGITS) return null;
  r.pos = pos;
  return BigInt(r.text.slice(from, pos));
}

function takeSignal(r: Reading): { signal: Mutable<DbcSignal> | null; id: number; name: string } | null {
  skipBlank(r);
  const at = r.pos;
  const id = takeWhole(r);
  const name = takeName(r);
  const nameAt = r.pos - name.length;
  if (id < 0 || name === '') {
    fail(r, id < 0 ? at : nameAt, 'a frame id and the name of a signal');
    return null;
  }
  const entry = r.entriesById.get(id);
  if (entry === undefined) {
    missing(r, 'message-unknown', String(id), at);
    return { signal: null, id, name };
  }
  const signal = findSignal(entry, name) ?? null;
  if (signal === null) missing(r, 'signal-unknown', quoted(name), nameAt);
  return { signal, id, name };
}

/** `SIG_GROUP_ id Name repetitions : Signal Signal;` */
export function readSignalGroup(r: Reading): Outcome {
  skipBlank(r);
  const at = r.pos;
  const id = takeWhole(r);
  if (id < 0) return fail(r, at, 'a frame id');
  const name = takeName(r);
  if (name === '') return fail(r, r.pos, 'the name of the group');
  const repetitions = takeWhole(r);
  if (repetitions < 0) return fail(r, r.pos, 'the number of repetitions');
  if (!take(r, COLON)) return fail(r, r.pos, 'a colon');
  const signals: string[] = [];
  const offsets: number[] = [];
  for (;;) {
    const signal = takeName(r);
    const signalAt = r.pos - signal.length;
    if (signal === '') {
      if (take(r, COMMA)) continue;
      break;
    }
    if (isKeyword(signal) && startsLine(r.text, signalAt)) {
      r.pos = signalAt;
      break;
    }
    if (--r.partsLeft < 0) break;
    signals.push(signal);
    offsets.push(signalAt);
  }
  if (close(r) === 'failed') return 'failed';
  const entry = r.entriesById.get(id);
  if (entry === undefined) return missing(r, 'message-unknown', String(id), at);
  signals.forEach((signal, index) => {
    if (findSignal(entry, signal) === undefined) {
      report(r, 'signal-unknown', offsets[index] as number, `Group ${quoted(name)}`, quoted(signal));
    }
  });
  entry.message.signalGroups.push({ name, repetitions, signals });
  r.partsLeft--;
  return 'read';
}
