import { COLON, SEMICOLON, skipBlank, take, takeName, takeText } from '../scan.ts';
import { classOf, BLANK, WORD } from '../../characters.ts';
import { quotedText } from '../../write/statement-text.ts';
import { fail, report } from '../reading.ts';
import type { Outcome, Reading } from '../reading.ts';

const LF = 0x0a;
const CR = 0x0d;
const SLASH = 0x2f;

/** `VERSION "text"`. The first one counts. */
export function readVersion(r: Reading): Outcome {
  const at = r.pos;
  const version = takeText(r);
  if (version === null) return 'failed';
  if (r.version === null) r.version = version;
  else {
    r.kept.push({ reason: 'unattached', text: `VERSION ${quotedText(version)}` });
    report(r, 'statement-repeated', at, 'VERSION, of which the first counts');
  }
  return 'read';
}

/** `NS_ :` and lines of one or more bare words; ends at the first line that is anything else. */
export function readNewSymbols(r: Reading): Outcome {
  if (!take(r, COLON)) return fail(r, r.pos, 'a colon');
  for (;;) {
    skipBlank(r);
    const lineEnd = endOfWords(r.text, r.pos);
    if (lineEnd < 0) return 'read';
    while (r.pos < lineEnd) {
      const symbol = takeName(r);
      if (symbol === '') break;
      if (--r.partsLeft < 0) return 'read';
      r.newSymbols.push(symbol);
      while (r.pos < lineEnd && (classOf(r.text.charCodeAt(r.pos)) & BLANK) !== 0) r.pos++;
    }
  }
}

/** End of the line at `from` when it holds only words of capitals, digits and underscore; -1 when it does not. */
function endOfWords(text: string, from: number): number {
  let pos = from;
  for (; pos < text.length; pos++) {
    const code = text.charCodeAt(pos);
    if (code === 0x0a || code === 0x0d) break;
    const flags = classOf(code);
    const lowerCase = code >= 0x61 && code <= 0x7a;
    if ((flags & (BLANK | WORD)) === 0 || lowerCase) return -1;
  }
  return pos === from ? -1 : pos;
}

/**
 * `BS_:` and what stands behind it on its line: baud rate and timing registers, usually nothing. Ends at a letter, as
 * another statement may follow on the line. The first one counts.
 */
export function readBitTiming(r: Reading): Outcome {
  if (!take(r, COLON)) return fail(r, r.pos, 'a colon');
  const from = r.pos;
  const timing = takeToLetter(r);
  if (r.bitTiming === null) r.bitTiming = timing;
  else {
    if (timing !== '') r.kept.push({ reason: 'unattached', text: `BS_: ${timing}` });
    report(r, 'statement-repeated', from, 'BS_, of which the first counts');
  }
  return 'read';
}

function takeToLetter(r: Reading): string {
  const { text } = r;
  let pos = r.pos;
  let from = -1;
  let to = pos;
  for (; pos < r.end; pos++) {
    const code = text.charCodeAt(pos);
    const lower = code | 0x20;
    if (code === LF || code === CR || code === SEMICOLON || (lower >= 0x61 && lower <= 0x7a)) break;
    if (code === SLASH && text.charCodeAt(pos + 1) === SLASH) break;
    if ((classOf(code) & BLANK) !== 0) continue;
    if (from < 0) from = pos;
    to = pos + 1;
  }
  r.pos = pos;
  return from < 0 ? '' : text.slice(from, to);
}
