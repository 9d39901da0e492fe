import { findNodeAtLocation, parseTree, printParseErrorCode, visit, type Node, type ParseError } from 'jsonc-parser';
import type { DocumentFault, DocumentPath } from './document-fault.ts';

export interface Place {
  readonly line: number;
  readonly column: number;
}

/** Deeper documents are refused: ours nest less than 12 levels. */
const MAX_DEPTH = 64;

/** Turns offsets into lines and columns (from 1). */
function lineIndex(text: string): (offset: number) => Place {
  const starts = [0];
  for (let at = text.indexOf('\n'); at >= 0; at = text.indexOf('\n', at + 1)) starts.push(at + 1);
  return (offset) => {
    let low = 0;
    let high = starts.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (starts[middle]! <= offset) low = middle;
      else high = middle - 1;
    }
    return { line: low + 1, column: offset - starts[low]! + 1 };
  };
}

/** The place of the first bracket that nests deeper than allowed; null when none does. */
function tooDeepAt(text: string): number | null {
  let depth = 0;
  let inString = false;
  for (let at = 0; at < text.length; at += 1) {
    const code = text.charCodeAt(at);
    if (inString) {
      if (code === 0x5c) at += 1;
      else if (code === 0x22) inString = false;
    } else if (code === 0x22) inString = true;
    else if (code === 0x7b || code === 0x5b) {
      depth += 1;
      if (depth > MAX_DEPTH) return at;
    } else if (code === 0x7d || code === 0x5d) depth -= 1;
  }
  return null;
}

/** Line and column of each path; of the key itself where `atKey` says so. A path which is absent gives its nearest parent. */
export function locatePaths(text: string, paths: readonly DocumentPath[], atKey: readonly boolean[]): Place[] {
  const placeOf = lineIndex(text);
  const root = tooDeepAt(text) === null ? parseTree(text) : undefined;
  if (!root) return paths.map(() => ({ line: 1, column: 1 }));
  return paths.map((path, index) => {
    let node: Node | undefined;
    let length = path.length;
    for (; length >= 0 && !node; length -= 1) node = findNodeAtLocation(root, [...path.slice(0, length)]);
    const found = node ?? root;
    const complete = length + 1 === path.length;
    const offset = atKey[index] && complete && found.parent?.type === 'property' ? found.parent.offset : found.offset;
    return placeOf(offset);
  });
}

const WORDS: Readonly<Record<string, string>> = {
  InvalidSymbol: 'this word is not JSON',
  InvalidNumberFormat: 'this is not a number',
  PropertyNameExpected: 'a key in double quotes is expected here',
  ValueExpected: 'a value is expected here',
  ColonExpected: 'a colon is expected here',
  CommaExpected: 'a comma is expected here',
  CloseBraceExpected: 'a closing brace } is expected here',
  CloseBracketExpected: 'a closing bracket ] is expected here',
  EndOfFileExpected: 'the document ended before this',
  InvalidCommentToken: 'comments are not allowed here',
  UnexpectedEndOfComment: 'this comment does not end',
  UnexpectedEndOfString: 'this text has no closing quote',
  UnexpectedEndOfNumber: 'this number is cut off',
  InvalidUnicode: 'this escape is not four hexadecimal digits',
  InvalidEscapeCharacter: 'this escape is not known to JSON',
  InvalidCharacter: 'this character must be escaped',
};

class Enough extends Error {}

/** Every syntax fault of a text that JSON.parse refused, at most `limit`. */
export function syntaxFaults(text: string, limit: number): DocumentFault[] {
  const placeOf = lineIndex(text);
  if (text.trim() === '') {
    return [
      { line: 1, column: 1, path: [], message: 'the file is empty', mend: 'start a document with: crossloom new' },
    ];
  }
  const deep = tooDeepAt(text);
  if (deep !== null) {
    return [
      {
        ...placeOf(deep),
        path: [],
        message: `brackets nest deeper than ${MAX_DEPTH} levels`,
        mend: 'this is not a Crossloom document',
      },
    ];
  }
  const faults: DocumentFault[] = [];
  const onError = (code: ParseError['error'], offset: number): void => {
    const name = printParseErrorCode(code);
    faults.push({ ...placeOf(offset), path: [], message: WORDS[name] ?? name, mend: 'correct the text here' });
    if (faults.length >= limit) throw new Enough();
  };
  try {
    visit(text, { onError }, { disallowComments: true, allowTrailingComma: false });
  } catch (error) {
    if (!(error instanceof Enough)) throw error;
  }
  if (faults.length === 0)
    faults.push({ line: 1, column: 1, path: [], message: 'this is not JSON', mend: 'open a Crossloom document' });
  return faults;
}

/**
 * How many keys a JSON text holds when each is followed at once by its colon; -1 when one is not, so that nobody relies on
 * the count. (`":` inside a text value can only raise the count, which costs a search and hides nothing.)
 */
export function keysInText(text: string): number {
  let count = 0;
  for (let at = text.indexOf(':'); at >= 0; at = text.indexOf(':', at + 1)) {
    const before = text.charCodeAt(at - 1);
    if (before === QUOTE) count += 1;
    else if (isBlank(before) && endsKey(text, at - 1)) return -1;
  }
  return count;
}

const QUOTE = 0x22;

function isBlank(code: number): boolean {
  return code === 0x20 || code === 0x09 || code === 0x0a || code === 0x0d;
}

/** Whether the blanks that end at `at` follow a quote. */
function endsKey(text: string, at: number): boolean {
  while (isBlank(text.charCodeAt(at))) at -= 1;
  return text.charCodeAt(at) === QUOTE;
}

/** Keys which stand twice in one object: the earlier value would be lost without a word. */
export function repeatedKeys(text: string, limit: number): DocumentFault[] {
  const placeOf = lineIndex(text);
  const faults: DocumentFault[] = [];
  const open: Set<string>[] = [];
  try {
    visit(text, {
      onObjectBegin: () => {
        open.push(new Set());
      },
      onObjectEnd: () => {
        open.pop();
      },
      onObjectProperty: (key, offset, _length, _line, _column, pathOf) => {
        const keys = open[open.length - 1]!;
        if (keys.has(key)) {
          faults.push({
            ...placeOf(offset),
            path: [...pathOf(), key],
            message: `the key "${key.slice(0, 80)}" stands twice in this object`,
            mend: 'keep one of the two',
          });
          if (faults.length >= limit) throw new Enough();
        }
        keys.add(key);
      },
    });
  } catch (error) {
    if (!(error instanceof Enough)) throw error;
  }
  return faults;
}
