import {
  type Affine,
  type Rational,
  ZERO,
  applyAffine,
  compare,
  div,
  inverse,
  mul,
  parseExact,
} from '../../number/index.ts';
import type { Unit } from '../../units/index.ts';
import type { Step } from '../../model/index.ts';
import { unitOf } from '../domain/units-of.ts';
import type { NumberDomain, ValueDomain } from '../domain/value-domain.ts';
import { affineFraction, reciprocalFraction } from '../function/fraction.ts';
import { EVERYWHERE_SAME, type PiecewiseFunction, everywhere, limiting, throughPoints } from '../function/pieces.ts';
import type { Effect } from './effect.ts';
import { checkLinear } from './linear-check.ts';
import { type UnitText, affineOfMeeting, faultOfMeeting, meet, nearlyEqual, noneFault, unknownUnit } from './meet.ts';
import { type Report, note, noteUnit } from './report.ts';

type NumberStep = Extract<Step, { do: 'convert' | 'linear' | 'curve' | 'reciprocal' | 'limit' | 'pulses' }>;

/** A number step resolved: its effect, and the unit that comes out. */
export interface NumberOutcome {
  readonly effect: Extract<Effect, { kind: 'function' }>;
  readonly unitText: string;
  readonly unit: Unit | null;
  /** The step changes no value, whatever comes in. */
  readonly idle: boolean;
}

const exact = (x: string | number): Rational => parseExact(x) ?? ZERO;

/** Resolves a step which turns one number into another without memory. Null when a fault leaves its result open. */
export function resolveNumberStep(
  step: NumberStep,
  at: number,
  input: NumberDomain,
  target: ValueDomain | null,
  report: Report,
): NumberOutcome | null {
  const from: UnitText = { text: input.unitText, unit: input.unit };
  switch (step.do) {
    case 'convert':
      return convert(step, at, from, target, report);
    case 'linear': {
      const to: UnitText = { text: step.unit, unit: unitOf(step.unit) };
      const scaling: Affine = { factor: exact(step.factor), offset: exact(step.offset) };
      if (to.unit === null && to.text !== '') noteUnit(report, unknownUnit(to.text, 'step', at));
      noteUnit(report, checkLinear(scaling, from, to, at));
      const idle = scaling.factor.num === 1n && scaling.factor.den === 1n && scaling.offset.num === 0n;
      return outcome(everywhere(affineFraction(scaling)), to, idle && from.text === to.text);
    }
    case 'curve':
      return curve(step, at, from, report);
    case 'reciprocal': {
      const to: UnitText = { text: step.unit, unit: unitOf(step.unit) };
      const k = exact(step.k);
      if (to.unit === null && to.text !== '') noteUnit(report, unknownUnit(to.text, 'step', at));
      const meeting = meet(from, to);
      if (meeting.kind === 'reciprocal' && !nearlyEqual(k, meeting.k)) {
        noteUnit(report, {
          kind: 'k-contradicts',
          at,
          from: from.text,
          to: to.text,
          explicit: k,
          exact: meeting.k,
          message: `this k does not turn ${from.text} into ${to.text}; a convert step needs no number`,
        });
      }
      const { interval } = input;
      if (interval !== null && compare(interval.lo, ZERO) <= 0 && compare(ZERO, interval.hi) <= 0) {
        note(report, {
          kind: 'divides-by-zero',
          at,
          message: `the value before reciprocal can be 0 ${from.text}, which has no reciprocal; the route then has no value`,
        });
      }
      return outcome(everywhere(reciprocalFraction(k)), to, false);
    }
    case 'limit':
      return limit(step, at, from, input, report);
    case 'pulses':
      return pulses(step, at, from, report);
  }
}

function outcome(pieces: PiecewiseFunction, to: UnitText, idle: boolean): NumberOutcome {
  return { effect: { kind: 'function', pieces }, unitText: to.text, unit: to.unit, idle };
}

function convert(
  step: Extract<Step, { do: 'convert' }>,
  at: number,
  from: UnitText,
  target: ValueDomain | null,
  report: Report,
): NumberOutcome | null {
  const text = step.to ?? (target?.kind === 'number' ? target.unitText : null);
  if (text === null) {
    if (target !== null) {
      note(report, {
        kind: 'kind-mismatch',
        at,
        needs: 'number',
        has: target.kind,
        message: `convert has no unit to go to: it names none, and the target is a ${target.kind}; write "to" with a unit`,
      });
    }
    return null;
  }
  const to: UnitText = { text, unit: unitOf(text) };
  const meeting = meet(from, to);
  switch (meeting.kind) {
    case 'same':
      return outcome(EVERYWHERE_SAME, to, true);
    case 'affine':
      return outcome(piecesOf(meeting.affine), to, false);
    case 'reciprocal':
      return outcome(everywhere(reciprocalFraction(meeting.k)), to, false);
    case 'unknown':
      noteUnit(report, unknownUnit(meeting.text, meeting.side === 'from' ? 'source' : 'step', at));
      return null;
    case 'none':
      noteUnit(report, noneFault(meeting.conversion, { at, from: from.text, to: to.text }));
      return null;
  }
}

const conversionPieces = new WeakMap<Affine, PiecewiseFunction>();

/** Conversions are few and kept (`conversionOf`): so are their functions. */
function piecesOf(affine: Affine): PiecewiseFunction {
  let pieces = conversionPieces.get(affine);
  if (pieces === undefined) conversionPieces.set(affine, (pieces = everywhere(affineFraction(affine))));
  return pieces;
}

