import { findFunction, pathsOf, type Pairing, type Route } from '../model/index.ts';
import { formatDecimal } from '../number/index.ts';
import { analyseRoute, lossWords, type Clip } from '../translate/index.ts';
import type { Change } from './change.ts';

function idOf(subject: string): string {
  return subject.slice('route:'.length);
}

/** What a change of a route means on the vehicle, in words. */
export function routeConsequences(change: Change, before: Pairing, after: Pairing): readonly string[] {
  const was = before.routes.get(idOf(change.was ?? change.subject));
  const now = after.routes.get(idOf(change.subject));
  if (!was && now) return addedWords(now, after);
  if (was && !now) return removedWords(was, after);
  if (!was || !now) return [];
  return [
    ...carrierWords(was, now, before, after),
    ...rangeWords(was, now, before, after),
    ...timingWords(was, now, before, after),
  ];
}

function functionWords(route: Route): string {
  const entry = findFunction(route.function);
  return entry ? `${entry.title} (${entry.criticality})` : route.to;
}

function addedWords(route: Route, after: Pairing): string[] {
  return (after.routesTo.get(route.to) ?? []).length > 1
    ? [`${route.to} is now written by more than one route`]
    : [`${route.to} is now supplied by ${route.from.join(', ')}`];
}

function removedWords(route: Route, after: Pairing): string[] {
  return after.routesTo.has(route.to) ? [] : [`nothing writes ${route.to} any more: ${functionWords(route)}`];
}

function carrierWords(was: Route, now: Route, before: Pairing, after: Pairing): string[] {
  const hard = (pairing: Pairing, route: Route): boolean =>
    route.carrier === 'hard-wire' && pathsOf(pairing, route).every((path) => path.hard);
  const words =
    was.carrier === now.carrier
      ? []
      : [`the carrier changed from ${was.carrier} to ${now.carrier}: ${functionWords(now)}`];
  if (hard(before, was) && !hard(after, now))
    words.push('something programmable is now in series: it was a conductor end to end');
  if (!hard(before, was) && hard(after, now)) words.push('it is now a conductor end to end');
  return words;
}

function clipWords({ from, to, unit }: Clip): string {
  return `${formatDecimal(from, { maxSignificant: 6 })} … ${formatDecimal(to, { maxSignificant: 6 })} ${unit}`;
}

function rangeWords(was: Route, now: Route, before: Pairing, after: Pairing): string[] {
  const [old, is] = [analyseRoute(before, was), analyseRoute(after, now)];
  const words: string[] = [];
  for (const [end, name] of [
    ['clippedLow', 'low'],
    ['clippedHigh', 'high'],
  ] as const) {
    const [a, b] = [old[end], is[end]];
    if (!a && b) words.push(`the range is now cut at its ${name} end: ${clipWords(b)} cannot be shown`);
    if (a && !b) words.push(`the range is no longer cut at its ${name} end`);
  }
  if (old.unitFaults.length === 0 && is.unitFaults.length > 0) words.push('its units do not fit any more');
  const lost = is.statesWithoutImage.filter(
    ({ state }) => !old.statesWithoutImage.some((entry) => entry.state === state),
  );
  if (lost.length > 0) words.push(`these states now lead nowhere: ${lost.map(({ state }) => state).join(', ')}`);
  return words;
}

function timingWords(was: Route, now: Route, before: Pairing, after: Pairing): string[] {
  const words: string[] = [];
  if (was.staleAfterMs !== now.staleAfterMs)
    words.push(`stale after ${was.staleAfterMs ?? 'no limit'} → ${now.staleAfterMs ?? 'no limit'} ms`);
  const [lossWas, lossIs] = [
    lossWords(was, analyseRoute(before, was).target),
    lossWords(now, analyseRoute(after, now).target),
  ];
  if (lossWas !== lossIs) words.push(`on loss: ${lossWas} → ${lossIs}`);
  return words;
}
