import type { Conditioning, ConditioningKind, Measure, RouteFit } from '../wiring/index.ts';
import { rounded } from './circuits.ts';
import { named, type NamedValue } from './rule.ts';

const LEVELS: ReadonlySet<string> = new Set([
  'highest level at the receiver',
  'pull-up voltage at the driver',
  'highest voltage',
]);
const FREQUENCIES: ReadonlySet<string> = new Set(['highest frequency', 'lowest frequency']);

function fails({ holds }: Measure): boolean {
  return holds === false;
}

/** Measures of a level above what an end bears. */
export function levelFaults({ fit }: RouteFit): readonly Measure[] {
  return fit.measures.filter((one) => fails(one) && LEVELS.has(one.name));
}

/** Measures of a frequency outside the window of the receiver. */
export function frequencyFaults({ fit }: RouteFit): readonly Measure[] {
  return fit.measures.filter((one) => fails(one) && FREQUENCIES.has(one.name));
}

/** What a pair that fits with conditioning still lacks, of some kinds. */
export function outstanding(fit: RouteFit, kinds: ReadonlySet<ConditioningKind>): readonly Conditioning[] {
  return fit.outstanding.filter(({ kind }) => kinds.has(kind));
}

/** Whether some part of the harness may already be what the pair needs; its own value is for a person to compare. */
export function isConditioned({ fit, outstanding: lacks }: RouteFit): boolean {
  return fit.conditioning.length > 0 && lacks.length === 0;
}

/** Both ends with their classes, and the measures that were taken. */
export function fitValues({ from, to, fit }: RouteFit, measures: readonly Measure[] = fit.measures): NamedValue[] {
  return [
    named('driver', from),
    named('driver class', fit.driver),
    named('receiver', to),
    named('receiver class', fit.receiver),
    ...measures.flatMap(({ name, value, unit, limit, relation }) => [
      named(name, rounded(value), unit),
      ...(limit === null ? [] : [named(`${relation} for ${name}`, rounded(limit), unit)]),
    ]),
  ];
}

/** A measure in words: `highest level at the receiver 16 V, at most 5 V`. */
export function measureWords({ name, value, unit, limit, relation }: Measure): string {
  return `${name} ${rounded(value)} ${unit}${limit === null ? '' : `, ${relation} ${rounded(limit)} ${unit}`}`;
}

/** What was taken from practice because the platforms do not state it, for the end of a message; empty when nothing was. */
export function assumedWords({ fit }: RouteFit): string {
  return fit.assumed.length === 0
    ? ''
    : ` (from practice, as the platforms do not state it: ${fit.assumed.join(', ')})`;
}
