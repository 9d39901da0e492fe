import { analyseRoute, type LiveValue } from '../../../../translate/index.ts';
import type { Route } from '../../../../model/index.ts';
import { ChangeTrace, Column } from './change-trace.ts';
import { reduceBands, reduceLine, type Band, type Line, type Span } from './columns.ts';
import { deliveringOf } from './delivering.ts';
import { createEnvelope } from './envelope.ts';
import { readingOf, type Reading } from './reading.ts';
import { NOT_WRITTEN, ROUTE_STATES, sourceStateOf, type Recording } from './recorder.ts';

/** An axis of a lane: a unit, or names from the lowest up. */
export interface LaneAxis {
  readonly unit: string;
  readonly labels: readonly string[] | null;
  /** Least and greatest value in the whole recording; null where there is none. */
  readonly low: number | null;
  readonly high: number | null;
}

/** What is always so of a traced route. */
export interface LaneHead {
  readonly route: string;
  readonly sources: readonly (LaneAxis & { readonly ref: string })[];
  readonly target: LaneAxis;
  /** The steps keep time: the delivered line is where the value settles. */
  readonly settles: boolean;
  /** Why nothing is drawn of it; null: it is. */
  readonly refused: string | null;
}

/** A lane as it is drawn in a span: four points a column for each line. */
export interface LanePoints {
  readonly route: string;
  readonly sources: readonly Float64Array[];
  readonly delivered: Float64Array;
  readonly target: Float64Array;
  /** Kind 1: some source is too old; 2: none came yet. */
  readonly stale: readonly Band[];
  /** Kind 1: lost; 2: not available or error; 3: nothing yet; 4: another route writes. */
  readonly loss: readonly Band[];
  /** Kind 1: at the low end; 2: at the high end. */
  readonly clips: readonly Band[];
}

/** A traced route, worked out once. */
export interface Lane {
  readonly head: LaneHead;
  points(span: Span): LanePoints;
  /** The next moment (or the one before) at which loss or clipping begins or ends; null: there is none. */
  turn(timeUs: number, step: 1 | -1): number | null;
}

const EMPTY = new Float64Array();
export const LOSS_KINDS = ['', 'in loss', 'not available or error', 'nothing yet', 'another route writes'] as const;
const LOSS_OF_STATE: Readonly<Record<(typeof ROUTE_STATES)[number], number>> = {
  value: 0,
  lost: 1,
  'not-available': 2,
  error: 2,
  'not-yet': 3,
  'other-writes': 4,
};

/** Works out what is drawn of a route; the head of one that was not run says why. */
export function laneOf(recording: Recording, route: Route): Lane {
  const { pairing } = recording;
  const readings = route.from.map((ref) => {
    const endpoint = pairing.find(ref);
    return endpoint === null ? null : readingOf(endpoint);
  });
  const targetEnd = pairing.find(route.to);
  const target = targetEnd === null ? null : readingOf(targetEnd);
  const refused = refusedWhy(recording, route, target);
  if (refused !== null || target === null)
    return refusedLane(route, readings, target, refused ?? 'its target is not there');
  const traces = route.from.map((ref) => recording.sources.get(ref) ?? new ChangeTrace());
  const sources = traces.map((trace, index) => lineOf(trace, readings[index] ?? null));
  const trace = recording.routes.get(route.id);
  const analysis = analyseRoute(pairing, route);
  const settles = analysis.stages.some(({ effects }) =>
    effects.some(
      (effect) => effect !== null && ['rate-limit', 'smooth', 'debounce', 'delay', 'bands'].includes(effect.kind),
    ),
  );

  const lost = trace === undefined ? new ChangeTrace() : trace.state;
  const delivering = deliveringOf(analysis, readings, (value: LiveValue) => target.yOfValue(value));
  const delivered = { times: new Column(), y: new Column() };
  const clips = new ChangeTrace();
  forEachMoment([...traces, lost], (timeUs, entries) => {
    const state = trace === undefined ? 0 : entries.at(-1)! < 0 ? 4 : lost.values.at(entries.at(-1)!) % NOT_WRITTEN;
    const recorded = traces.map((one, index) => (entries[index]! < 0 ? null : one.valueAt(entries[index]!)));
    const isValue =
      ROUTE_STATES[state] === 'value' && (trace !== undefined || recorded.every((value) => value !== null));
    const y = isValue ? delivering.deliver(recorded) : Number.NaN;
    clips.set(timeUs, isValue ? delivering.clip : 0);
    delivered.times.push(timeUs);
    delivered.y.push(y);
  });
  const deliveredLine = finish(delivered.times, delivered.y);
  const targetLine =
    trace === undefined ? conductedLine(recording, route, target, deliveredLine) : writtenLine(trace, target);
  const stale = new ChangeTrace();
  const loss = new ChangeTrace();
  if (trace !== undefined) {
    for (let index = 0; index < trace.sources.length; index += 1) {
      const states = trace.sources.values.at(index);
      const each = route.from.map((_, source) => sourceStateOf(states, source));
      stale.set(
        trace.sources.times.at(index),
        each.includes('lost') ? 1 : each.every((state) => state === 'not-yet') ? 2 : 0,
      );
    }
    for (let index = 0; index < trace.state.length; index += 1)
      loss.set(trace.state.times.at(index), LOSS_OF_STATE[ROUTE_STATES[trace.state.values.at(index) % NOT_WRITTEN]!]);
  }
  const { endUs } = recording;
  const head: LaneHead = {
    route: route.id,
    sources: route.from.map((ref, index) => ({ ref, ...axisOf(readings[index] ?? null, [sources[index]!]) })),
    target: axisOf(target, [deliveredLine, targetLine]),
    settles,
    refused: null,
  };
  return {
    head,
    points: (span) => ({
      route: route.id,
      sources: sources.map((line) => reduceLine(line, span, endUs)),
      delivered: reduceLine(deliveredLine, span, endUs),
      target: reduceLine(targetLine, span, endUs),
      stale: reduceBands(stale.times.view(), stale.values.view(), span, endUs),
      loss: reduceBands(loss.times.view(), loss.values.view(), span, endUs),
      clips: reduceBands(clips.times.view(), clips.values.view(), span, endUs),
    }),
    turn(timeUs, step) {
      const found = [loss, clips].flatMap((each) => changeBeside(each, timeUs, step) ?? []);
      return found.length === 0 ? null : step === 1 ? Math.min(...found) : Math.max(...found);
    },
  };
}

