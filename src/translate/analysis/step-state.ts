import { type Rational, ZERO, applyAffine, compare, mul, parseExact, sub } from '../../number/index.ts';
import type { Step } from '../../model/index.ts';
import { isRawOf } from '../domain/signal-domain.ts';
import type { NumberDomain, StateDomain } from '../domain/value-domain.ts';
import type { Effect } from './effect.ts';
import { parameterScaling } from './step-number.ts';
import { type Report, note } from './report.ts';
import { type Carried, type Now, type Track, intervalOfCarried, labelsOf, numberDomain, stateDomain } from './track.ts';
import { unitOf } from '../domain/units-of.ts';

const exact = (x: string | number): Rational => parseExact(x) ?? ZERO;

/** Whether a step may name this label: a state the value can have, or, for a raw value without a name, its decimal digits. */
export function canBe(domain: StateDomain, label: string): boolean {
  if (domain.states.some((state) => state.label === label)) return true;
  return (
    domain.field !== null &&
    isRawOf(label, domain.field) &&
    !domain.states.some(({ raw }) => raw === label) &&
    !domain.specials.some(({ raw }) => raw === label)
  );
}

function noteUnknownStates(
  domain: StateDomain,
  labels: readonly string[],
  at: number,
  what: string,
  report: Report,
): void {
  for (const state of labels) {
    if (canBe(domain, state)) continue;
    note(report, {
      kind: 'state-unknown',
      at,
      state,
      message: `${what} names the state "${state}", which the value before it never has (${listed(domain)}); correct the name`,
    });
  }
}

/** The states of a domain for a message, shortened. */
export function listed(domain: StateDomain): string {
  const labels = labelsOf(domain);
  const shown = labels.slice(0, 8).map((label) => `"${label}"`);
  return `it has ${shown.length === 0 ? 'no named state' : shown.join(', ')}${labels.length > 8 ? ` and ${labels.length - 8} more` : ''}`;
}

/** State → state or state → number: a track whose values, or whose possible labels, are looked up one by one. */
export function throughTable(track: Track, at: number, look: (label: string) => Now | null): readonly Carried[] | null {
  return (
    track.carried?.map((entry): Carried => {
      if (entry.now.kind !== 'state') return entry;
      return { ...entry, now: look(entry.now.label) ?? { kind: 'lost', at } };
    }) ?? null
  );
}

/** Resolves `states` and `not`. */
export function relabel(
  step: Extract<Step, { do: 'states' | 'not' }>,
  at: number,
  domain: StateDomain,
  report: Report,
): Extract<Effect, { kind: 'relabel' }> {
  const pairs: readonly (readonly [string, string])[] =
    step.do === 'not'
      ? [
          [step.swap[0], step.swap[1]],
          [step.swap[1], step.swap[0]],
        ]
      : Object.entries(step.map);
  noteUnknownStates(
    domain,
    pairs.map(([label]) => label),
    at,
    step.do,
    report,
  );
  return { kind: 'relabel', map: new Map(pairs), otherwise: step.do === 'not' ? null : (step.otherwise ?? null) };
}

export function afterRelabel(track: Track, effect: Extract<Effect, { kind: 'relabel' }>, at: number): Track {
  const domain = track.domain as StateDomain;
  const carried = throughTable(track, at, (label) => {
    const to = effect.map.get(label) ?? effect.otherwise;
    return to === null ? null : { kind: 'state', label: to };
  });
  // Raw values without a name may be named by their digits, and `otherwise` takes them too.
  const extra = [...effect.map].filter(
    ([label]) => !domain.states.some((state) => state.label === label) && canBe(domain, label),
  );
  const reached =
    carried === null
      ? [...effect.map.values()]
      : carried.flatMap(({ now }) => (now.kind === 'state' ? [now.label] : []));
  const labels = [
    ...reached,
    ...extra.map(([, to]) => to),
    ...(domain.unnamed > 0 && effect.otherwise !== null ? [effect.otherwise] : []),
  ];
  const more = extra.map(([origin, label]): Carried => ({
    source: track.source ?? 0,
    origin,
    now: { kind: 'state', label },
  }));
  return {
    ...track,
    carried: carried === null ? null : [...carried, ...more],
    domain: stateDomain(labels, domain.specials),
  };
}

/** Resolves `pick`. */
export function pick(
  step: Extract<Step, { do: 'pick' }>,
  at: number,
  domain: StateDomain,
  report: Report,
): Extract<Effect, { kind: 'pick' }> {
  noteUnknownStates(domain, Object.keys(step.map), at, 'pick', report);
  return {
    kind: 'pick',
    map: new Map(Object.entries(step.map).map(([label, value]) => [label, exact(value)])),
    otherwise: step.otherwise === undefined ? null : exact(step.otherwise),
  };
}

