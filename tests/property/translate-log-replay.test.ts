/** From the text of logs to what comes out of a replay: the same however the text is cut and played, and nothing hostile stops it. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { FD_LENGTHS } from '../../src/can/index.ts';
import type { Pairing } from '../../src/model/index.ts';
import {
  WIRE_LOG_HEADER,
  busNames,
  createReplay,
  frameLogReader,
  frameLogWriter,
  levelWords,
  type LogSource,
  mergeLogs,
  playLog,
  type ReplayOptions,
  type ReplayOutput,
  tallySamples,
  wireLogReader,
  wireLogWriter,
} from '../../src/translate/index.ts';
import { type LogEvent, randomLog } from '../translate/random-log.ts';
import { randomPairing } from '../translate/random-map.ts';

const MAPPING = ['can0=host:bus', 'can1=donor:bus'];

interface Played {
  readonly frames: string;
  readonly levels: string;
  readonly tallies: unknown;
}

async function* piecesOf(text: string, at: readonly number[]): AsyncGenerator<string> {
  const places = [0, ...at.map((part) => Math.floor(part * text.length)).sort((a, b) => a - b), text.length];
  for (let index = 1; index < places.length; index += 1)
    yield await Promise.resolve(text.slice(places[index - 1], places[index]));
}

/** All that comes out, as logs. */
async function played(
  pairing: Pairing,
  texts: { readonly frames: string; readonly levels: string },
  at: readonly number[] = [],
  more: Partial<ReplayOptions> = {},
): Promise<Played> {
  const names = busNames(pairing, MAPPING);
  const sources: LogSource[] = [
    { name: 'frames', reader: frameLogReader(names), chunks: piecesOf(texts.frames, at) },
    { name: 'levels', reader: wireLogReader(pairing), chunks: piecesOf(texts.levels, at) },
  ];
  const frameLine = frameLogWriter(names);
  const levelLine = wireLogWriter(pairing);
  const out = { frames: '', levels: WIRE_LOG_HEADER };
  const tallies = tallySamples(() => replay.plans);
  const replay = createReplay(pairing, {
    output: (event: ReplayOutput) => {
      if (event.kind === 'frame') out.frames += frameLine(event);
      else out.levels += levelLine(event);
    },
    sample: tallies.sample,
    ...more,
  });
  const player = playLog(replay, () => Promise.resolve(true));
  for await (const events of mergeLogs(sources)) await player.play(events);
  await player.end();
  return { ...out, tallies: tallies.upTo(player.nowUs ?? 0) };
}

/** Events of a random log that can stand in a log: a frame has a length that there is, a level is of its wire's kind. */
function eventsOf(pairing: Pairing, seed: number, untilMs: number): readonly LogEvent[] {
  return randomLog(pairing, seed, untilMs).filter((event) => {
    if (event.kind === 'frame') return FD_LENGTHS.includes(event.data.length);
    const endpoint = pairing.find(event.wire);
    return endpoint?.kind === 'wire' && (levelWords(endpoint.wire).of === null) === (event.level.kind === 'switched');
  });
}

function textsOf(
  pairing: Pairing,
  seed: number,
  untilMs: number,
): { readonly frames: string; readonly levels: string } {
  const frameLine = frameLogWriter(busNames(pairing, MAPPING));
  const levelLine = wireLogWriter(pairing);
  const out = { frames: '', levels: WIRE_LOG_HEADER };
  for (const event of eventsOf(pairing, seed, untilMs)) {
    if (event.kind === 'frame') out.frames += frameLine({ ...event, fd: event.data.length > 8 });
    else out.levels += levelLine(event);
  }
  return out;
}

const places = fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { maxLength: 10 });
const seeds = fc.integer({ min: 1, max: 100_000 });

