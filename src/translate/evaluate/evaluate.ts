import type { Rational } from '../../number/index.ts';
import type { Effect } from '../analysis/effect.ts';
import { isCombination } from '../analysis/effect.ts';
import type { RouteAnalysis, Stage } from '../analysis/route-analysis.ts';
import { hardWireLevels } from '../analysis/hard-wire.ts';
import { bandFrom, bandOf } from '../analysis/step-state.ts';
import { valueAt } from '../function/pieces.ts';
import { combineLive } from './combine-live.ts';
import { type LiveValue, noValue } from './live-value.ts';
import { type SourceInput, type SourceReading, readSource } from './source-end.ts';
import { type TargetWriting, writeTarget } from './target-end.ts';

/** A route with values in it: every stage from source to reader. */
export interface RouteEvaluation {
  readonly sources: readonly SourceReading[];
  readonly stages: readonly StageEvaluation[];
  readonly delivered: LiveValue;
  readonly target: TargetWriting;
}

export interface StageEvaluation {
  readonly index: number;
  readonly values: readonly LiveValue[];
  /** The step held the value back at its lower or upper end (`limit`, `curve`). */
  readonly cut: 'none' | 'low' | 'high';
}

/** The band in which each `bands` step of a route stands, by step and value; empty before the first value. */
export type BandMemory = Map<string, number>;

/**
 * What a route makes of given source values once everything is steady: steps in time let the value through, `bands` takes the
 * plain thresholds. Exact. `inputs` has one entry for each source; null: the source is lost. With a `memory`, kept from one steady
 * state to the next, `bands` has its hysteresis.
 */
export function evaluateRoute(
  analysis: RouteAnalysis,
  inputs: readonly (SourceInput | null)[],
  memory?: BandMemory,
): RouteEvaluation {
  const sources = analysis.sources.map((domain, index) => readSource(domain, inputs[index] ?? null));
  let values: readonly LiveValue[] = sources.map(({ value }) => value);
  const stages = analysis.stages.map((stage): StageEvaluation => {
    const before = values;
    values = runStage(stage, before, memory);
    return { index: stage.index, values, cut: cutAt(stage, before) };
  });
  const last = values.length === 1 ? values[0]! : noValue('fault');
  const delivered = hardWireLevel(analysis, last);
  const comparable = analysis.delivered !== null && analysis.delivered.kind === analysis.target?.kind;
  return {
    sources,
    stages,
    delivered,
    target: writeTarget(analysis.target, comparable || delivered.kind === 'none' ? delivered : noValue('fault')),
  };
}

/** On a conductor from end to end the level travels: the reader reads it under its own name. */
function hardWireLevel({ route, pairing, stages }: RouteAnalysis, value: LiveValue): LiveValue {
  if (route.carrier !== 'hard-wire' || value.kind !== 'state' || stages.length > 0 || route.from.length !== 1) {
    return value;
  }
  const label = hardWireLevels(pairing.find(route.from[0]!), pairing.find(route.to))?.get(value.label);
  return label === undefined ? value : { kind: 'state', label };
}

function runStage(
  { effects, step, index: at }: Stage,
  before: readonly LiveValue[],
  memory: BandMemory | undefined,
): readonly LiveValue[] {
  const [first] = effects;
  if (effects.length === 1 && first && isCombination(first)) return [combineLive(first, before)];
  const of = 'of' in step ? step.of : undefined;
  return before.map((value, index) => {
    const effect = effects[index];
    if (effect?.kind === 'bands' && memory !== undefined) return remembered(effect, value, memory, `${at}/${index}`);
    if (effect) return afterEffect(effect, value);
    return of !== undefined && of !== index ? value : noValue('fault');
  });
}

/** The band of a value, from the one it was in; a missing value forgets it. */
function remembered(
  effect: Extract<Effect, { kind: 'bands' }>,
  value: LiveValue,
  memory: BandMemory,
  key: string,
): LiveValue {
  if (value.kind !== 'number') {
    memory.delete(key);
    return value.kind === 'none' ? value : noValue('fault');
  }
  const before = memory.get(key);
  const band = before === undefined ? bandOf(effect, value.value) : bandFrom(effect, before, value.value);
  memory.set(key, band);
  return { kind: 'state', label: effect.states[band]! };
}

/** One value after one effect that takes one value. */
export function afterEffect(effect: Effect, value: LiveValue): LiveValue {
  if (value.kind === 'none') return value;
  switch (effect.kind) {
    case 'function': {
      if (value.kind !== 'number') return noValue('fault');
      const y = valueAt(effect.pieces, value.value);
      return y === null ? noValue('outside') : { kind: 'number', value: y };
    }
    case 'relabel': {
      const to = value.kind === 'state' ? (effect.map.get(value.label) ?? effect.otherwise) : null;
      return to === null ? noValue('no-image') : { kind: 'state', label: to };
    }
    case 'pick': {
      const to = value.kind === 'state' ? (effect.map.get(value.label) ?? effect.otherwise) : null;
      return to === null ? noValue('no-image') : { kind: 'number', value: to };
    }
    case 'bands':
      if (value.kind !== 'number') return noValue('fault');
      return { kind: 'state', label: effect.states[bandOf(effect, value.value)]! };
    case 'rate-limit':
    case 'smooth':
    case 'debounce':
    case 'delay':
      return value;
    case 'all-of':
    case 'any-of':
    case 'highest':
    case 'lowest':
    case 'sum':
    case 'difference':
    case 'first-valid':
    case 'choose-by':
      return combineLive(effect, [value]);
  }
}

function cutAt({ cutLow, cutHigh }: Stage, before: readonly LiveValue[]): StageEvaluation['cut'] {
  for (const value of before) {
    if (value.kind !== 'number') continue;
    if (cutLow !== null && less(value.value, cutLow.hi)) return 'low';
    if (cutHigh !== null && less(cutHigh.lo, value.value)) return 'high';
  }
  return 'none';
}

function less(a: Rational, b: Rational): boolean {
  return a.num * b.den < b.num * a.den;
}