export function afterPick(
  track: Track,
  effect: Extract<Effect, { kind: 'pick' }>,
  unitText: string,
  at: number,
): Track {
  const domain = track.domain as StateDomain;
  const looked = throughTable(track, at, (label) => {
    const value = effect.map.get(label) ?? effect.otherwise;
    return value === null ? null : { kind: 'number', value };
  });
  const extra = [...effect.map].filter(
    ([label]) => !domain.states.some((state) => state.label === label) && canBe(domain, label),
  );
  const more = extra.map(([origin, value]): Carried => ({
    source: track.source ?? 0,
    origin,
    now: { kind: 'number', value },
  }));
  const carried = looked === null ? null : [...looked, ...more];
  const all: readonly Carried[] =
    carried ?? [...effect.map.values()].map((value) => ({ source: 0, origin: null, now: { kind: 'number', value } }));
  return {
    ...track,
    reach: null,
    carried,
    domain: numberDomain(unitText, unitOf(unitText), intervalOfCarried(all), null, domain.specials),
  };
}

/** Resolves `bands`; null when its thresholds leave open what comes out. */
export function bands(
  step: Extract<Step, { do: 'bands' }>,
  at: number,
  domain: NumberDomain,
  report: Report,
): Extract<Effect, { kind: 'bands' }> | null {
  const scaling = parameterScaling(step.unit, at, { text: domain.unitText, unit: domain.unit }, report);
  if (scaling === null) return null;
  const thresholds = step.at.map((threshold) => applyAffine(scaling, exact(threshold)));
  const hysteresis = mul(scaling.factor, exact(step.hysteresis ?? 0));
  if (step.states.length !== thresholds.length + 1) {
    note(report, {
      kind: 'band-count',
      at,
      thresholds: thresholds.length,
      states: step.states.length,
      message: `${thresholds.length} thresholds make ${thresholds.length + 1} bands, but ${step.states.length} states are named`,
    });
    return null;
  }
  let narrowest: Rational | null = null;
  for (let index = 1; index < thresholds.length; index += 1) {
    const gap = sub(thresholds[index]!, thresholds[index - 1]!);
    if (gap.num <= 0n) {
      note(report, {
        kind: 'not-rising',
        at,
        index,
        message: `threshold ${index + 1} of bands does not lie above threshold ${index}; put them in rising order`,
      });
      return null;
    }
    if (narrowest === null || compare(gap, narrowest) < 0) narrowest = gap;
  }
  if (hysteresis.num < 0n || (narrowest !== null && compare(hysteresis, narrowest) >= 0)) {
    note(report, {
      kind: 'hysteresis',
      at,
      hysteresis,
      narrowest,
      message:
        hysteresis.num < 0n
          ? `the hysteresis ${step.hysteresis} ${step.unit} is below zero: the state would flicker at every threshold; write it above zero`
          : `the hysteresis ${step.hysteresis} ${step.unit} is as wide as a band or wider; narrow it`,
    });
    if (hysteresis.num < 0n) return null;
  }
  return { kind: 'bands', at: thresholds, states: step.states, hysteresis, dwellMs: step.dwellMs ?? 0 };
}

/** The band of a value that was in no band before. */
export function bandOf(effect: Extract<Effect, { kind: 'bands' }>, value: Rational): number {
  let band = 0;
  while (band < effect.at.length && compare(value, effect.at[band]!) >= 0) band += 1;
  return band;
}

/** The band of a value that was in band `before`: it rises at a threshold and falls only below threshold − hysteresis. */
export function bandFrom(effect: Extract<Effect, { kind: 'bands' }>, before: number, value: Rational): number {
  let band = before;
  while (band < effect.at.length && compare(value, effect.at[band]!) >= 0) band += 1;
  while (band > 0 && compare(value, sub(effect.at[band - 1]!, effect.hysteresis)) < 0) band -= 1;
  return band;
}

export function afterBands(track: Track, effect: Extract<Effect, { kind: 'bands' }>): Track {
  const domain = track.domain as NumberDomain;
  const states = reachedBands(track, effect).map((band) => effect.states[band]!);
  const carried: readonly Carried[] =
    track.carried?.map((entry): Carried =>
      entry.now.kind === 'number'
        ? { ...entry, now: { kind: 'state', label: effect.states[bandOf(effect, entry.now.value)]! } }
        : entry,
    ) ??
    [...new Set(states)].map((label) => ({ source: track.source ?? 0, origin: null, now: { kind: 'state', label } }));
  return { ...track, reach: null, carried, domain: stateDomain(states, domain.specials) };
}

/** Positions of the bands which some value of the track lies in. */
export function reachedBands(track: Track, effect: Extract<Effect, { kind: 'bands' }>): readonly number[] {
  if (track.carried !== null) {
    const bandsOf = track.carried.flatMap(({ now }) => (now.kind === 'number' ? [bandOf(effect, now.value)] : []));
    return [...new Set(bandsOf)].sort((a, b) => a - b);
  }
  const interval = (track.domain as NumberDomain).interval;
  const first = interval === null ? 0 : bandOf(effect, interval.lo);
  const last = interval === null ? effect.states.length - 1 : bandOf(effect, interval.hi);
  return Array.from({ length: last - first + 1 }, (_, index) => first + index);
}

/** The value a rising sample must reach to enter band `band` from below, and the value a falling one must sink below to leave it. */
export function bandEdges(
  effect: Extract<Effect, { kind: 'bands' }>,
  band: number,
): { readonly enterAt: Rational; readonly leaveBelow: Rational } {
  const enterAt = effect.at[band - 1]!;
  return { enterAt, leaveBelow: sub(enterAt, effect.hysteresis) };
}