describe('a log played through a map', () => {
  it('gives the same bytes however its text is cut, and every time', async () => {
    let bytes = 0;
    await fc.assert(
      fc.asyncProperty(seeds, places, async (seed, at) => {
        const pairing = randomPairing(seed);
        const texts = textsOf(pairing, seed + 1, 700);
        const once = await played(pairing, texts);
        expect(await played(pairing, texts, at)).toEqual(once);
        expect(await played(randomPairing(seed), texts)).toEqual(once);
        bytes += once.frames.length + once.levels.length;
      }),
      { numRuns: 40 },
    );
    expect(bytes).toBeGreaterThan(10_000);
  });

  it('gives what the events themselves give, handed to the replay one by one', async () => {
    await fc.assert(
      fc.asyncProperty(seeds, async (seed) => {
        const pairing = randomPairing(seed);
        const names = busNames(pairing, MAPPING);
        const direct = { frames: '', levels: WIRE_LOG_HEADER };
        const frameLine = frameLogWriter(names);
        const levelLine = wireLogWriter(pairing);
        const replay = createReplay(pairing, {
          startUs: 0,
          output: (event) => {
            if (event.kind === 'frame') direct.frames += frameLine(event);
            else direct.levels += levelLine(event);
          },
        });
        let lastUs = 0;
        // Frames before levels at one moment, as two logs are merged.
        const events = eventsOf(pairing, seed + 1, 700).toSorted(
          (a, b) => a.timeUs - b.timeUs || Number(a.kind === 'wire') - Number(b.kind === 'wire'),
        );
        for (const event of events) {
          lastUs = event.timeUs;
          if (event.kind === 'frame') replay.onFrame(event);
          else replay.onWire(event.wire, event.level, event.timeUs);
        }
        replay.advanceTo(lastUs);
        const { frames, levels } = await played(pairing, textsOf(pairing, seed + 1, 700), [], { startUs: 0 });
        expect({ frames, levels }).toEqual(direct);
      }),
      { numRuns: 40 },
    );
  });

  it('is the same with a pause in it that is played in slices', async () => {
    const pairing = randomPairing(7);
    const texts = textsOf(pairing, 8, 300);
    // Seventeen and a half seconds later, on and off the grid of whole seconds.
    for (const laterUs of [17_500_000, 17_000_000, 17_000_001]) {
      const later = texts.frames.replace(/\((\d+)\.(\d{6})\)/g, (_, s: string, us: string) => {
        const time = Number(s) * 1e6 + Number(us) + laterUs;
        return `(${Math.floor(time / 1e6)}.${String(time % 1e6).padStart(6, '0')})`;
      });
      const whole = await played(pairing, { frames: texts.frames + later, levels: texts.levels });
      const names = busNames(pairing, MAPPING);
      let frames = '';
      const line = frameLogWriter(names);
      const replay = createReplay(pairing, {
        output: (event) => (frames += event.kind === 'frame' ? line(event) : ''),
      });
      const sources = [
        { name: 'f', reader: frameLogReader(names), chunks: piecesOf(texts.frames + later, []) },
        { name: 'w', reader: wireLogReader(pairing), chunks: piecesOf(texts.levels, []) },
      ];
      let lastUs = 0;
      for await (const events of mergeLogs(sources))
        for (const event of events) {
          lastUs = event.timeUs;
          if (event.kind === 'frame') replay.onFrame(event);
          else if (event.level.kind !== 'open') replay.onWire(event.wire, event.level, event.timeUs);
        }
      replay.advanceTo(lastUs);
      expect(whole.frames === frames).toBe(true);
    }
  });
});

describe('hostile logs', () => {
  const time = fc.oneof(
    fc.constantFrom(
      '0.0',
      '9007199254.740991',
      '9999999999.999999',
      '1.000000',
      '3600.0',
      '3599.999999',
      '99999999999999.0',
    ),
    fc.integer({ min: 0, max: 4_000_000 }).map((us) => `${Math.floor(us / 1e6)}.${String(us % 1e6).padStart(6, '0')}`),
  );
  const frameLine = fc
    .tuple(
      time,
      fc.constantFrom('can0', 'can1', '__proto__', 'can0 '),
      fc.constantFrom(
        '100#',
        '100#FFFFFFFFFFFFFFFF',
        '101##F00',
        '1FFFFFFF#00',
        '100#R8',
        '20000001#',
        '100#0',
        '\u0000',
      ),
    )
    .map(([t, name, frame]) => `(${t}) ${name} ${frame}\n`);
  const levelLine = fc
    .tuple(
      time,
      fc.constantFrom('donor:w0', 'host:w0', '__proto__', '=1+1', '"donor:w0"'),
      fc.constantFrom('active', '1e9 V', '-2147483.648 V', '99999999999999999999 Ohm', 'NaN V', '"', '=cmd'),
    )
    .map((cells) => `${cells.join(',')}\n`);
  const junk = fc.string({ unit: 'binary', maxLength: 50 });

  it('never throw, hang or send anything that a log without the bad lines does not', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.oneof({ weight: 5, arbitrary: frameLine }, { weight: 1, arbitrary: junk }), { maxLength: 60 }),
        fc.array(fc.oneof({ weight: 5, arbitrary: levelLine }, { weight: 1, arbitrary: junk }), { maxLength: 30 }),
        fc.integer({ min: 1, max: 20 }),
        async (frames, levels, seed) => {
          const pairing = randomPairing(seed);
          const all = { frames: frames.join(''), levels: WIRE_LOG_HEADER + levels.join('') };
          const names = busNames(pairing, MAPPING);
          const reader = frameLogReader(names);
          const kept = [...reader.push(all.frames), ...reader.end()].filter((event) => event.kind === 'frame');
          // An hour of idling is allowed, and slow; this is about shapes of lines.
          fc.pre(kept.length === 0 || kept.at(-1)!.timeUs - kept[0]!.timeUs < 10_000_000);
          const once = await played(pairing, all).catch((error: unknown) => {
            expect((error as Error).name).toBe('LogClockError');
            return null;
          });
          if (once === null) return;
          const clean = frameLogWriter(names);
          const again = await played(pairing, { frames: kept.map(clean).join(''), levels: all.levels });
          expect(again.frames).toBe(once.frames);
        },
      ),
      { numRuns: 150 },
    );
  });
});