/** The change of a trace after a moment, or the one before it. */
function changeBeside(trace: ChangeTrace, timeUs: number, step: 1 | -1): number | null {
  let index = trace.indexAt(timeUs);
  if (step === 1) index += 1;
  else while (index >= 0 && trace.times.at(index) >= timeUs) index -= 1;
  return index >= 0 && index < trace.length ? trace.times.at(index) : null;
}

function refusedWhy({ refused, routes }: Recording, route: Route, target: Reading | null): string | null {
  if (target === null) return 'a whole message is passed on as it is: there is no single value to trace';
  if (route.carrier !== 'interface') return null;
  const found = refused.find(({ what, id }) => what === 'route' && id === route.id);
  if (found !== undefined) return found.why;
  const ofMessage = refused.find(({ what, id }) => what === 'transmit' && route.to.startsWith(`${id}.`));
  if (ofMessage !== undefined) return `its message is not sent: ${ofMessage.why}`;
  return routes.has(route.id) ? null : 'it is not part of this build';
}

function refusedLane(route: Route, readings: readonly (Reading | null)[], target: Reading | null, why: string): Lane {
  const head: LaneHead = {
    route: route.id,
    sources: route.from.map((ref, index) => ({ ref, ...axisOf(readings[index] ?? null, []) })),
    target: axisOf(target, []),
    settles: false,
    refused: why,
  };
  return {
    head,
    points: () => ({
      route: route.id,
      sources: route.from.map(() => EMPTY),
      delivered: EMPTY,
      target: EMPTY,
      stale: [],
      loss: [],
      clips: [],
    }),
    turn: () => null,
  };
}

function axisOf(reading: Reading | null, lines: readonly Line[]): LaneAxis {
  let low: number | null = null;
  let high: number | null = null;
  for (const { envelope, y } of lines) {
    envelope.look(0, y.length);
    if (Number.isNaN(envelope.low)) continue;
    low = low === null ? envelope.low : Math.min(low, envelope.low);
    high = high === null ? envelope.high : Math.max(high, envelope.high);
  }
  return { unit: reading?.unit ?? '', labels: reading?.labels ?? null, low, high };
}

function finish(times: Column, y: Column): Line {
  const values = y.view().slice();
  return { times: times.view().slice(), y: values, envelope: createEnvelope(values) };
}

function lineOf(trace: ChangeTrace, reading: Reading | null): Line {
  const y = new Column();
  for (let index = 0; index < trace.length; index += 1)
    y.push(reading === null ? Number.NaN : reading.yOf(trace.valueAt(index)));
  return finish(trace.times, y);
}

/** What the reader reads of what was written: nothing while nothing is. */
function writtenLine(
  { raw, state }: { readonly raw: ChangeTrace; readonly state: ChangeTrace },
  target: Reading,
): Line {
  const times = new Column();
  const y = new Column();
  forEachMoment([raw, state], (timeUs, [rawAt, stateAt]) => {
    times.push(timeUs);
    const written = rawAt! >= 0 && stateAt! >= 0 && state.values.at(stateAt!) < NOT_WRITTEN;
    y.push(written ? target.yOf(raw.valueAt(rawAt!)) : Number.NaN);
  });
  return finish(times, y);
}

/** On a conductor the level at the far end; on a shared or relayed bus the reader sees the frame itself. */
function conductedLine({ conductors }: Recording, route: Route, target: Reading, delivered: Line): Line {
  const trace = conductors.get(route.to);
  return trace === undefined ? delivered : lineOf(trace, target);
}

/** Visits every moment at which one of some traces changes, with the entry each of them then has (−1: none yet). */
export function forEachMoment(
  traces: readonly ChangeTrace[],
  visit: (timeUs: number, entries: readonly number[]) => void,
): void {
  const entries = traces.map(() => -1);
  for (;;) {
    let next = Infinity;
    for (let index = 0; index < traces.length; index += 1) {
      const trace = traces[index]!;
      const at = entries[index]! + 1;
      if (at < trace.length && trace.times.at(at) < next) next = trace.times.at(at);
    }
    if (next === Infinity) return;
    for (let index = 0; index < traces.length; index += 1) {
      const trace = traces[index]!;
      while (entries[index]! + 1 < trace.length && trace.times.at(entries[index]! + 1) <= next) entries[index]! += 1;
    }
    visit(next, entries);
  }
}
