import { sideRef, type Route } from '../model/index.ts';
import { boundsByMessage, responsesByMessage, segmentOf } from './bus-segments.ts';
import type { BusSegment } from './bus-types.ts';
import type { CheckContext } from './context.ts';
import { named, type NamedValue } from './rule.ts';

/** How old a delivered value can be, part by part, in ms; what is not known is named in `lacks` and counts as nothing. */
export interface DeliveredAge {
  readonly totalMs: number;
  readonly parts: readonly NamedValue[];
  readonly lacks: readonly string[];
}

/**
 * Worst age of what a route delivers, without its time on the buses: source period, interface period and latency, time kept in the
 * steps, target period. `responseParts` adds the buses.
 */
export function deliveredAge(context: CheckContext, route: Route): DeliveredAge {
  const parts: NamedValue[] = [];
  const lacks: string[] = [];
  let totalMs = 0;
  const add = (name: string, ms: number): void => {
    totalMs += ms;
    parts.push(named(name, ms, 'ms'));
  };
  let sourceMs = 0;
  let cyclic = false;
  for (const { entry: source } of context.sources(route)) {
    if (!source) continue;
    const period = source.kind === 'wire' ? (source.wire.periodMs ?? 0) : source.message.cycleMs;
    if (source.kind !== 'wire' && period === undefined) {
      if (source.message.send !== 'on-change' && source.message.send !== 'on-request')
        lacks.push(`cycle time of ${source.side}:${source.message.id}`);
      continue;
    }
    cyclic = true;
    sourceMs = Math.max(sourceMs, period ?? 0);
  }
  if (cyclic && sourceMs > 0) add('source period', sourceMs);
  if (route.carrier === 'interface' && route.by !== undefined) {
    const by = context.pairing.interfaceModules.get(route.by);
    if (by) {
      add('interface period', by.periodMs);
      add('interface latency', by.latencyMs);
    }
  }
  const kept = keptInSteps(route);
  if (kept > 0) add('kept in steps', kept);
  const target = context.pairing.find(route.to);
  if (route.carrier === 'interface' && target && target.kind !== 'wire') {
    const periods = context
      .transmitsFor(target)
      .map(({ cycleMs, send }) => (send === 'on-change' || send === 'forwarded' ? 0 : cycleMs));
    const known = periods.filter((period) => period !== undefined);
    if (known.length > 0 && Math.max(...known) > 0) add('target period', Math.max(...known));
    if (known.length < periods.length) lacks.push(`cycle time of the transmit of ${target.side}:${target.message.id}`);
  }
  return { totalMs, parts, lacks };
}

/** How long the frames of a route can be on their way on the buses, in ms; what has no bound counts as nothing. */
export interface ResponseParts {
  readonly sourceMs: number;
  readonly targetMs: number;
}

/** Never below `responseParts`, of any combination, and found without iteration; Infinity on a full bus. In ms. */
export function responseBoundMs(context: CheckContext, route: Route): number {
  const boundNs = (refs: readonly string[]): number =>
    Math.max(0, ...refs.map((ref) => on(context, ref, (segment, message) => segmentBoundNs(segment, message))));
  return (boundNs(route.from) + boundNs([route.to])) / 1e6;
}

/** Worst-case response times in the combinations of `mask`: of the slowest source frame, and of the frame that carries it on. */
export function responseParts(context: CheckContext, route: Route, mask: bigint): ResponseParts {
  const ms = (refs: readonly string[]): number => {
    const ns = Math.max(
      0,
      ...refs.map((ref) => on(context, ref, (segment, message) => worstNs(segment, message, mask))),
    );
    return Math.ceil(ns / 1000) / 1000;
  };
  return { sourceMs: ms(route.from), targetMs: ms([route.to]) };
}

/** Combinations within which the response times of a route's frames do not change. */
export function masksOnWay(context: CheckContext, route: Route): readonly bigint[] {
  return [...route.from, route.to].flatMap((ref) => {
    const entry = context.pairing.find(ref);
    if (!entry || entry.kind === 'wire') return [];
    return (
      segmentOf(context, sideRef(entry.side, entry.message.bus))
        ?.cases()
        .map(({ mask }) => mask) ?? []
    );
  });
}

function on(context: CheckContext, ref: string, of: (segment: BusSegment, message: string) => number): number {
  const entry = context.pairing.find(ref);
  if (!entry || entry.kind === 'wire') return 0;
  const segment = segmentOf(context, sideRef(entry.side, entry.message.bus));
  return segment ? of(segment, sideRef(entry.side, entry.message.id)) : 0;
}

function segmentBoundNs({ together }: BusSegment, message: string): number {
  return boundsByMessage(together).get(message) ?? 0;
}

function worstNs(segment: BusSegment, message: string, mask: bigint): number {
  let worst = 0;
  for (const one of segment.cases()) {
    if ((one.mask & mask) !== 0n) worst = Math.max(worst, responsesByMessage(one).get(message) ?? 0);
  }
  return worst;
}

/** Time that steps hold a value back: debounce, delay, and the time constant of a filter. */
export function keptInSteps(route: Route): number {
  let ms = 0;
  for (const step of route.steps ?? []) {
    if (step.do === 'debounce') ms += step.forMs;
    else if (step.do === 'delay') ms += step.byMs;
    else if (step.do === 'smooth') ms += step.timeConstantMs;
    else if (step.do === 'bands') ms += step.dwellMs ?? 0;
  }
  return ms;
}

/** The longest cycle of the frames a route reads; null when one has none or it reads no frame. */
export function sourceCycleMs(context: CheckContext, route: Route): number | null {
  let longest: number | null = null;
  for (const { entry: source } of context.sources(route)) {
    if (!source || source.kind === 'wire' || source.message.cycleMs === undefined) continue;
    longest = Math.max(longest ?? 0, source.message.cycleMs);
  }
  return longest;
}

/** Whether the interface module must judge by the clock that the source is lost: a frame that comes regularly. */
export function isTimed(context: CheckContext, route: Route): boolean {
  return (
    route.carrier === 'interface' &&
    route.from.some((ref) => {
      const source = context.pairing.find(ref);
      return (
        source !== null &&
        source.kind !== 'wire' &&
        source.message.send !== 'on-request' &&
        source.message.diagnostic === undefined
      );
    })
  );
}
