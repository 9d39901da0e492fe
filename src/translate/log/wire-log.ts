import { type Pairing, SUPPLY_CLASSES, type Wire } from '../../model/index.ts';
import { linesOf } from '../../can/index.ts';
import type { LogReader } from './event.ts';
import { type CsvCell, csvCells } from './csv-cells.ts';
import { printable } from './printable.ts';
import { createTally } from './tally.ts';
import { type LevelWords, levelWords } from './wire-level.ts';

/** The header of a table of wire levels. */
export const WIRE_LOG_COLUMNS = ['time_s', 'wire', 'value'] as const;

/** Longest line of a table of wire levels. */
export const MAX_WIRE_LINE_CHARACTERS = 1024;

export interface WireLogOptions {
  /** Whether `open` may stand in the table: it may in what came out, not in what goes in. False unless said. */
  readonly mayBeOpen?: boolean;
}

/**
 * Reads a table of wire levels as CSV (RFC 4180, without line breaks in cells). The first line names the columns; others than these
 * are overlooked:
 *
 *     time_s,wire,value
 *     12.045000,host:fuel-sender,182.5 Ohm
 *     12.100000,host:tow-button,active
 *
 * `time_s` is in seconds on the clock of the frames, at most nine decimals (microseconds are kept); `wire` is `side:wire-id`; `value`
 * is a level in words or a number with its unit, see `levelWords`. A level stands until the next one of its wire. Every line
 * that cannot be used is named and counted, the rest is kept.
 */
export function wireLogReader(pairing: Pairing, { mayBeOpen = false }: WireLogOptions = {}): LogReader {
  let columns: readonly number[] | null = null;
  const words = new Map<string, LevelWords>();
  const lines = linesOf(MAX_WIRE_LINE_CHARACTERS, read, (number) =>
    tally.fault(
      number,
      MAX_WIRE_LINE_CHARACTERS + 1,
      `the line is longer than ${MAX_WIRE_LINE_CHARACTERS} characters and was skipped`,
    ),
  );
  const tally = createTally(() => lines.count);

  const wordsOf = (ref: string): LevelWords | null => {
    const known = words.get(ref);
    if (known !== undefined) return known;
    const endpoint = pairing.find(ref);
    if (endpoint?.kind !== 'wire' || !carriesLevel(endpoint.wire)) return null;
    const found = levelWords(endpoint.wire);
    words.set(ref, found);
    return found;
  };

  function read(text: string, number: number): void {
    if (text.trim() === '') return;
    const cells = csvCells(text);
    if ('problem' in cells) {
      tally.fault(number, cells.column, cells.problem);
      return;
    }
    if (columns === null) {
      columns = WIRE_LOG_COLUMNS.map((name) => cells.findIndex((cell) => cell.text.trim() === name));
      if (!columns.includes(-1)) return;
      tally.fault(number, 1, `the first line must name the columns: ${WIRE_LOG_COLUMNS.join(',')}`);
      columns = [0, 1, 2];
      if (timeOf(cells[0]?.text ?? '') === null) return;
    }
    const [time, wire, value] = columns.map((column) => cells[column]) as [CsvCell?, CsvCell?, CsvCell?];
    if (time === undefined || wire === undefined || value === undefined) {
      tally.fault(
        number,
        1,
        `${cells.length} ${cells.length === 1 ? 'cell' : 'cells'}: time, wire and value are needed`,
      );
      return;
    }
    const timeUs = timeOf(time.text.trim());
    if (timeUs === null) {
      tally.fault(number, time.column, `"${printable(time.text)}" is no time: seconds are needed, as in 12.045`);
      return;
    }
    const ref = wire.text.trim();
    const found = wordsOf(ref);
    if (found === null) {
      tally.fault(
        number,
        wire.column,
        `"${printable(ref)}" is no wire of the pairing that carries a signal: write side:wire-id`,
      );
      return;
    }
    const level = found.read(value.text.trim());
    if ('problem' in level) tally.fault(number, value.column, level.problem);
    else if (level.level.kind === 'open' && !mayBeOpen)
      tally.fault(number, value.column, 'an input cannot be open here: give the level it then has');
    else tally.event({ kind: 'wire', timeUs, wire: ref, level: level.level, line: number });
  }

  return {
    report: tally.report,
    push(chunk) {
      lines.push(chunk);
      return tally.order.ready();
    },
    end() {
      lines.end();
      return tally.order.rest();
    },
  };
}

const NO_SIGNAL: ReadonlySet<string> = new Set(SUPPLY_CLASSES);

function carriesLevel({ electrical }: Wire): boolean {
  return !NO_SIGNAL.has(electrical.class);
}

const TIME = /^(\d{1,10})(?:\.(\d{1,9}))?$/;

/** Whole microseconds; null when the text is no time. */
function timeOf(text: string): number | null {
  const parts = TIME.exec(text);
  if (parts === null) return null;
  return Number(parts[1]) * 1e6 + Number((parts[2] ?? '').padEnd(6, '0').slice(0, 6));
}
