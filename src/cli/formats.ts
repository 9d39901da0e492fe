import { InvalidArgumentError, Option } from 'commander';

/** `--format text|json` for a command that answers; text unless asked. */
export function formatOption(choices: readonly string[] = ['text', 'json']): Option {
  return new Option('--format <format>', 'how to print the answer').choices([...choices]).default('text');
}

/** JSON for a program to read: two spaces, one trailing newline. */
export function jsonText(value: unknown): string {
  return `${JSON.stringify(value, null, 2)}\n`;
}

/** Columns padded to their widest cell, two spaces apart; the last one is not padded. */
export function columns(rows: readonly (readonly string[])[]): string {
  const widths: number[] = [];
  for (const row of rows) row.forEach((cell, at) => (widths[at] = Math.max(widths[at] ?? 0, cell.length)));
  return rows
    .map(
      (row) =>
        `${row
          .map((cell, at) => (at === row.length - 1 ? cell : cell.padEnd(widths[at]!)))
          .join('  ')
          .trimEnd()}\n`,
    )
    .join('');
}

/** Folds a text at blanks to a width, each line after the first indented. */
export function fold(text: string, width: number, indent: string): string {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(/\s+/)) {
    if (line.length > 0 && line.length + 1 + word.length > width) {
      lines.push(line);
      line = indent + word;
    } else line = line.length > 0 ? `${line} ${word}` : word;
  }
  lines.push(line);
  return lines.join('\n');
}

/** Parses a whole number option within bounds. */
export function wholeNumber(min: number, max: number): (text: string) => number {
  return (text) => {
    const value = Number(text);
    if (!Number.isInteger(value) || value < min || value > max) {
      throw new InvalidArgumentError(`write a whole number from ${min} to ${max}.`);
    }
    return value;
  };
}
