import type { Route } from '../model/index.ts';
import type { CheckContext } from './context.ts';
import { named, type NamedValue } from './rule.ts';

/** How old a delivered value can be, part by part, in ms; what is not known is named in `lacks` and counts as nothing. */
export interface DeliveredAge {
  readonly totalMs: number;
  readonly parts: readonly NamedValue[];
  readonly lacks: readonly string[];
}

/**
 * Worst age of what a route delivers: source period, interface period and latency, time kept in the steps, target period. Bus
 * response times are not in it: they come with the timing analysis of the buses.
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
