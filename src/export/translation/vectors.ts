import {
  evaluateRoute,
  type CompileResult,
  type LiveValue,
  type RouteAnalysis,
  type SourceInput,
  type ValueDomain,
} from '../../translate/index.ts';
import { add, compare, formatDecimal, mul, sub, type Rational } from '../../number/index.ts';
import { rawText } from './fields.ts';
import { lossText } from './route-words.ts';

/** One worked case of a route: what goes in at every source, what comes out. */
export interface RouteVector {
  readonly name: string;
  readonly inputs: readonly string[];
  readonly delivered: string;
  readonly written: string;
  readonly note: string;
}

/** One stimulus of one source, and what it is. */
interface Stimulus {
  readonly name: string;
  readonly input: SourceInput | null;
}

/** Most cases of a route: beyond, its tables say the rest. */
const MOST = 40;

/**
 * Worked cases of a route: both ends of the source, quarters between, zero, each breakpoint and threshold of the steps, each state,
 * each raw value that is no value, and the source lost. With several sources one is varied at a time, the others stand at a middle
 * value. Steady: steps in time have settled. Computed exactly.
 */
export function routeVectors(analysis: RouteAnalysis, compiled: CompileResult | null): readonly RouteVector[] {
  const { sources } = analysis;
  if (sources.length === 1 && sources[0]?.kind === 'text' && analysis.target?.kind === 'text')
    return textVectors(analysis, compiled);
  if (
    sources.length === 0 ||
    sources.some((source) => source === null || source.kind === 'frame' || source.kind === 'text')
  )
    return [];
  const stimuli = sources.map((source, index) => stimuliOf(analysis, source!, index));
  const rest = stimuli.map((list) => list[Math.min(2, list.length - 1)]!.input);
  const vectors: RouteVector[] = [];
  for (const [index, list] of stimuli.entries()) {
    for (const { name, input } of list) {
      if (vectors.length >= MOST) return vectors;
      const inputs = rest.map((resting, at) => (at === index ? input : resting));
      const label = sources.length === 1 ? name : `source ${index + 1}: ${name}`;
      vectors.push(worked(analysis, compiled, label, inputs));
    }
  }
  return vectors;
}

/** Text is carried as bytes: what they spell does not matter. */
function textVectors(analysis: RouteAnalysis, compiled: CompileResult | null): readonly RouteVector[] {
  return [
    {
      name: 'text',
      inputs: ['bytes 41 42 43 … (“ABC…”)'],
      delivered: 'the same bytes',
      written: 'the same bytes',
      note: '',
    },
    {
      name: 'source lost',
      inputs: ['lost'],
      delivered: '–',
      written: `on loss: ${lossText(analysis, compiled)}`,
      note: '',
    },
  ];
}

function worked(
  analysis: RouteAnalysis,
  compiled: CompileResult | null,
  name: string,
  inputs: readonly (SourceInput | null)[],
): RouteVector {
  const { sources, delivered, target } = evaluateRoute(analysis, inputs);
  const lost = inputs.every((input) => input === null);
  return {
    name,
    inputs: sources.map(({ raw, level, value }, at) => {
      if (inputs[at] === null) return 'lost';
      const shown =
        raw !== null
          ? `raw ${typeof raw === 'bigint' ? rawText(raw) : raw}`
          : level !== null
            ? `${short(level)} ${codingUnit(analysis.sources[at])}`
            : '';
      return [shown, liveText(value)].filter((text) => text !== '').join(' = ');
    }),
    delivered: lost ? '–' : liveText(delivered),
    written:
      target.asOnLoss || lost
        ? `on loss: ${lossText(analysis, compiled)}`
        : [
            target.raw !== null
              ? `raw ${typeof target.raw === 'bigint' ? rawText(target.raw) : target.raw}`
              : target.level !== null
                ? `${short(target.level)} ${codingUnit(analysis.target)}`
                : '',
            liveText(target.value),
          ]
            .filter((text) => text !== '')
            .join(' = '),
    note: target.clipped === 'none' ? '' : `kept at the ${target.clipped === 'low' ? 'low' : 'high'} end of the target`,
  };
}

const short = (value: Rational): string => formatDecimal(value, { maxSignificant: 9 });

