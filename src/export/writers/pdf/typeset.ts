import { runsOf, visibleText, type RichText, type Run } from '../../document/index.ts';
import { setCharacter, type Face, type FaceMetrics } from './faces.ts';

/** A stretch of a line in one face; `to` is the anchor that it links to. */
export interface Span {
  readonly text: string;
  readonly face: Face;
  readonly to: string | null;
}

/** A line of type that is known to fit. `width` in points. */
export interface Line {
  readonly spans: readonly Span[];
  readonly width: number;
}

/** What text is set in where its runs say nothing else. */
export interface Setting {
  readonly sizePt: number;
  readonly face: Face;
  readonly metrics: FaceMetrics;
}

/** A text as characters beside one another: parallel arrays, one entry a character. */
interface Characters {
  readonly text: string[];
  readonly face: Face[];
  readonly to: (string | null)[];
  /** Sum of the advances before each character, and of all at the end; points. */
  readonly before: number[];
}

function faceOf(run: Run, base: Face): Face {
  if (typeof run === 'string') return base;
  switch (run.kind) {
    case 'strong':
      return base === 'mono' || base === 'monoBold' ? 'monoBold' : 'bold';
    case 'emphasis':
      return base === 'regular' ? 'italic' : base;
    case 'mono':
      return base === 'bold' ? 'monoBold' : 'mono';
    case 'ref':
      return base;
  }
}

function charactersOf(text: RichText, setting: Setting): Characters {
  const characters: Characters = { text: [], face: [], to: [], before: [0] };
  let total = 0;
  for (const run of runsOf(text)) {
    const face = faceOf(run, setting.face);
    const to = typeof run !== 'string' && run.kind === 'ref' ? run.to : null;
    for (const character of visibleText(typeof run === 'string' ? run : run.text)) {
      const set =
        character === '\n' ? [{ text: '\n', face, advance: 0 }] : setCharacter(character, face, setting.metrics);
      for (const one of set) {
        characters.text.push(one.text);
        characters.face.push(one.face);
        characters.to.push(to);
        total += (one.advance * setting.sizePt) / 1000;
        characters.before.push(total);
      }
    }
  }
  return characters;
}

function lineOf(characters: Characters, start: number, end: number): Line {
  const spans: { text: string; face: Face; to: string | null }[] = [];
  for (let at = start; at < end; at++) {
    const face = characters.face[at] ?? 'regular';
    const to = characters.to[at] ?? null;
    const last = spans.at(-1);
    if (last !== undefined && last.face === face && last.to === to) last.text += characters.text[at] ?? '';
    else spans.push({ text: characters.text[at] ?? '', face, to });
  }
  return { spans, width: (characters.before[end] ?? 0) - (characters.before[start] ?? 0) };
}

const AFTER = /[._\-/:,;|\\=+&)\]}>#@·→]/;
const AHEAD = /[([{<]/;
const DIGIT = /\d/;
const LOWER = /\p{Ll}/u;
const UPPER = /\p{Lu}/u;
const MARK = /\p{M}/u;

/** Whether a name may be broken before character `at`. Level 1: at its punctuation; 2: at an inner capital; 3: anywhere. */
function mayBreak(text: readonly string[], at: number, level: number): boolean {
  const left = text[at - 1] ?? '';
  const right = text[at] ?? '';
  if (level === 1) {
    // 0.25 and 1,000 stay whole, and so does the sign of -40.
    if (/[.,]/.test(left)) return !(DIGIT.test(text[at - 2] ?? '') && DIGIT.test(right));
    if (/[-+]/.test(left)) return at >= 2 && !AFTER.test(text[at - 2] ?? '');
    return (AFTER.test(left) && !AFTER.test(right)) || AHEAD.test(right);
  }
  if (level === 2) return LOWER.test(left) && UPPER.test(right);
  return !MARK.test(right);
}

/** Sets one explicit line, `start` to `end`, into as many as the room asks for. */
function setLine(characters: Characters, start: number, end: number, room: number, lines: Line[]): void {
  const widthOf = (from: number, to: number): number => (characters.before[to] ?? 0) - (characters.before[from] ?? 0);
  let lineStart = start;
  let lineEnd = start;
  const place = (from: number, to: number, level: number): void => {
    if (widthOf(lineStart, to) <= room || (lineStart === from && level >= 3)) {
      lineEnd = to;
      return;
    }
    if (widthOf(from, to) <= room || level >= 3) {
      if (lineEnd > lineStart) lines.push(lineOf(characters, lineStart, lineEnd));
      lineStart = from;
      lineEnd = to;
      return;
    }
    let pieceStart = from;
    for (let at = from + 1; at <= to; at++) {
      if (at === to || mayBreak(characters.text, at, level + 1)) {
        place(pieceStart, at, level + 1);
        pieceStart = at;
      }
    }
  };
  let at = start;
  while (at < end) {
    while (at < end && characters.text[at] === ' ') at += 1;
    const wordStart = at;
    while (at < end && characters.text[at] !== ' ') at += 1;
    if (at > wordStart) place(wordStart, at, 0);
  }
  lines.push(lineOf(characters, lineStart, lineEnd));
}

/**
 * Sets a text into lines of at most `roomPt`: at blanks; a word wider than the room at its punctuation, then at inner
 * capitals, then between any two characters. Never wider than the room unless one character is. A line feed starts a new
 * line; blanks at a break vanish, those that indent a line stay. Always at least one line. Time is linear in the text.
 */
export function typeset(text: RichText, setting: Setting, roomPt: number): readonly Line[] {
  const characters = charactersOf(text, setting);
  const lines: Line[] = [];
  const count = characters.text.length;
  let start = 0;
  for (let at = 0; at <= count; at++) {
    if (at < count && characters.text[at] !== '\n') continue;
    setLine(characters, start, at, roomPt, lines);
    start = at + 1;
  }
  return lines;
}

/** Width of the widest line a text has without breaking, and of its widest word; points. */
export function naturalWidths(text: RichText, setting: Setting): { readonly line: number; readonly word: number } {
  const characters = charactersOf(text, setting);
  let line = 0;
  let word = 0;
  let lineStart = 0;
  let wordStart = 0;
  const count = characters.text.length;
  for (let at = 0; at <= count; at++) {
    const character = at < count ? characters.text[at] : '\n';
    if (character !== ' ' && character !== '\n') continue;
    word = Math.max(word, (characters.before[at] ?? 0) - (characters.before[wordStart] ?? 0));
    wordStart = at + 1;
    if (character !== '\n') continue;
    line = Math.max(line, (characters.before[at] ?? 0) - (characters.before[lineStart] ?? 0));
    lineStart = at + 1;
  }
  return { line, word };
}

/** A text on one line of at most `roomPt`, cut with an ellipsis where it is longer. */
export function oneLine(text: string, setting: Setting, roomPt: number): Line {
  const characters = charactersOf(text.replace(/\s+/g, ' '), setting);
  const count = characters.text.length;
  if ((characters.before[count] ?? 0) <= roomPt) return lineOf(characters, 0, count);
  const ellipsis = charactersOf('…', setting);
  const room = roomPt - (ellipsis.before[1] ?? 0);
  let end = 0;
  while (end < count && (characters.before[end + 1] ?? 0) <= room) end += 1;
  const cut = lineOf(characters, 0, end);
  return { spans: [...cut.spans, ...lineOf(ellipsis, 0, 1).spans], width: cut.width + (ellipsis.before[1] ?? 0) };
}
