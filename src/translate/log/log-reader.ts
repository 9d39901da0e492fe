import type { Pairing } from '../../model/index.ts';
import type { BusNames } from './bus-names.ts';
import type { LogEvent, LogReader } from './event.ts';
import { frameLogReader } from './frame-log.ts';
import { WIRE_LOG_COLUMNS, type WireLogOptions, wireLogReader } from './wire-log.ts';

/** Enough of a text to see its first line that is not blank. */
const LOOKED_AT = 4096;

/**
 * A reader for a log whose kind is not known: a table of wire levels when the first line that is not blank holds its column names,
 * else frames. Nothing is read before that line is complete (or 4,096 characters are there).
 */
export function logReader(pairing: Pairing, buses: BusNames, options?: WireLogOptions): LogReader {
  const decoder = new TextDecoder('utf-8', { ignoreBOM: true });
  let head = '';
  let reader: LogReader | null = null;
  const begin = (): LogReader => {
    const [first = ''] = head.slice(0, LOOKED_AT).trimStart().split('\n', 1);
    const wires = WIRE_LOG_COLUMNS.every((name) => first.includes(name));
    return (reader = wires ? wireLogReader(pairing, options) : frameLogReader(buses));
  };
  const take = (text: string): readonly LogEvent[] => {
    if (reader !== null) return reader.push(text);
    head += text;
    if (head.length < LOOKED_AT && !head.trimStart().includes('\n')) return [];
    const begun = begin().push(head);
    head = '';
    return begun;
  };
  const nothing = frameLogReader(buses).report;
  return {
    get report() {
      return reader?.report ?? nothing;
    },
    push: (chunk) => take(typeof chunk === 'string' ? chunk : decoder.decode(chunk, { stream: true })),
    end() {
      const events = [...take(decoder.decode())];
      const known = reader ?? begin();
      return [...events, ...known.push(head), ...known.end()];
    },
  };
}
