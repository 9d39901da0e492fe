import { holds, sideRef, type Route } from '../../../../model/index.ts';
import { analyseRoute, lossWords, type LiveValue, type RouteAnalysis } from '../../../../translate/index.ts';
import { valueText } from '../../../strip/format.ts';
import type { ChangeTrace } from './change-trace.ts';
import { steadyOf } from './delivering.ts';
import { readingOf, type Reading } from './reading.ts';
import { NOT_WRITTEN, ROUTE_STATES, sourceStateOf, type Recording, type RouteState } from './recorder.ts';

/** A source at a moment. */
export interface SourceAt {
  readonly ref: string;
  readonly value: string;
  readonly raw: string;
  readonly state: 'fresh' | 'lost' | 'not-yet';
  /** Time since its last frame, or since the level of its wire last changed, in ms; null: nothing came yet. */
  readonly ageMs: number | null;
}

/** A route at a moment, in words and figures for a table. */
export interface RouteAt {
  readonly route: string;
  readonly sources: readonly SourceAt[];
  /** What the steps make of the sources; '' where no value is delivered. */
  readonly delivered: string;
  /** What the reader reads. */
  readonly target: string;
  /** Raw value written, or the level on the wire; '–': nothing is written. */
  readonly raw: string;
  readonly state: RouteState | 'conducted' | 'refused';
  /** What the route does while it is in loss; '' else. */
  readonly loss: string;
  readonly clip: 'none' | 'low' | 'high';
}

export interface RouteLook {
  readonly route: Route;
  readonly analysis: RouteAnalysis;
  readonly readings: readonly (Reading | null)[];
  readonly target: Reading | null;
}

/** The routes of a recording's build, made ready to be looked at at many moments. */
export function looksOf({ pairing, combination }: Recording): readonly RouteLook[] {
  return pairing.map.routes
    .filter(({ when }) => when === undefined || holds(when, combination))
    .map((route) => {
      const target = pairing.find(route.to);
      return {
        route,
        analysis: analyseRoute(pairing, route),
        readings: route.from.map((ref) => {
          const endpoint = pairing.find(ref);
          return endpoint === null ? null : readingOf(endpoint);
        }),
        target: target === null ? null : readingOf(target),
      };
    });
}

/** When each message was last received before a moment, by reference. Messages silent for very long count as not received. */
export function lastReceived({ frames, messages }: Recording, timeUs: number): ReadonlyMap<string, number> {
  const received = frames[0]!;
  const wanted = messages.filter(({ by }) => by === null).length;
  const found = new Map<string, number>();
  const start = received.indexAt(timeUs);
  for (let index = start; index >= 0 && index > start - MOST_LOOKED_THROUGH && found.size < wanted; index -= 1) {
    const { ref } = messages[received.messages.at(index)]!;
    if (!found.has(ref)) found.set(ref, received.times.at(index));
  }
  return found;
}

const MOST_LOOKED_THROUGH = 400_000;

/** The state of a route at a moment; `received` as `lastReceived` gives it for that moment. */
export function routeAt(
  recording: Recording,
  { route, analysis, readings, target }: RouteLook,
  timeUs: number,
  received: ReadonlyMap<string, number>,
): RouteAt {
  const trace = recording.routes.get(route.id);
  const sourceStates = trace === undefined ? null : valueAt(trace.sources, timeUs);
  const recorded = route.from.map((ref) => valueAt(recording.sources.get(ref), timeUs));
  const sources = route.from.map((ref, index): SourceAt => {
    const reading = readings[index] ?? null;
    const value = recorded[index] ?? null;
    const cameUs = cameAt(recording, ref, timeUs, received);
    return {
      ref,
      value: value === null || reading === null ? '' : textOf(reading.valueOf(value), reading),
      raw: value === null || reading === null ? '–' : reading.rawText(value),
      state: value === null ? 'not-yet' : sourceStates === null ? 'fresh' : sourceStateOf(Number(sourceStates), index),
      ageMs: cameUs === null ? null : (timeUs - cameUs) / 1000,
    };
  });
  const none = { route: route.id, sources, delivered: '', target: '', raw: '–', loss: '', clip: 'none' } as const;
  if (trace === undefined) {
    if (route.carrier === 'interface' || target === null) return { ...none, state: 'refused' };
    const { delivered } = steadyOf(analysis, readings, recorded);
    const level = valueAt(recording.conductors.get(route.to), timeUs);
    const read = level === null ? delivered : target.valueOf(level);
    const known = recorded.every((value) => value !== null);
    return {
      ...none,
      delivered: known ? textOf(delivered, target) : '',
      target: known ? textOf(read, target) : '',
      raw: level === null ? (sources[0]?.raw ?? '–') : target.rawText(level),
      state: known ? 'conducted' : 'not-yet',
    };
  }
  const code = Number(valueAt(trace.state, timeUs) ?? ROUTE_STATES.indexOf('not-yet') + NOT_WRITTEN);
  const state = ROUTE_STATES[code % NOT_WRITTEN]!;
  const raw = code >= NOT_WRITTEN ? null : valueAt(trace.raw, timeUs);
  const { delivered, clip } = steadyOf(analysis, readings, recorded);
  return {
    ...none,
    delivered: state === 'value' ? textOf(delivered, target) : '',
    target: raw === null || target === null ? '' : textOf(target.valueOf(raw), target),
    raw: raw === null || target === null ? '–' : target.rawText(raw),
    state,
    loss: state === 'lost' || state === 'not-yet' ? lossWords(route, analysis.target) : '',
    clip: state !== 'value' || clip === 0 ? 'none' : clip === 1 ? 'low' : 'high',
  };
}

function cameAt(
  { pairing, sources }: Recording,
  ref: string,
  timeUs: number,
  received: ReadonlyMap<string, number>,
): number | null {
  const endpoint = pairing.find(ref);
  if (endpoint === null) return null;
  if (endpoint.kind !== 'wire') return received.get(sideRef(endpoint.side, endpoint.message.id)) ?? null;
  const trace = sources.get(ref);
  const at = trace?.indexAt(timeUs) ?? -1;
  return at < 0 ? null : trace!.times.at(at);
}

function valueAt(trace: ChangeTrace | undefined, timeUs: number): number | bigint | null {
  if (trace === undefined) return null;
  const at = trace.indexAt(timeUs);
  return at < 0 ? null : trace.valueAt(at);
}

function textOf(value: LiveValue, target: Reading | null): string {
  if (value.kind === 'none' && value.why === 'special') return value.means === 'error' ? 'error' : 'not available';
  return valueText(value, target?.unit ?? '');
}
