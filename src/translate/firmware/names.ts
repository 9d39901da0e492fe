/*
 * Names and texts of a map, made fit for C. They come from files of strangers: whatever stands in them, an identifier has only letters,
 * digits and underscores, a comment does not end early, and a string is one string.
 */

/** Longest part of an identifier that comes from the map: C99 tells apart 31 characters of a name seen by the linker. */
const LONGEST = 12;

/** A name for the linker made from an id: it begins with a letter. */
export function prefixOf(id: string): string {
  const plain = id
    .toLowerCase()
    .replaceAll(/[^a-z0-9]+/g, '_')
    .replaceAll(/^_+|_+$/g, '')
    .slice(0, LONGEST)
    .replace(/_+$/, '');
  const named = /^[a-z]/.test(plain) ? plain : `m${plain === '' ? '' : '_'}${plain}`;
  // The core's own names.
  return named === 'xlc' || named.startsWith('xlc_') ? `m_${named.slice(0, LONGEST - 2)}` : named;
}

/** Upper-case constants, each different from all before it. */
export function constantNames(): (prefix: string, text: string) => string {
  const taken = new Set<string>();
  return (prefix, text) => {
    const plain = text
      .toUpperCase()
      .replaceAll(/[^A-Z0-9]+/g, '_')
      .replaceAll(/^_+|_+$/g, '')
      .slice(0, 40);
    const base = `${prefix}_${plain === '' ? 'X' : plain}`;
    let name = base;
    for (let copy = 2; taken.has(name); copy += 1) name = `${base}_${copy}`;
    taken.add(name);
    return name;
  };
}

const PLAIN: Readonly<Record<string, string>> = {
  '°': 'deg ',
  '→': '->',
  '⇒': '=>',
  '–': '-',
  '—': '-',
  '−': '-',
  '·': '*',
  '×': 'x',
  '²': '^2',
  '³': '^3',
  '\u00b5': 'u',
  '\u03bc': 'u',
  '\u03a9': 'Ohm',
  '\u2126': 'Ohm',
  '≤': '<=',
  '≥': '>=',
  '≈': '~',
  '½': '1/2',
  '“': '"',
  '”': '"',
  '‘': "'",
  '’': "'",
  '…': '...',
};

/** One line of the characters every C compiler knows, that neither ends a comment, begins one, nor joins lines. */
export function commentText(text: string, longest = 400): string {
  const plain = [...text]
    .map((letter) => PLAIN[letter] ?? letter)
    .join('')
    .replaceAll(/[^\x20-\x7e]+/g, (run) => (/^\s+$/.test(run) ? ' ' : '_'))
    .replaceAll('\\', '/')
    // Two question marks may begin a trigraph.
    .replaceAll(/\?(?=\?)/g, '? ')
    .replaceAll('*/', '* /')
    .replaceAll('/*', '/ *')
    .trim();
  return plain.length > longest ? `${plain.slice(0, longest - 3)}...` : plain;
}

/** A comment, folded at 110 characters, each line indented. */
export function comment(text: string, indent = ''): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of commentText(text).split(' ')) {
    if (line !== '' && line.length + word.length > 105) {
      lines.push(line);
      line = word;
    } else line = line === '' ? word : `${line} ${word}`;
  }
  lines.push(line);
  if (lines.length === 1) return [`${indent}/* ${line} */`];
  return [
    `${indent}/* ${lines[0]}`,
    ...lines.slice(1).map((each, at) => `${indent} * ${each}${at === lines.length - 2 ? ' */' : ''}`),
  ];
}

/** A C string literal. */
export function stringLiteral(text: string): string {
  const letters = [...new TextEncoder().encode(text)].map((byte) => {
    const letter = String.fromCharCode(byte);
    return /[A-Za-z0-9 _:+/.,=#()-]/.test(letter) ? letter : `\\${byte.toString(8).padStart(3, '0')}`;
  });
  return `"${letters.join('')}"`;
}
