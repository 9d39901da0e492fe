/**
 * Text of a document: a plain string, or runs of it with a meaning. A writer decides how a meaning looks.
 */

/** A stretch of text with one meaning. `ref` points at the id of a section, table, figure, heading or table row. */
export type Run =
  | string
  | { readonly kind: 'strong'; readonly text: string }
  | { readonly kind: 'emphasis'; readonly text: string }
  | { readonly kind: 'mono'; readonly text: string }
  | { readonly kind: 'ref'; readonly text: string; readonly to: string };

/** A string or runs in reading order. A line feed in either starts a new line. */
export type RichText = string | readonly Run[];

/** Bold, for the word that carries the sentence. */
export const strong = (text: string): Run => ({ kind: 'strong', text });
/** Slanted, for a term or an aside. */
export const emphasis = (text: string): Run => ({ kind: 'emphasis', text });
/** Fixed pitch, for ids, frame ids, bit patterns. */
export const mono = (text: string): Run => ({ kind: 'mono', text });
/** A link to the element of this document whose id is `to`. */
export const ref = (text: string, to: string): Run => ({ kind: 'ref', text, to });

/** The text of one run without its meaning. */
export function runText(run: Run): string {
  return typeof run === 'string' ? run : run.text;
}

/** The runs of a text; a plain string is one run, an empty one none. */
export function runsOf(text: RichText): readonly Run[] {
  if (typeof text !== 'string') return text;
  return text === '' ? [] : [text];
}

/** The text without its meanings, for forms that hold plain text only. */
export function plainText(text: RichText): string {
  return typeof text === 'string' ? text : text.map(runText).join('');
}
