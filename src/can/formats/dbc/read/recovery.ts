/** What happens to text that is no readable statement, and to remarks: nothing is lost, and reading goes on. */
import { BLANK, classOf } from '../characters.ts';
import { report } from './reading.ts';
import type { Reading } from './reading.ts';
import { keywordAt, QUOTE, SEMICOLON } from './scan.ts';

/** Lines that could not be read are written back behind this mark, and known by it on the next reading. */
export const UNREAD_MARK = '//unread:';

const BACKSLASH = 0x5c;
const LF = 0x0a;
const CR = 0x0d;
const SLASH = 0x2f;

/**
 * After a fault in the statement that starts at `start`: keeps its text as unread and moves to `next`, where the next
 * statement seems to start. That place may lie before the fault (a quote left open runs far); going back is bounded by
 * `rereadsLeft`.
 */
export function recover(r: Reading, start: number, next: number, isSignal: boolean): void {
  const back = r.pos - next;
  const resume = back <= 0 || back <= r.rereadsLeft ? next : r.pos;
  if (back > 0 && resume === next) r.rereadsLeft -= back;
  const message = isSignal ? r.current?.message : undefined;
  const { pending } = r;
  // What follows straight on something unread is one piece with it: garbage may fail millions of times.
  if (pending !== null && pending.message === message && !r.finalPass) pending.to = resume;
  else {
    keepPending(r);
    r.pending = { from: start, to: resume, message };
  }
  r.pos = resume;
}

/** Keeps all that is left of the text as unread: reading ends here. */
export function keepRest(r: Reading): void {
  keepPending(r);
  r.pending = { from: r.pos, to: r.end, message: undefined };
}

/** Takes the unread piece at hand, if any, over into what it belongs to. Call before anything else is taken from the text. */
export function keepPending(r: Reading): void {
  if (r.pending === null) return;
  const { from, to, message } = r.pending;
  r.pending = null;
  const lines = normalisedLines(r.text, from, to);
  if (message !== undefined) message.unread = appended(message.unread, lines);
  else r.unread = appended(r.unread, lines);
}

/** Where the next statement seems to start: a keyword at the start of a line, or after a semicolon outside quotes. */
export function nextStatement(r: Reading, start: number): number {
  const { text, end } = r;
  let quoted = text.charCodeAt(start) === QUOTE;
  for (let pos = start + 1; pos < end; pos++) {
    const code = text.charCodeAt(pos);
    if (code > SEMICOLON && code < 0x7f) continue;
    if (code === QUOTE) {
      if (text.charCodeAt(pos - 1) !== BACKSLASH) quoted = !quoted;
    } else if (code === LF || code === CR || (code === SEMICOLON && !quoted)) {
      let at = pos + 1;
      for (
        let blank = text.charCodeAt(at);
        blank === 0x20 || blank === 0x09 || blank === 0xa0;
        blank = text.charCodeAt(++at)
      );
      if (keywordAt(text, at) !== '') return at;
      pos = at - 1;
    }
  }
  return end;
}

/** Text from `from` to `to` without blanks at its end, each line end as `\n`. */
function normalisedLines(text: string, from: number, to: number): string {
  let end = to;
  while (end > from && (classOf(text.charCodeAt(end - 1)) & BLANK) !== 0) end--;
  const lines = text.slice(from, end);
  return lines.includes('\r') ? withLineFeeds(lines) : lines;
}

const CHUNK = 4096;

/** `text` with CR LF and CR as LF. By character code: a replacement for each of millions of matches costs gigabytes. */
function withLineFeeds(text: string): string {
  const units = new Array<number>(CHUNK).fill(0);
  let used = 0;
  let result = '';
  for (let pos = 0; pos < text.length; pos++) {
    const code = text.charCodeAt(pos);
    if (code === CR && text.charCodeAt(pos + 1) === LF) continue;
    units[used++] = code === CR ? LF : code;
    if (used === CHUNK) {
      result += String.fromCharCode.apply(null, units);
      used = 0;
    }
  }
  return result + String.fromCharCode.apply(null, units.slice(0, used));
}

function appended(before: string, lines: string): string {
  return before === '' ? lines : `${before}\n${lines}`;
}

/** The words of a statement that is kept, from `start` to where reading stands, with its semicolon. */
export function keptText(r: Reading, start: number): string {
  const text = normalisedLines(r.text, start, r.pos);
  return text.endsWith(';') ? text : `${text};`;
}

/** Takes over the remarks noted since the last statement: as remarks, or as lines that an earlier reading left unread. */
export function noteRemarks(r: Reading): void {
  keepPending(r);
  const spans = r.remarkSpans;
  for (let i = 0; i < spans.length; i += 2) {
    const block = normalisedLines(r.text, spans[i] as number, spans[i + 1] as number);
    if (block.includes(UNREAD_MARK)) noteLines(r, block, spans[i] as number);
    else r.remarks = appended(r.remarks, plainRemarks(block));
  }
  spans.length = 0;
}

/** A block of remark lines may hold blank lines and indentation between them; both go. */
function plainRemarks(block: string): string {
  if (!holdsIndent(block)) return block;
  return block
    .split('\n')
    .map(withoutIndent)
    .filter((line) => line !== '')
    .join('\n');
}

/** True when some line of the block but the first does not start with `/`. */
function holdsIndent(block: string): boolean {
  for (let at = block.indexOf('\n'); at >= 0; at = block.indexOf('\n', at + 1)) {
    if (block.charCodeAt(at + 1) !== SLASH) return true;
  }
  return false;
}

function withoutIndent(line: string): string {
  let from = 0;
  while (from < line.length && (classOf(line.charCodeAt(from)) & BLANK) !== 0) from++;
  return from === 0 ? line : line.slice(from);
}

function noteLines(r: Reading, block: string, offset: number): void {
  const remarks: string[] = [];
  const unread: string[] = [];
  for (const written of block.split('\n')) {
    const line = withoutIndent(written);
    if (line.startsWith(UNREAD_MARK))
      unread.push(line.slice(UNREAD_MARK.length + (line[UNREAD_MARK.length] === ' ' ? 1 : 0)));
    else if (line !== '') remarks.push(line);
  }
  if (remarks.length > 0) r.remarks = appended(r.remarks, remarks.join('\n'));
  if (unread.length === 0) return;
  report(r, 'unread-before', offset);
  const message = r.current?.message;
  if (message !== undefined) message.unread = appended(message.unread, unread.join('\n'));
  else r.unread = appended(r.unread, unread.join('\n'));
}
