import { classOf, BLANK } from '../../characters.ts';
import { fail } from '../reading.ts';
import type { Outcome, Reading } from '../reading.ts';
import { keywordAt, QUOTE, SEMICOLON, skipBlank, startsLine, takeText } from '../scan.ts';

/**
 * Moves past a statement that is kept word for word: to its semicolon, over texts in quotes, but never into the next
 * statement. What is kept so reads the same again, whatever stands after it.
 */
export function readUnmodelled(r: Reading): Outcome {
  for (;;) {
    const before = r.pos;
    skipBlank(r);
    const at = r.pos;
    if (at >= r.end) return fail(r, at, 'a semicolon');
    const code = r.text.charCodeAt(at);
    if (code === SEMICOLON) {
      r.pos++;
      return 'unmodelled';
    }
    if (code === QUOTE) {
      if (takeText(r) === null) return 'failed';
      continue;
    }
    if (at > before && keywordAt(r.text, at) !== '' && startsLine(r.text, at)) return fail(r, at, 'a semicolon');
    r.pos++;
    while (r.pos < r.end && isPartOfWord(r.text.charCodeAt(r.pos))) r.pos++;
  }
}

function isPartOfWord(code: number): boolean {
  return code !== QUOTE && code !== SEMICOLON && code !== 0x2f && (classOf(code) & BLANK) === 0;
}
