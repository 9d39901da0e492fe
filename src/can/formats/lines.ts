/** Cuts a text that comes in pieces into lines, in bounded memory: what it holds between two pieces is one unfinished line. */
export interface Lines {
  /** The next piece; lines may be cut anywhere, also inside a character. */
  push(chunk: string | Uint8Array): void;
  /** The last line, when the text does not end with a line break. Nothing may follow. */
  end(): void;
  /** Lines finished so far. */
  readonly count: number;
}

/**
 * Hands on every line without its line end (LF or CRLF) and without a byte order mark, numbered from 1. A line of more than `most`
 * characters is told by its number and skipped. How the text is cut into pieces makes no difference.
 */
export function linesOf(
  most: number,
  line: (text: string, number: number) => void,
  tooLong: (number: number) => void,
): Lines {
  const decoder = new TextDecoder('utf-8', { ignoreBOM: true });
  let rest = '';
  let skipping = false;
  let count = 0;

  const take = (text: string): void => {
    count += 1;
    if (skipping) {
      skipping = false;
      return;
    }
    if (text.length > most) {
      tooLong(count);
      return;
    }
    const to = text.charCodeAt(text.length - 1) === RETURN ? text.length - 1 : text.length;
    const from = count === 1 && text.charCodeAt(0) === BYTE_ORDER_MARK ? 1 : 0;
    line(from === 0 && to === text.length ? text : text.slice(from, to), count);
  };

  return {
    get count() {
      return count;
    },
    push(chunk) {
      const text = rest + (typeof chunk === 'string' ? chunk : decoder.decode(chunk, { stream: true }));
      let from = 0;
      for (let to = text.indexOf('\n'); to >= 0; to = text.indexOf('\n', from)) {
        take(text.slice(from, to));
        from = to + 1;
      }
      rest = text.slice(from);
      if (rest.length > most) {
        if (!skipping) tooLong(count + 1);
        skipping = true;
        rest = '';
      }
    },
    end() {
      rest += decoder.decode();
      if (rest !== '' || skipping) take(rest);
      rest = '';
    },
  };
}

const RETURN = 13;
const BYTE_ORDER_MARK = 0xfeff;