/**
 * Maps a step's parameters into the unit of the value: a number with a unit of its own need not be written in the unit of the
 * value it is held against. Null (with the fault noted) when the two do not convert.
 */
export function parameterScaling(unitText: string, at: number, value: UnitText, report: Report): Affine | null {
  const own: UnitText = { text: unitText, unit: unitOf(unitText) };
  const meeting = meet(own, value);
  if (meeting.kind === 'unknown') {
    noteUnit(report, unknownUnit(meeting.text, meeting.side === 'from' ? 'step' : 'source', at));
    return meeting.equal ? { factor: { num: 1n, den: 1n }, offset: ZERO } : null;
  }
  const scaling = affineOfMeeting(meeting);
  if (scaling === null) noteUnit(report, faultOfMeeting(meeting, value, own, at, 'step'));
  return scaling;
}

function curve(step: Extract<Step, { do: 'curve' }>, at: number, from: UnitText, report: Report): NumberOutcome | null {
  const to: UnitText = { text: step.unit, unit: unitOf(step.unit) };
  if (to.unit === null && to.text !== '') noteUnit(report, unknownUnit(to.text, 'step', at));
  const scaling = parameterScaling(step.from, at, from, report);
  if (scaling === null) return null;
  const points = step.points.map(([x, y]) => [applyAffine(scaling, exact(x)), exact(y)] as const);
  for (let index = 1; index < points.length; index += 1) {
    if (compare(points[index - 1]![0], points[index]![0]) >= 0) {
      note(report, {
        kind: 'not-rising',
        at,
        index,
        message: `point ${index + 1} of the curve does not lie to the right of point ${index}; put the points in rising order of ${step.from}`,
      });
      return null;
    }
  }
  return outcome(throughPoints(points, step.outside), to, false);
}

function limit(
  step: Extract<Step, { do: 'limit' }>,
  at: number,
  from: UnitText,
  input: NumberDomain,
  report: Report,
): NumberOutcome | null {
  const scaling = parameterScaling(step.unit, at, from, report);
  if (scaling === null) return null;
  const min = step.min === undefined ? null : applyAffine(scaling, exact(step.min));
  const max = step.max === undefined ? null : applyAffine(scaling, exact(step.max));
  if (min !== null && max !== null && compare(min, max) > 0) {
    note(report, {
      kind: 'limit-inverted',
      at,
      message: `the least value of limit, ${step.min} ${step.unit}, lies above its greatest, ${step.max} ${step.unit}; swap them`,
    });
    return null;
  }
  const { interval } = input;
  const idle =
    (min === null || (interval !== null && compare(min, interval.lo) <= 0)) &&
    (max === null || (interval !== null && compare(interval.hi, max) <= 0));
  return outcome(limiting(min, max), from, idle);
}

/**
 * Pulses per unit of distance or turn: a rate of pulses becomes a speed or rotation and back, a count a distance or angle and back.
 * `per` names the unit of way; which side the pulses are on follows from the unit of the value.
 */
function pulses(
  step: Extract<Step, { do: 'pulses' }>,
  at: number,
  from: UnitText,
  report: Report,
): NumberOutcome | null {
  const to: UnitText = { text: step.unit, unit: unitOf(step.unit) };
  const per: UnitText = { text: step.per, unit: unitOf(step.per) };
  for (const [which, of] of [
    [from, 'source'],
    [to, 'step'],
    [per, 'step'],
  ] as const) {
    if (which.unit === null) {
      noteUnit(report, unknownUnit(which.text, of, at));
      return null;
    }
  }
  const count = exact(step.pulsesPerUnit);
  if (count.num <= 0n) {
    note(report, {
      kind: 'no-scaling',
      at,
      message: `pulses needs a number of pulses above 0, not ${step.pulsesPerUnit}`,
    });
    return null;
  }
  const factor = pulseFactor(from.unit!, to.unit!, per.unit!, count);
  if (factor === null) {
    noteUnit(report, {
      kind: 'dimension',
      at,
      from: from.text,
      to: to.text,
      message: `${from.text} does not become ${to.text} by a number of pulses per ${per.text}: pulses join a frequency with a speed or rotation, a count with a distance or angle`,
    });
    return null;
  }
  return outcome(everywhere(affineFraction({ factor, offset: ZERO })), to, false);
}

const WAY_OF_RATE: Readonly<Record<string, string>> = { speed: 'distance', rotation: 'angle' };

function pulseFactor(from: Unit, to: Unit, per: Unit, count: Rational): Rational | null {
  // One pulse is so much way (m or rad); SI factors do the rest: (pulses/s) · way = (m/s or rad/s).
  const way = div(per.toSi.factor, count);
  const pulseSide = (unit: Unit): 'rate' | 'count' | null =>
    unit.quantity === 'frequency' || unit.quantity === 'count-rate'
      ? 'rate'
      : unit.quantity === 'count'
        ? 'count'
        : null;
  const waySide = (unit: Unit): 'rate' | 'count' | null =>
    WAY_OF_RATE[unit.quantity] === per.quantity ? 'rate' : unit.quantity === per.quantity ? 'count' : null;
  if (per.quantity !== 'distance' && per.quantity !== 'angle') return null;
  const fromPulses = pulseSide(from);
  if (fromPulses !== null && waySide(to) === fromPulses) {
    return div(mul(from.toSi.factor, way), to.toSi.factor);
  }
  const toPulses = pulseSide(to);
  if (toPulses !== null && waySide(from) === toPulses) {
    return div(mul(from.toSi.factor, inverse(way)), to.toSi.factor);
  }
  return null;
}
