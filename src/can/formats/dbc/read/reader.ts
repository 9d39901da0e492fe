import { BLANK, classOf } from '../characters.ts';
import { applyLongNames } from '../long-names.ts';
import { quoted } from '../faults.ts';
import { STATEMENT_FORMS, UNMODELLED_KEYWORDS } from '../keywords.ts';
import { SEMICOLON, skipBlank, takeName } from './scan.ts';
import { report } from './reading.ts';
import type { Outcome, Reading } from './reading.ts';
import { keepPending, keepRest, keptText, nextStatement, noteRemarks, recover } from './recovery.ts';
import {
  applyDefaults,
  readAttribute,
  readDefault,
  readDefinition,
  readRelationDefault,
  readRelationDefinition,
} from './statements/attributes.ts';
import { readComment } from './statements/comments.ts';
import { readEnvironmentSize, readEnvironmentVariable } from './statements/environment.ts';
import { readBitTiming, readNewSymbols, readVersion } from './statements/header.ts';
import { readUnmodelled } from './statements/kept.ts';
import { readMessage, readTransmitters } from './statements/messages.ts';
import { readNodes } from './statements/nodes.ts';
import { readRelationAttribute } from './statements/relations.ts';
import { readExtendedMultiplexing, readSignalGroup, readValueType } from './statements/signal-details.ts';
import { readSignal } from './statements/signals.ts';
import { readStates, readValueTable } from './statements/states.ts';

type StatementReader = (r: Reading) => Outcome;

const READERS: ReadonlyMap<string, StatementReader> = new Map<string, StatementReader>([
  ['VERSION', readVersion],
  ['NS_', readNewSymbols],
  ['BS_', readBitTiming],
  ['BU_', readNodes],
  ['VAL_TABLE_', readValueTable],
  ['BO_', readMessage],
  ['SG_', readSignal],
  ['BO_TX_BU_', readTransmitters],
  ['EV_', readEnvironmentVariable],
  ['ENVVAR_DATA_', readEnvironmentSize],
  ['CM_', readComment],
  ['BA_DEF_', readDefinition],
  ['BA_DEF_REL_', readRelationDefinition],
  ['BA_DEF_DEF_', readDefault],
  ['BA_DEF_DEF_REL_', readRelationDefault],
  ['BA_', readAttribute],
  ['BA_REL_', readRelationAttribute],
  ['VAL_', readStates],
  ['SIG_GROUP_', readSignalGroup],
  ['SIG_VALTYPE_', readValueType],
  ['SG_MUL_VAL_', readExtendedMultiplexing],
  ...[...UNMODELLED_KEYWORDS].map((keyword): [string, StatementReader] => [keyword, readUnmodelled]),
]);

/** What may watch and stop a reading. */
export interface ReadingWatch {
  readonly onProgress?: (fraction: number) => void;
  readonly isCancelled?: () => boolean;
}

const WATCH_EVERY = 1 << 18;

/** Reads every statement of the text into `r`. Linear in the length of the text; never throws. */
export function readStatements(r: Reading, watch: ReadingWatch): void {
  const deferred: number[] = [];
  let nextWatch = WATCH_EVERY;
  while (skipToStatement(r)) {
    if (r.pos >= nextWatch) {
      nextWatch = r.pos + WATCH_EVERY;
      if (watch.isCancelled?.() === true) {
        report(r, 'cancelled', r.pos);
        keepRest(r);
        break;
      }
      watch.onProgress?.(r.pos / r.end);
    }
    readStatement(r, deferred);
    if (r.partsLeft < 0) {
      report(r, 'too-many-parts', r.pos, String(r.maxParts));
      keepRest(r);
      break;
    }
  }
  r.finalPass = true;
  r.current = null;
  for (const start of deferred) {
    r.pos = start;
    readStatement(r, deferred);
  }
  keepPending(r);
  applyDefaults(r);
  applyLongNames(r);
}

/** Moves to the next statement, past blanks, remarks and stray semicolons; false at the end of the text. */
function skipToStatement(r: Reading): boolean {
  for (;;) {
    skipBlank(r);
    if (r.remarkSpans.length > 0) noteRemarks(r);
    if (r.pos >= r.end) return false;
    if (r.text.charCodeAt(r.pos) !== SEMICOLON) return true;
    r.pos++;
  }
}

