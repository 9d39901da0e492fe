import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { codecOf } from '../../../src/can/index.ts';
import { toNumber } from '../../../src/number/index.ts';
import type { Pairing } from '../../../src/model/index.ts';
import {
  analyseRoute,
  createReplay,
  evaluateRoute,
  type ReplayOutput,
  type RouteSample,
} from '../../../src/translate/index.ts';
import { deliveringOf, steadyOf } from '../../../src/workbench/places/bench/recording/delivering.ts';
import { neighbour, FrameLog, type FramePlace } from '../../../src/workbench/places/bench/recording/frame-log.ts';
import { readingOf } from '../../../src/workbench/places/bench/recording/reading.ts';
import {
  createRecorder,
  NOT_WRITTEN,
  ROUTE_STATES,
  sourceStateOf,
  type Recording,
} from '../../../src/workbench/places/bench/recording/recorder.ts';
import { anySignal, anySteps, rawsOf } from '../../translate/arbitrary.ts';
import { routeBetween, signal } from '../../translate/bench-pairing.ts';
import { sentRoute } from './sent-route.ts';
import { randomLog, type LogEvent } from '../../translate/random-log.ts';
import { randomPairing } from '../../translate/random-map.ts';

const UNTIL_MS = 1500;

function record(pairing: Pairing, log: readonly LogEvent[]): Recording {
  const recorder = createRecorder(pairing, pairing.options.combinations[0]!, 0);
  for (const event of log) {
    if (event.kind === 'frame') recorder.onFrame(event);
    else recorder.onWire(event.wire, event.level, event.timeUs);
  }
  return recorder.finish(UNTIL_MS * 1000);
}

/** The engine by itself on the same log. */
function replay(pairing: Pairing, log: readonly LogEvent[]) {
  const samples: RouteSample[] = [];
  const frames: string[] = [];
  const engine = createReplay(pairing, {
    startUs: 0,
    output: (event: ReplayOutput) => {
      if (event.kind === 'frame')
        frames.push(`${event.timeUs} ${event.message} ${Buffer.from(event.data).toString('hex')}`);
    },
    sample: (sample) => samples.push({ ...sample }),
  });
  for (const event of log) {
    if (event.kind === 'frame') engine.onFrame(event);
    else engine.onWire(event.wire, event.level, event.timeUs);
  }
  engine.advanceTo(UNTIL_MS * 1000);
  return { samples, frames };
}

describe('a recording of random maps and logs', () => {
  it('holds what the engine gave, at every moment, and every frame it sent', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1_000_000 }), (seed) => {
        const pairing = randomPairing(seed);
        const log = randomLog(pairing, seed, UNTIL_MS);
        const recording = record(pairing, log);
        const { samples, frames } = replay(pairing, log);
        const latencyUs = Math.round(pairing.map.interfaceModules[0]!.latencyMs * 1000);
        // Of all routes that write one target, the last sample at each moment is what holds from then on.
        const last = new Map<string, RouteSample>();
        for (const sample of samples) last.set(`${pairing.routes.get(sample.route)!.to} ${sample.timeUs}`, sample);
        for (const { route, timeUs, raw, state } of last.values()) {
          const trace = recording.routes.get(route)!;
          const at = trace.state.indexAt(timeUs + latencyUs);
          const code = trace.state.values.at(at);
          expect(ROUTE_STATES[code % NOT_WRITTEN]).toBe(state);
          expect(code >= NOT_WRITTEN).toBe(raw === null);
          if (raw !== null) expect(Number(trace.raw.valueAt(trace.raw.indexAt(timeUs + latencyUs)))).toBe(Number(raw));
        }
        const sent = recording.frames
          .slice(1)
          .flatMap((each) =>
            Array.from(
              { length: each.length },
              (_, index) =>
                `${each.times.at(index)} ${recording.messages[each.messages.at(index)]!.ref} ${Buffer.from(each.dataAt(index)).toString('hex')}`,
            ),
          );
        expect(sent).toEqual(frames);
      }),
      { numRuns: 40 },
    );
  });

  it('holds what each source last said, as decoding the last frame whole gives it', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1_000_000 }), fc.integer({ min: 1, max: UNTIL_MS }), (seed, ms) => {
        const pairing = randomPairing(seed);
        const log = randomLog(pairing, seed, UNTIL_MS);
        const recording = record(pairing, log);
        for (const [ref, trace] of recording.sources) {
          const endpoint = pairing.find(ref);
          if (endpoint?.kind !== 'signal') continue;
          const said = log.flatMap((event) => {
            if (event.kind !== 'frame' || event.timeUs > ms * 1000) return [];
            if (event.frameId !== Number.parseInt(endpoint.message.frameId, 16)) return [];
            if (event.extended !== (endpoint.message.idFormat === 'extended')) return [];
            if (event.data.length < endpoint.message.length) return [];
            return codecOf(endpoint.message)
              .decode(event.data)
              .filter(({ name }) => name === endpoint.signal.id)
              .map(({ raw }) => raw);
          });
          const at = trace.indexAt(ms * 1000);
          expect(at < 0 ? 'undefined' : String(trace.valueAt(at))).toBe(String(said.at(-1)));
        }
      }),
      { numRuns: 30 },
    );
  });
});

