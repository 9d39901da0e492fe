import type { LogEvent, LogReader } from './event.ts';
import { MOST_GAP_US } from './order.ts';

/** One log and where its text comes from. */
export interface LogSource {
  /** For messages: the file's name. */
  readonly name: string;
  readonly reader: LogReader;
  readonly chunks: AsyncIterable<string | Uint8Array>;
}

/** Logs that cannot be laid side by side, because their clocks are not the same. */
export class LogClockError extends Error {
  constructor(message: string) {
    super(message);
    this.name = 'LogClockError';
  }
}

/**
 * The events of several logs in order of time, in runs; at equal times a log before those after it in the list. A log is read on only
 * when all that is at hand of it has been given: in memory are a piece of each and what waits for laggards. Throws `LogClockError`
 * when one log ends more than an hour before the next begins, and whatever reading throws.
 */
export async function* mergeLogs(sources: readonly LogSource[]): AsyncGenerator<readonly LogEvent[], void, undefined> {
  const streams = sources.map(({ name, reader, chunks }) => streamOf(name, reader, chunks[Symbol.asyncIterator]()));
  try {
    const [only] = streams;
    if (streams.length === 1 && only !== undefined) {
      while (await only.fill()) yield only.takeAll();
      return;
    }
    let lastUs: number | null = null;
    let lastName = '';
    for (;;) {
      const live: Stream[] = [];
      for (const stream of streams) if (await stream.fill()) live.push(stream);
      if (live.length === 0) return;
      const run: LogEvent[] = [];
      // Until one of them is used up: only then may something earlier come.
      for (let empty = false; !empty;) {
        let next = live[0]!;
        for (const stream of live) if (stream.headUs < next.headUs) next = stream;
        if (lastUs !== null && next.headUs - lastUs > MOST_GAP_US) {
          throw new LogClockError(
            `${next.name} goes on ${Math.round((next.headUs - lastUs) / 1e6)} s after the end of ${lastName}: logs that are read together must be recorded on one clock; shift the times of one of them`,
          );
        }
        lastUs = next.headUs;
        lastName = next.name;
        run.push(next.take());
        empty = next.headUs === Infinity;
      }
      yield run;
    }
  } finally {
    await Promise.all(streams.map((stream) => stream.close()));
  }
}

interface Stream {
  readonly name: string;
  /** Time of its next event at hand; Infinity while there is none. */
  headUs: number;
  /** Reads on until an event is at hand; false at the end of the log. */
  fill(): Promise<boolean>;
  take(): LogEvent;
  takeAll(): readonly LogEvent[];
  close(): Promise<void>;
}

function streamOf(name: string, reader: LogReader, chunks: AsyncIterator<string | Uint8Array>): Stream {
  let events: readonly LogEvent[] = [];
  let at = 0;
  let ended = false;
  const stream: Stream = {
    name,
    headUs: Infinity,
    async fill() {
      while (at === events.length) {
        if (ended) return false;
        const chunk = await chunks.next();
        ended = chunk.done === true;
        events = chunk.done === true ? reader.end() : reader.push(chunk.value);
        at = 0;
      }
      stream.headUs = events[at]!.timeUs;
      return true;
    },
    take() {
      const event = events[at]!;
      at += 1;
      stream.headUs = events[at]?.timeUs ?? Infinity;
      return event;
    },
    takeAll() {
      const all = at === 0 ? events : events.slice(at);
      at = events.length;
      stream.headUs = Infinity;
      return all;
    },
    async close() {
      if (!ended) await chunks.return?.();
      ended = true;
    },
  };
  return stream;
}
