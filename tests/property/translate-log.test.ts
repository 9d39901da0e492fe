/** Reading of logs by properties: pieces, order, merging, round trips, hostile text. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type LogEvent,
  type LogReader,
  MOST_FAULTS,
  REORDER_EVENTS,
  REORDER_US,
  WIRE_LOG_HEADER,
  busNames,
  frameLogReader,
  frameLogWriter,
  logReader,
  mergeLogs,
  wireLogReader,
  wireLogWriter,
} from '../../src/translate/index.ts';
import { benchPairing, wire } from '../translate/bench-pairing.ts';

const pairing = benchPairing({
  host: {
    wires: [
      wire({ id: 'button', meaning: { active: 'Pressed', inactive: 'Released' } }),
      wire({ id: 'sender', electrical: { class: 'resistive' } }),
    ],
  },
  routes: [],
});
const names = busNames(pairing, ['can0=host:bus', 'can1=donor:bus']);

interface Read {
  readonly events: readonly LogEvent[];
  readonly report: unknown;
}

function readIn(reader: LogReader, pieces: readonly (string | Uint8Array)[]): Read {
  const events = pieces.flatMap((piece) => [...reader.push(piece)]);
  events.push(...reader.end());
  const { report } = reader;
  return { events, report: { ...report, unmapped: [...report.unmapped] } };
}

/** Cuts a list at places given as parts of its length. */
function cut<T extends string | Uint8Array>(text: T, at: readonly number[]): T[] {
  const places = [0, ...at.map((part) => Math.floor(part * text.length)).sort((a, b) => a - b), text.length];
  return places.slice(1).map((to, index) => text.slice(places[index], to) as T);
}

const anyTime = fc.oneof(fc.integer({ min: 0, max: 3_000_000 }), fc.integer({ min: 0, max: 20_000_000_000 }));
const timeText = (us: number): string => `${Math.floor(us / 1e6)}.${String(us % 1e6).padStart(6, '0')}`;
const anyFrameLine = fc
  .tuple(
    anyTime,
    fc.constantFrom('can0', 'can1', 'can2', 'donor:bus'),
    fc.constantFrom('123#', '123#DEADBEEF', '18DAF100#00', '123##111', '123#R', '20000004#00', '123#0', '#', '4444#'),
  )
  .map(([us, name, frame]) => `(${timeText(us)}) ${name} ${frame}`);
const anyWireLine = fc
  .tuple(
    anyTime,
    fc.constantFrom('host:button', 'host:sender', 'host:none', '"host:button"'),
    fc.constantFrom('active', 'Released', '1.5 kOhm', '20 Ω', '7', '"1', 'open', ''),
  )
  .map((parts) => [timeText(parts[0]), parts[1], parts[2]].join(','));
const noise = fc.string({ unit: 'binary', maxLength: 40 });
const long = fc.integer({ min: 1000, max: 1100 }).map((length) => 'y'.repeat(length));
const ends = fc.constantFrom('\n', '\r\n', '\n\n');
const anyText = (line: fc.Arbitrary<string>, head: string): fc.Arbitrary<string> =>
  fc
    .tuple(
      fc.constantFrom('', '\ufeff', '\n \n'),
      fc.array(
        fc.tuple(
          fc.oneof({ weight: 12, arbitrary: line }, { weight: 1, arbitrary: noise }, { weight: 1, arbitrary: long }),
          ends,
        ),
        { maxLength: 40 },
      ),
      fc.boolean(),
    )
    .map(([mark, lines, whole]) => {
      const text = mark + head + lines.map(([one, end]) => one + end).join('');
      return whole ? text : text.slice(0, -1);
    });
const anyLog = fc.oneof(anyText(anyFrameLine, ''), anyText(anyWireLine, WIRE_LOG_HEADER), anyText(noise, ''));
const places = fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { maxLength: 12 });
const readers: Readonly<Record<string, () => LogReader>> = {
  frames: () => frameLogReader(names),
  wires: () => wireLogReader(pairing, { mayBeOpen: true }),
  either: () => logReader(pairing, names),
};

describe.each(Object.entries(readers))('the reader of %s', (_, make) => {
  it('gives the same however the text is cut, as characters or as bytes', () => {
    fc.assert(
      fc.property(anyLog, places, (text, at) => {
        const whole = readIn(make(), [text]);
        expect(readIn(make(), cut(text, at))).toEqual(whole);
        const bytes = new TextEncoder().encode(text);
        // Lone surrogates do not survive as bytes.
        if (!/\p{Cs}/u.test(text)) expect(readIn(make(), cut(bytes, at))).toEqual(whole);
      }),
      { numRuns: 300 },
    );
  });

  it('gives what it gives in order, loses no line without a word, and never more faults than it keeps', () => {
    fc.assert(
      fc.property(anyLog, (text) => {
        const { events, report } = readIn(make(), [text]);
        const { frames, levels, bad, faults, lines } = report as {
          frames: number;
          levels: number;
          bad: number;
          faults: unknown[];
          lines: number;
        };
        expect(frames + levels).toBe(events.length);
        expect(faults.length).toBe(Math.min(bad, MOST_FAULTS));
        expect(bad + events.length).toBeLessThanOrEqual(lines);
        for (let at = 1; at < events.length; at += 1) {
          const [a, b] = [events[at - 1]!, events[at]!];
          expect(a.timeUs < b.timeUs || (a.timeUs === b.timeUs && a.line < b.line)).toBe(true);
        }
      }),
      { numRuns: 300 },
    );
  });
});