describe('staleness of a source', () => {
  const source = signal({ id: 'S', factor: 2, unit: 'km/h' });
  const target = signal({ id: 'T', unit: 'km/h' });

  it('begins after the declared time and ends after the declared number of good samples', () => {
    const pairing = sentRoute(source, target, { staleAfterMs: 50, recoverAfter: 3 });
    const recorder = createRecorder(pairing, new Map(), 0);
    const frame = (ms: number): void =>
      recorder.onFrame({
        timeUs: ms * 1000,
        bus: 'donor:bus',
        frameId: 0x100,
        extended: false,
        data: Uint8Array.of(30, 0, 0, 0, 0, 0, 0, 0),
      });
    for (let ms = 0; ms <= 100; ms += 10) frame(ms);
    for (let ms = 300; ms <= 400; ms += 10) frame(ms);
    const trace = recorder.finish().routes.get('r')!;
    const stateAt = (ms: number): string => sourceStateOf(trace.sources.values.at(trace.sources.indexAt(ms * 1000)), 0);
    // The last good frame came at 100 ms; ticks are 10 ms apart and look 50 ms back. The third frame after the gap came at 320 ms.
    expect(['100', '150', '160', '310', '320'].map((ms) => stateAt(Number(ms)))).toEqual([
      'fresh',
      'fresh',
      'lost',
      'lost',
      'fresh',
    ]);
  });
});

describe('the delivered value for drawing', () => {
  it('is that of the exact evaluation, and so is the clipping', () => {
    fc.assert(
      fc.property(anySignal('S'), anySteps, anySignal('T'), (from, steps, to) => {
        const { pairing, route } = routeBetween([from], to, steps);
        const analysis = analyseRoute(pairing, route);
        const source = readingOf(pairing.find(route.from[0]!)!);
        const target = readingOf(pairing.find(route.to)!)!;
        const delivering = deliveringOf(analysis, [source], (live) => target.yOfValue(live));
        for (const raw of rawsOf(from)) {
          const drawn = delivering.deliver([raw]);
          const { delivered, target: written, stages } = evaluateRoute(analysis, [{ kind: 'raw', raw }]);
          if (delivered.kind !== 'number' || analysis.target?.kind !== 'number') continue;
          const exact = toNumber(delivered.value);
          expect(Math.abs(drawn - exact)).toBeLessThanOrEqual(Math.abs(exact) * 1e-9 + 1e-9);
          const isClipped = written.clipped !== 'none' || stages.some(({ cut }) => cut !== 'none');
          expect(delivering.clip !== 0).toBe(isClipped);
          expect(steadyOf(analysis, [source], [raw]).clip).toBe(delivering.clip);
        }
      }),
      { numRuns: 150 },
    );
  });
});

describe('stepping from frame to frame', () => {
  it('visits every wanted frame of all logs once, in order of time, and goes back the same way', () => {
    const times = fc.array(fc.integer({ min: 0, max: 12 }), { maxLength: 25 });
    fc.assert(
      fc.property(times, times, times, (...lists) => {
        const logs = lists.map((list) => {
          const log = new FrameLog();
          list.toSorted((a, b) => a - b).forEach((time, index) => log.add(time, index % 3, Uint8Array.of(index)));
          return log;
        });
        const wanted = (message: number): boolean => message !== 1;
        const naive = logs
          .flatMap((log, order) => Array.from({ length: log.length }, (_, index) => ({ log: order, index })))
          .filter(({ log, index }) => wanted(logs[log]!.messages.at(index)))
          .sort(
            (a, b) =>
              logs[a.log]!.times.at(a.index) - logs[b.log]!.times.at(b.index) || a.log - b.log || a.index - b.index,
          );
        const walk = (step: 1 | -1, from: number): FramePlace[] => {
          const seen: FramePlace[] = [];
          let timeUs = from;
          let place: FramePlace | null = null;
          for (;;) {
            place = neighbour(logs, timeUs, place, step, wanted);
            if (place === null) return seen;
            timeUs = logs[place.log]!.times.at(place.index);
            seen.push(place);
          }
        };
        expect(walk(1, -1)).toEqual(naive);
        expect(walk(-1, 100)).toEqual(naive.toReversed());
      }),
    );
  });
});
