import { type Interval, compare } from '../../number/index.ts';
import type { Step } from '../../model/index.ts';
import { unitOf } from '../domain/units-of.ts';
import type { NumberDomain, StateDomain, ValueDomain } from '../domain/value-domain.ts';
import type { PiecewiseFunction } from '../function/pieces.ts';
import { isConstant } from '../function/fraction.ts';
import type { Effect } from './effect.ts';
import { unknownUnit } from './meet.ts';
import { type Report, note, noteUnit } from './report.ts';
import type { CombiningStep } from './step-combine.ts';
import { resolveNumberStep } from './step-number.ts';
import { afterBands, afterPick, afterRelabel, bands, pick, reachedBands, relabel } from './step-state.ts';
import { resolveTimingStep } from './step-timing.ts';
import { LOST, type Track, labelsOf, throughFunction } from './track.ts';

export type SingleStep = Exclude<Step, CombiningStep>;

export interface StepRun {
  readonly track: Track;
  readonly effect: Effect | null;
  readonly idle: boolean;
}

/** Runs one step which takes one value over one track. */
export function runStep(
  step: SingleStep,
  at: number,
  track: Track,
  target: ValueDomain | null,
  report: Report,
): StepRun {
  const { domain } = track;
  const lost: StepRun = { track: { ...LOST, source: track.source }, effect: null, idle: false };
  if (domain === null) return lost;
  switch (step.do) {
    case 'convert':
    case 'linear':
    case 'curve':
    case 'reciprocal':
    case 'limit':
    case 'pulses': {
      if (domain.kind !== 'number') return mismatch(step.do, 'number', domain, at, report, lost);
      const resolved = resolveNumberStep(step, at, domain, target, report);
      if (resolved === null) return lost;
      const { effect, unitText, unit, idle } = resolved;
      const after = throughFunction(track, effect.pieces, unitText, unit, at);
      noteRefused(step, at, domain, effect.pieces, report);
      return { track: after, effect, idle };
    }
    case 'bands': {
      if (domain.kind !== 'number') return mismatch(step.do, 'number', domain, at, report, lost);
      const effect = bands(step, at, domain, report);
      if (effect === null) return lost;
      return { track: afterBands(track, effect), effect, idle: reachedBands(track, effect).length === 1 };
    }
    case 'states':
    case 'not': {
      if (domain.kind !== 'state') return mismatch(step.do, 'state', domain, at, report, lost);
      const effect = relabel(step, at, domain, report);
      const idle = labelsOf(domain).every((label) => (effect.map.get(label) ?? effect.otherwise) === label);
      return { track: afterRelabel(track, effect, at), effect, idle };
    }
    case 'pick': {
      if (domain.kind !== 'state') return mismatch(step.do, 'state', domain, at, report, lost);
      if (unitOf(step.unit) === null && step.unit !== '') noteUnit(report, unknownUnit(step.unit, 'step', at));
      const effect = pick(step, at, domain, report);
      return { track: afterPick(track, effect, step.unit, at), effect, idle: false };
    }
    case 'rate-limit':
    case 'smooth':
    case 'debounce':
    case 'delay': {
      const effect = resolveTimingStep(step, at, domain, report);
      if (effect === null) return lost;
      const idle = effect.kind === 'rate-limit' && effect.risePerS === null && effect.fallPerS === null;
      return { track: { ...track, domain: between(domain) }, effect, idle };
    }
  }
}

/** The same value after a step in time: no longer a field of a message. */
function between(domain: ValueDomain): ValueDomain {
  switch (domain.kind) {
    case 'number':
      return { ...domain, coding: null } satisfies NumberDomain;
    case 'state':
      return { ...domain } satisfies StateDomain;
    case 'text':
    case 'frame':
      return domain;
  }
}

function noteRefused(
  step: SingleStep,
  at: number,
  input: NumberDomain,
  pieces: PiecewiseFunction,
  report: Report,
): void {
  if (step.do !== 'curve' || step.outside !== 'refuse') return;
  const [below, above] = outside(input.interval, pieces);
  if (below === null && above === null) return;
  note(report, {
    kind: 'outside-refused',
    at,
    message: `values outside the curve can come in and are refused: the route then has no value; extend the curve, or clamp`,
  });
}

function mismatch(
  name: string,
  needs: ValueDomain['kind'],
  domain: ValueDomain,
  at: number,
  report: Report,
  lost: StepRun,
): StepRun {
  note(report, {
    kind: 'kind-mismatch',
    at,
    needs,
    has: domain.kind,
    message: `${name} works on a ${needs}, but a ${domain.kind} comes in`,
  });
  return lost;
}

/**
 * The parts of a step's input that it does not let through as they are: below and above what `limit` and `curve` keep, in the
 * unit of the input. Of several sources, the first that is cut.
 */
export function cutsOf(
  step: Step,
  effects: readonly (Effect | null)[],
  input: readonly (ValueDomain | null)[],
): readonly [Interval | null, Interval | null] {
  if (step.do !== 'limit' && step.do !== 'curve') return [null, null];
  for (const [index, effect] of effects.entries()) {
    const domain = input[index];
    if (effect?.kind !== 'function' || domain?.kind !== 'number') continue;
    const cuts = outside(domain.interval, effect.pieces);
    if (cuts[0] !== null || cuts[1] !== null) return cuts;
  }
  return [null, null];
}

/** Parts of an interval before the first and after the last stretch that is not a clamp at an open end. */
function outside(interval: Interval | null, pieces: PiecewiseFunction): readonly [Interval | null, Interval | null] {
  if (interval === null) return [null, null];
  const first = pieces[0];
  const last = pieces.at(-1);
  if (first === undefined || last === undefined) return [null, null];
  const from = first.lo === null && isConstant(first.fraction) && pieces.length > 1 ? first.hi : first.lo;
  const to = last.hi === null && isConstant(last.fraction) && pieces.length > 1 ? last.lo : last.hi;
  const below =
    from !== null && compare(interval.lo, from) < 0 ? { lo: interval.lo, hi: lesser(from, interval) } : null;
  const above = to !== null && compare(to, interval.hi) < 0 ? { lo: greater(to, interval), hi: interval.hi } : null;
  return [below, above];
}

function lesser(edge: Interval['lo'], { hi }: Interval): Interval['lo'] {
  return compare(edge, hi) < 0 ? edge : hi;
}
function greater(edge: Interval['lo'], { lo }: Interval): Interval['lo'] {
  return compare(edge, lo) > 0 ? edge : lo;
}