describe('order', () => {
  it('is that of a stable sort while no line lags too much', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.integer({ min: 0, max: 50_000 }), fc.integer({ min: 0, max: REORDER_US })), {
          maxLength: 200,
        }),
        (steps) => {
          let newest = 0;
          const times = steps.map(([ahead, lag]) => {
            newest += ahead;
            return Math.max(0, newest - lag);
          });
          const { events } = readIn(
            frameLogReader(names),
            times.map((us) => `(${timeText(us)}) can0 123#00\n`),
          );
          const sorted = times
            .map((timeUs, index) => ({ timeUs, line: index + 1 }))
            .sort((a, b) => a.timeUs - b.timeUs || a.line - b.line);
          expect(events.map(({ timeUs, line }) => ({ timeUs, line }))).toEqual(sorted);
        },
      ),
    );
  });

  it('keeps a bounded number of events, whatever the times', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 200_000 }), { minLength: 1, maxLength: 50 }), (times) => {
        const reader = frameLogReader(names);
        let given = 0;
        for (let line = 0; line < 15_000; line += 1)
          given += reader.push(`(${timeText(times[line % times.length]!)}) can0 123#00\n`).length;
        expect(reader.report.frames - given).toBeLessThanOrEqual(REORDER_EVENTS);
      }),
      { numRuns: 10 },
    );
  });
});

describe('merging', () => {
  it('is that of a stable sort over all logs, however each is cut', async () => {
    const times = fc
      .array(fc.integer({ min: 0, max: 3_000_000 }), { maxLength: 60 })
      .map((list) => list.sort((a, b) => a - b));
    await fc.assert(
      fc.asyncProperty(fc.array(fc.tuple(times, places), { minLength: 1, maxLength: 4 }), async (logs) => {
        async function* chunks(pieces: readonly string[]): AsyncGenerator<string> {
          for (const piece of pieces) yield await Promise.resolve(piece);
        }
        const sources = logs.map(([list, at], log) => ({
          name: String(log),
          reader: frameLogReader(names),
          chunks: chunks(cut(list.map((us) => `(${timeText(us)}) can0 00${log}#\n`).join(''), at)),
        }));
        const given: string[] = [];
        for await (const run of mergeLogs(sources))
          given.push(...run.map((event) => (event.kind === 'frame' ? `${event.timeUs} ${event.frameId}` : '')));
        const sorted = logs
          .flatMap(([list], log) => list.map((timeUs) => ({ timeUs, log })))
          .sort((a, b) => a.timeUs - b.timeUs || a.log - b.log);
        expect(given).toEqual(sorted.map(({ timeUs, log }) => `${timeUs} ${log}`));
      }),
    );
  });
});

describe('what is written', () => {
  it('is read back as it was', () => {
    const frame = fc
      .record({
        timeUs: fc.integer({ min: 0, max: 2 ** 52 }),
        bus: fc.constantFrom('host:bus', 'donor:bus'),
        extended: fc.boolean(),
        fd: fc.boolean(),
        id: fc.nat(0x1fff_ffff),
        bytes: fc.uint8Array({ maxLength: 8 }),
      })
      .map(({ id, bytes, ...rest }) => ({ ...rest, frameId: rest.extended ? id : id & 0x7ff, data: bytes }));
    fc.assert(
      fc.property(frame, (one) => {
        const { events } = readIn(frameLogReader(names), [frameLogWriter(names)(one)]);
        expect(events).toEqual([{ kind: 'frame', ...one, line: 1 }]);
      }),
    );
    const level = fc.oneof(
      fc.record({
        wire: fc.constant('host:button'),
        level: fc.constantFrom(
          { kind: 'switched' as const, active: true },
          { kind: 'switched' as const, active: false },
          { kind: 'open' as const },
        ),
      }),
      fc.record({
        wire: fc.constant('host:sender'),
        level: fc
          .integer({ min: -(2 ** 31) + 1, max: 2 ** 31 - 1 })
          .map((thousandths) => ({ kind: 'measured' as const, thousandths })),
      }),
    );
    fc.assert(
      fc.property(level, fc.integer({ min: 0, max: 2 ** 52 }), (one, timeUs) => {
        const text = WIRE_LOG_HEADER + wireLogWriter(pairing)({ ...one, timeUs });
        const { events } = readIn(wireLogReader(pairing, { mayBeOpen: true }), [text]);
        expect(events).toEqual([{ kind: 'wire', timeUs, ...one, line: 2 }]);
      }),
    );
  });
});
