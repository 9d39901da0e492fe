/** Lines as a file: no blank lines in a row, one line break at the end. */
export function text(lines: readonly string[]): string {
  return `${lines
    .join('\n')
    .replaceAll(/\n{3,}/g, '\n\n')
    .trimEnd()}\n`;
}

/** A line of a block. */
export function indented(line: string): string {
  return line === '' ? '' : `    ${line}`;
}
