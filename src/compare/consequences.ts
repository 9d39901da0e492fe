import { deliveredAge, type CheckContext } from '../checks/index.ts';
import { findFunction, type Route } from '../model/index.ts';
import { formatDecimal } from '../number/index.ts';
import { lossWords, routeFormula, type Clip } from '../translate/index.ts';
import type { Change } from './change.ts';
import { saysTheSame } from './identity.ts';

function idOf(subject: string): string {
  return subject.slice('route:'.length);
}

/** What a change of a route means on the vehicle, in words. */
export function routeConsequences(change: Change, before: CheckContext, after: CheckContext): readonly string[] {
  const was = before.pairing.routes.get(idOf(change.was ?? change.subject));
  const now = after.pairing.routes.get(idOf(change.subject));
  if (change.kind === 'added') return now ? addedWords(now, after) : [];
  if (change.kind === 'removed') return was ? removedWords(was, after) : [];
  return was && now ? changedWords(was, now, before, after) : [];
}

/** What follows for a route from everything that changed around it: its own fields, its ends, its transmit. */
export function changedWords(was: Route, now: Route, before: CheckContext, after: CheckContext): readonly string[] {
  return [
    ...carrierWords(was, now, before, after),
    ...buildWords(was, now, before, after),
    ...arithmeticWords(was, now, before, after),
    ...rangeWords(was, now, before, after),
    ...timingWords(was, now, before, after),
  ];
}

function functionWords(route: Route, context: CheckContext): string {
  const entry = findFunction(context.functionIdOf(route) ?? '');
  return entry ? `${entry.title} (${context.classOf(entry).criticality})` : route.to;
}

function addedWords(route: Route, after: CheckContext): string[] {
  return (after.pairing.routesTo.get(route.to) ?? []).length > 1
    ? [`${route.to} is now written by more than one route`]
    : [`${route.to} is now supplied by ${route.from.join(', ')}`];
}

function removedWords(route: Route, after: CheckContext): string[] {
  return after.pairing.routesTo.has(route.to)
    ? []
    : [`nothing writes ${route.to} any more: ${functionWords(route, after)}`];
}

function carrierWords(was: Route, now: Route, before: CheckContext, after: CheckContext): string[] {
  const words =
    was.carrier === now.carrier
      ? []
      : [`the carrier changed from ${was.carrier} to ${now.carrier}: ${functionWords(now, after)}`];
  const [hardBefore, hardAfter] = [before.isHard(was), after.isHard(now)];
  if (hardBefore && !hardAfter) words.push('something programmable is now in series: it was a conductor end to end');
  if (!hardBefore && hardAfter) words.push('it is now a conductor end to end');
  return words;
}

/** In which builds it came or went, as long as both revisions know the same builds. */
function buildWords(was: Route, now: Route, before: CheckContext, after: CheckContext): string[] {
  const { options } = after.pairing;
  if (!saysTheSame(before.pairing.map.options, after.pairing.map.options)) return [];
  if (before.pairing.options.all !== options.all) return [];
  const [old, is] = [before.maskOf(was), after.maskOf(now)];
  const say = (mask: bigint): string => options.describe(mask).join(' or ');
  return [
    ...((old & ~is) === 0n ? [] : [`no longer there in the builds ${say(old & ~is)}`]),
    ...((is & ~old) === 0n ? [] : [`now also in the builds ${say(is & ~old)}`]),
  ];
}

function clipWords({ from, to, unit }: Clip): string {
  return `${formatDecimal(from, { maxSignificant: 6 })} … ${formatDecimal(to, { maxSignificant: 6 })} ${unit}`;
}

/** The first line of the arithmetic that reads differently, for what firmware computes. */
function arithmeticWords(was: Route, now: Route, before: CheckContext, after: CheckContext): string[] {
  if (was.carrier !== 'interface' || now.carrier !== 'interface') return [];
  const [old, is] = [routeFormula(before.analysis(was)), routeFormula(after.analysis(now))];
  if (old === is) return [];
  const [oldLines, lines] = [old.split('\n'), is.split('\n')];
  const at = lines.findIndex((line, index) => line !== oldLines[index]);
  const [from, to] = at < 0 ? [oldLines[lines.length], undefined] : [oldLines[at], lines[at]];
  return [
    `its arithmetic changes, so firmware and vectors must be made anew: ${from ?? 'nothing'} → ${to ?? 'nothing'}`,
  ];
}

function rangeWords(was: Route, now: Route, before: CheckContext, after: CheckContext): string[] {
  const [old, is] = [before.analysis(was), after.analysis(now)];
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
  if (old.unitFaults.length > 0 && is.unitFaults.length === 0) words.push('its units fit now');
  const lost = is.statesWithoutImage.filter(
    ({ state }) => !old.statesWithoutImage.some((entry) => entry.state === state),
  );
  if (lost.length > 0) words.push(`these states now lead nowhere: ${lost.map(({ state }) => state).join(', ')}`);
  return words;
}

function timingWords(was: Route, now: Route, before: CheckContext, after: CheckContext): string[] {
  const words: string[] = [];
  const [ageWas, ageIs] = [deliveredAge(before, was).totalMs, deliveredAge(after, now).totalMs];
  if (ageWas !== ageIs) words.push(`worst age of what is delivered ${ageWas} → ${ageIs} ms`);
  if (was.staleAfterMs !== now.staleAfterMs)
    words.push(`stale after ${was.staleAfterMs ?? 'no limit'} → ${now.staleAfterMs ?? 'no limit'} ms`);
  const [lossWas, lossIs] = [lossWords(was, before.analysis(was).target), lossWords(now, after.analysis(now).target)];
  if (lossWas !== lossIs) words.push(`on loss: ${lossWas} → ${lossIs}`);
  return words;
}
