export const NO_DIGIT = 16;
const SPACE = 32;
const TAB = 9;
const RETURN = 13;
const DOT = 46;
const UNDERSCORE = 95;

/** The value of a hexadecimal digit by character code; 16 for every other character. */
export const HEX = Uint8Array.from({ length: 128 }, (_, code) => {
  const digit = '0123456789abcdef'.indexOf(String.fromCharCode(code).toLowerCase());
  return digit < 0 ? NO_DIGIT : digit;
});

const NO_BYTES = new Uint8Array(0);

/**
 * A place in a line, moving forward over tokens. The first problem met is kept and puts the cursor at the end of the line; whatever
 * is read after that is worthless, and the caller drops it. (Exceptions would make a file of garbage take minutes.)
 */
export class Cursor {
  readonly text: string;
  position = 0;
  problem: string | null = null;
  /** Where the problem lies, counted from 1. */
  problemColumn = 0;

  constructor(text: string) {
    this.text = text;
  }

  /** The problem lies at the cursor, or `back` characters before it. Only the first one counts. */
  fail(problem: string, back = 0): void {
    if (this.problem !== null) return;
    this.problem = problem;
    this.problemColumn = this.position - back + 1;
    this.position = this.text.length;
  }

  atEnd(): boolean {
    return this.position >= this.text.length;
  }

  /** Character code so many places ahead; NaN past the end. */
  codeAt(ahead: number): number {
    return this.text.charCodeAt(this.position + ahead);
  }

  isAt(char: string): boolean {
    return this.text.charCodeAt(this.position) === char.charCodeAt(0);
  }

  advance(): void {
    this.position += 1;
  }

  startsWith(text: string): boolean {
    return this.text.startsWith(text, this.position);
  }

  skipSpaces(): void {
    while (isSpace(this.text.charCodeAt(this.position))) this.position += 1;
  }

  expect(char: string): void {
    if (this.isAt(char)) this.position += 1;
    else if (this.atEnd()) this.fail(`"${char}" expected, the line ends`);
    else this.fail(`"${char}" expected before "${this.text.charAt(this.position)}"`);
  }

  /** Everything up to the next space. */
  word(what: string): string {
    const from = this.position;
    while (this.position < this.text.length && !isSpace(this.text.charCodeAt(this.position))) this.position += 1;
    if (this.position === from) this.fail(`${what} expected, the line ends`);
    return this.text.slice(from, this.position);
  }

  isDecimalDigit(): boolean {
    return isDecimal(this.text.charCodeAt(this.position));
  }

  /** Digits 0–9 as a number; beyond 2^53 it is no longer exact, and the caller refuses it. */
  decimal(what: string): number {
    const from = this.position;
    let value = 0;
    for (let code = this.codeAt(0); isDecimal(code); code = this.codeAt(0)) {
      value = value * 10 + (code - 48);
      this.position += 1;
    }
    if (this.position === from) this.fail(`${what} expected`);
    return value;
  }

  /** How many hexadecimal digits follow, at most nine (no id has more than eight). */
  hexDigitsAhead(): number {
    let count = 0;
    while (count < 9 && this.nibble(count) < NO_DIGIT) count += 1;
    return count;
  }

  hex(digits: number): number {
    let value = 0;
    for (let i = 0; i < digits; i += 1) value = value * 16 + this.nibble(i);
    this.position += digits;
    return value;
  }

  hexDigit(what: string): number {
    const digit = this.nibble(0);
    if (digit === NO_DIGIT) this.fail(`${what} expected`);
    else this.position += 1;
    return digit;
  }

  /** Pairs of hexadecimal digits, with or without "." before a pair, up to a space, "_" or the end of the line. */
  bytes(most: number): Uint8Array {
    let to = this.position;
    let dots = 0;
    for (; to < this.text.length; to += 1) {
      const code = this.text.charCodeAt(to);
      if (code === DOT) dots += 1;
      else if (isSpace(code) || code === UNDERSCORE) break;
    }
    const count = (to - this.position - dots) >> 1;
    if (count > most) {
      this.fail(`more than ${most} bytes`);
      return NO_BYTES;
    }
    const bytes = new Uint8Array(count);
    for (let i = 0; i < count; i += 1) {
      if (this.codeAt(0) === DOT) this.position += 1;
      const high = this.nibble(0);
      const low = this.nibble(1);
      if (high === NO_DIGIT || low === NO_DIGIT) {
        this.fail('a byte expected as two hexadecimal digits');
        return NO_BYTES;
      }
      bytes[i] = high * 16 + low;
      this.position += 2;
    }
    if (this.position < to) this.fail('a byte expected as two hexadecimal digits');
    return bytes;
  }

  /** Exactly so many pairs of hexadecimal digits, each followed by a space or the end; what comes after is left alone. */
  spacedBytes(count: number): Uint8Array {
    const bytes = new Uint8Array(count);
    for (let i = 0; i < count; i += 1) {
      this.skipSpaces();
      const high = this.nibble(0);
      const low = this.nibble(1);
      const next = this.codeAt(2);
      if (high === NO_DIGIT || low === NO_DIGIT || !(Number.isNaN(next) || isSpace(next))) {
        this.fail(`byte ${i + 1} of ${count} expected as two hexadecimal digits`);
        return NO_BYTES;
      }
      bytes[i] = high * 16 + low;
      this.position += 2;
    }
    return bytes;
  }

  private nibble(ahead: number): number {
    const code = this.text.charCodeAt(this.position + ahead);
    return code < 128 ? HEX[code]! : NO_DIGIT;
  }
}

function isSpace(code: number): boolean {
  return code === SPACE || code === TAB || code === RETURN;
}

function isDecimal(code: number): boolean {
  return code >= 48 && code <= 57;
}