function codingUnit(domain: ValueDomain | null | undefined): string {
  if (domain?.kind !== 'number') return '';
  return domain.coding?.kind === 'wire-scale' || domain.coding?.kind === 'wire-curve'
    ? domain.coding.of === 'Ohm'
      ? 'Ω'
      : domain.coding.of
    : '';
}

function liveText(value: LiveValue): string {
  switch (value.kind) {
    case 'number':
      return short(value.value);
    case 'state':
      return value.unnamed ? 'a state without a name' : `“${value.label}”`;
    case 'none':
      return value.means === 'error' ? 'error' : 'no value';
  }
}

function stimuliOf(analysis: RouteAnalysis, domain: ValueDomain, index: number): readonly Stimulus[] {
  switch (domain.kind) {
    case 'state':
      return stateStimuli(domain);
    case 'number':
      return numberStimuli(analysis, domain, index);
    case 'text':
    case 'frame':
      return [{ name: 'lost', input: null }];
  }
}

function stateStimuli(domain: Extract<ValueDomain, { kind: 'state' }>): readonly Stimulus[] {
  const states = domain.states.map(({ label, raw }): Stimulus => ({
    name: `state “${label}”`,
    input: raw === null ? { kind: 'state', label } : { kind: 'raw', raw: BigInt(raw) },
  }));
  return [...states, ...unnamed(domain), ...specials(domain), { name: 'source lost', input: null }];
}

/** The least raw value that has neither a name nor a special meaning. */
function unnamed({
  field,
  states,
  specials: special,
  unnamed: count,
}: Extract<ValueDomain, { kind: 'state' }>): readonly Stimulus[] {
  if (field === null || count === 0) return [];
  const taken = new Set([...states.map(({ raw }) => raw), ...special.map(({ raw }) => raw)]);
  for (let raw = field.lo; raw <= field.hi && raw - field.lo <= BigInt(taken.size); raw += 1n) {
    if (!taken.has(raw.toString())) return [{ name: 'a raw value without a name', input: { kind: 'raw', raw } }];
  }
  return [];
}

function specials({ specials: list }: Extract<ValueDomain, { kind: 'state' | 'number' }>): readonly Stimulus[] {
  return list.slice(0, 4).map(({ raw, means }): Stimulus => ({
    name: means === 'error' ? 'error' : 'not available',
    input: { kind: 'raw', raw: BigInt(raw) },
  }));
}

function numberStimuli(
  analysis: RouteAnalysis,
  domain: Extract<ValueDomain, { kind: 'number' }>,
  index: number,
): readonly Stimulus[] {
  const { interval, coding } = domain;
  const stimuli: Stimulus[] = [];
  const physical = (name: string, value: Rational): void =>
    void stimuli.push({ name, input: { kind: 'physical', value } });
  if (interval !== null) {
    physical('least', interval.lo);
    for (const quarter of [1n, 2n, 3n])
      physical(
        `${quarter}/4 of the range`,
        add(interval.lo, mul(sub(interval.hi, interval.lo), { num: quarter, den: 4n })),
      );
    physical('most', interval.hi);
    const zero: Rational = { num: 0n, den: 1n };
    if (compare(interval.lo, zero) < 0 && compare(zero, interval.hi) < 0) physical('zero', zero);
    for (const { name, at } of breakpoints(analysis, index)) {
      if (compare(interval.lo, at) <= 0 && compare(at, interval.hi) <= 0) physical(name, at);
    }
  }
  if (coding?.kind === 'integer' && coding.usable !== null && coding.usable.hi < coding.field.hi) {
    const beyond = coding.usable.hi + 1n;
    if (!domain.specials.some(({ raw }) => raw === beyond.toString()))
      stimuli.push({ name: 'beyond the declared range', input: { kind: 'raw', raw: beyond } });
  }
  return [...stimuli, ...specials(domain), { name: 'source lost', input: null }];
}

/** Points of the first step at which its line bends, in the unit of the source. */
function breakpoints(
  { stages }: RouteAnalysis,
  index: number,
): readonly { readonly name: string; readonly at: Rational }[] {
  const effect = stages[0]?.effects[index] ?? null;
  if (effect === null) return [];
  if (effect.kind === 'bands') return effect.at.slice(0, 12).map((at) => ({ name: 'threshold', at }));
  if (effect.kind !== 'function') return [];
  return effect.pieces.flatMap(({ hi }) => (hi === null ? [] : [{ name: 'breakpoint', at: hi }])).slice(0, 16);
}
