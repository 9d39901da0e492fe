/** A piece of a file for a message: bounded, and without characters that would command a terminal. */
export function printable(text: string, most = 60): string {
  const shown = text.length > most ? `${text.slice(0, most)}…` : text;
  return shown.replace(
    /[\p{C}\p{Zl}\p{Zp}]/gu,
    (character) => `\\u{${character.codePointAt(0)!.toString(16).toUpperCase()}}`,
  );
}
