const MOST = 60;

/** A piece of a file for a message: bounded, and without characters that would command a terminal. */
export function printable(text: string): string {
  const shown = text.length > MOST ? `${text.slice(0, MOST)}…` : text;
  return shown.replace(
    /[\p{C}\p{Zl}\p{Zp}]/gu,
    (character) => `\\u{${character.codePointAt(0)!.toString(16).toUpperCase()}}`,
  );
}
