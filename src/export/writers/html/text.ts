import { escapeXml, runsOf, visibleText, type RichText, type Run } from '../../document/index.ts';

/** Text for the page: made visible, then escaped. Safe as content and in a double-quoted attribute. */
export function escaped(text: string): string {
  return escapeXml(visibleText(text));
}

/**
 * The id of an element of the page for an anchor of the document: letters, digits, `-` and `.` stay, every other character is
 * spelt `_hex_`, so that different anchors never meet and no anchor leaves its attribute.
 */
export function elementId(anchor: string): string {
  return Array.from(anchor, (character) =>
    /^[A-Za-z0-9.-]$/.test(character) ? character : `_${(character.codePointAt(0) ?? 0).toString(16)}_`,
  ).join('');
}

/** Above this length a name is offered places to break, at its punctuation. */
const LONG_NAME = 14;
/** A stretch without punctuation is offered a break after so many characters. */
const STRETCH = 24;
const LONG_STRETCH = /[^\uE000]{25,}/g;
// A run without blanks, or an escape of one character; breaks are put between escapes, never into one.
const WORD = /[^\s]+/g;
const BREAK_AFTER = /([._\-/:,;|\\=+)\]}#@])(?=[^\s.,;:)\]}])/g;

function breakable(text: string): string {
  return text.replace(WORD, (word) => {
    if (word.length <= LONG_NAME) return escapeXml(word);
    // Decimal numbers stay whole; U+E000 stands for the break while the word is escaped.
    const marked = word.replace(BREAK_AFTER, (found, sign: string, at: number) => {
      const digits = /[.,]/.test(sign) && /\d/.test(word[at - 1] ?? '') && /\d/.test(word[at + 1] ?? '');
      return digits ? found : `${sign}\uE000`;
    });
    const cut = marked.replace(LONG_STRETCH, (stretch) => {
      const characters = Array.from(stretch);
      const pieces: string[] = [];
      for (let at = 0; at < characters.length; at += STRETCH) pieces.push(characters.slice(at, at + STRETCH).join(''));
      return pieces.join('\uE000');
    });
    return escapeXml(cut).replace(/\uE000/g, '<wbr>');
  });
}

function lines(text: string): string {
  return breakable(visibleText(text).replace(/\uE000/g, '\uFFFD')).replace(/\n/g, '<br>');
}

function runHtml(run: Run): string {
  if (typeof run === 'string') return lines(run);
  switch (run.kind) {
    case 'strong':
      return `<strong>${lines(run.text)}</strong>`;
    case 'emphasis':
      return `<em>${lines(run.text)}</em>`;
    case 'mono':
      return `<code>${lines(run.text)}</code>`;
    case 'ref':
      return `<a href="#${elementId(run.to)}">${lines(run.text)}</a>`;
  }
}

/** The runs of a text as inline HTML. */
export function richHtml(text: RichText): string {
  return runsOf(text).map(runHtml).join('');
}

/** A text as a CSS string in double quotes: all but plain letters, digits and blanks are spelt as escapes. */
export function cssString(text: string): string {
  const spelt = Array.from(visibleText(text).replace(/\s+/g, ' '), (character) =>
    /^[A-Za-z0-9 ]$/.test(character) ? character : `\\${(character.codePointAt(0) ?? 0).toString(16)} `,
  );
  return `"${spelt.join('')}"`;
}
