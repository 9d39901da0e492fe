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

/**
 * After a fault in the statement that starts at `start`: keeps its text as unread and moves to where the next statement
 * seems to start — a keyword at the start of a line, or after a semicolon outside quotes. That place may lie before
 * the fault (a quote left open runs far); going back is bounded by `rereadsLeft`.
 */
export function recover(r: Reading, start: number, isSignal: boolean): void {
  const next = nextStatement(r, start);
  const back = r.pos - next;
  const resume = back <= 0 || back <= r.rereadsLeft ? next : r.pos;
  if (back > 0 && resume === next) r.rereadsLeft -= back;
  const text = normalisedLines(r.text, start, resume);
  const message = isSignal ? r.current?.message : undefined;
  if (message !== undefined) message.unread = appended(message.unread, text);
  else r.unread = appended(r.unread, text);
  r.pos = resume;
}

function nextStatement(r: Reading, start: number): number {
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
  return lines.includes('\r') ? lines.replace(/\r\n?/g, '\n') : lines;
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
  if (!block.includes('\n')) return block;
  return block
    .split('\n')
    .map(withoutIndent)
    .filter((line) => line !== '')
    .join('\n');
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