function readStatement(r: Reading, deferred: number[]): void {
  const start = r.pos;
  const faultsBefore = r.faults.length;
  const faultCountBefore = r.faultCount;
  const keyword = takeName(r);
  const known = READERS.get(keyword);
  r.keyword = keyword;
  r.cannotKeep = false;
  r.longTextAt = -1;
  const from = r.pos;
  let outcome = (known ?? readUnknown)(r);
  if (outcome === 'failed' && r.sawBackslashQuote) outcome = readWithFinalBackslash(r, known ?? readUnknown, from);
  r.sawBackslashQuote = false;
  if (keyword !== 'SG_' && outcome !== 'failed') r.apart = keyword !== 'BO_';

  if (outcome !== 'failed') keepPending(r);
  switch (outcome) {
    case 'read':
      if (r.remarkSpans.length > 0) noteRemarks(r);
      return;
    case 'failed':
      r.remarkSpans.length = 0;
      r.partsLeft--;
      giveUp(r, start, known !== undefined);
      return;
    case 'unmodelled':
      r.remarkSpans.length = 0;
      r.partsLeft--;
      if (known === undefined) report(r, 'keyword-unknown', start, quoted(keyword));
      r.kept.push({ reason: known === undefined ? 'unknown' : 'unmodelled', text: keptText(r, start) });
      return;
    case 'missing':
      r.remarkSpans.length = 0;
      r.partsLeft--;
      if (!r.finalPass) {
        // Perhaps it refers forward: read it once more when all else is read, and count its faults only then.
        r.faults.length = faultsBefore;
        r.faultCount = faultCountBefore;
        deferred.push(start);
        return;
      }
      report(r, r.missing, r.missingAt, keyword, r.missingName);
      if (r.cannotKeep) {
        recover(r, start, nextStatement(r, start), false);
        return;
      }
      r.kept.push({ reason: 'unattached', text: keptText(r, start) });
      return;
  }
}

/** A word in capitals that ends in an underscore may be a statement of another dialect; anything else is garbage. */
function readUnknown(r: Reading): Outcome {
  const word = r.keyword;
  if (word.length > 40 || !/^[A-Z][A-Z0-9_]*_$/.test(word)) {
    r.failure = 'text-unreadable';
    r.failedAt = r.pos - word.length;
    return 'failed';
  }
  return readUnmodelled(r);
}

function readWithFinalBackslash(r: Reading, read: StatementReader, from: number): Outcome {
  const length = r.pos - from;
  if (length > r.rereadsLeft) return 'failed';
  r.rereadsLeft -= Math.max(length, 1);
  const { failure, failedAt, expected } = r;
  r.pos = from;
  r.remarkSpans.length = 0;
  r.backslashEndsText = true;
  let outcome = read(r);
  r.backslashEndsText = false;
  r.cannotKeep = true;
  if (outcome === 'unmodelled') outcome = 'failed';
  if (outcome === 'failed') Object.assign(r, { failure, failedAt, expected });
  else report(r, 'string-ends-in-backslash', from);
  return outcome;
}

/** Reports the failure of the statement that starts at `start` and goes on after it. */
function giveUp(r: Reading, start: number, known: boolean): void {
  const next = nextStatement(r, start);
  // A statement that seems to start inside a text: more likely the text was left open.
  if (r.longTextAt >= start && next > r.longTextAt && next < r.failedAt) {
    r.failure = 'string-not-closed';
    r.failedAt = r.longTextAt;
  }
  if (r.faults.length < r.maxFaults) reportFailure(r, start, known);
  else r.faultCount++;
  recover(r, start, next, r.keyword === 'SG_');
}

function reportFailure(r: Reading, start: number, known: boolean): void {
  const { keyword } = r;
  switch (r.failure) {
    case 'text-unreadable':
      report(r, 'text-unreadable', start, quotedAt(r, start));
      return;
    case 'signal-without-message':
      report(r, 'signal-without-message', r.failedAt, quoted(r.expected));
      return;
    case 'string-not-closed':
      report(r, 'string-not-closed', r.failedAt, known ? keyword : quoted(keyword));
      return;
    default: {
      const at = endOfWords(r.text, r.failedAt);
      const found = at >= r.end ? 'the end of the file' : quotedAt(r, at);
      const form = STATEMENT_FORMS.get(keyword) ?? `${keyword} … ;`;
      report(r, 'statement-unreadable', at, `${keyword}: expected ${r.expected}, found ${found}`, form);
    }
  }
}

/** `at`, or the end of the words before it when they stand on an earlier line: there something is missing. */
function endOfWords(text: string, at: number): number {
  let pos = at;
  let crossed = false;
  while (pos > 0 && (classOf(text.charCodeAt(pos - 1)) & BLANK) !== 0) {
    pos--;
    crossed ||= text.charCodeAt(pos) === 0x0a || text.charCodeAt(pos) === 0x0d;
  }
  return crossed ? pos : at;
}

function quotedAt(r: Reading, at: number): string {
  let end = at;
  while (end < r.end && end < at + 24 && r.text.charCodeAt(end) !== 0x0a && r.text.charCodeAt(end) !== 0x0d) end++;
  return end === at ? 'the end of the line' : quoted(r.text.slice(at, end));
}
