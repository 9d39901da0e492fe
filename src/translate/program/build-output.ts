import {
  type Affine,
  type Interval,
  composeAffine,
  div,
  invertAffine,
  mapAffine,
  sub,
  toNumber,
} from '../../number/index.ts';
import type { Wire } from '../../model/index.ts';
import type { RouteAnalysis } from '../analysis/route-analysis.ts';
import type { Coding, NumberDomain, StateDomain } from '../domain/value-domain.ts';
import { encodeRaw } from '../evaluate/target-end.ts';
import { affineFraction } from '../function/fraction.ts';
import { type PiecewiseFunction, chain, everywhere, limiting, throughPoints, valueAt } from '../function/pieces.ts';
import { milliohms } from './build-source.ts';
import { type Builder, addNode, addTable, asNumber, asStates, needsOf, toCounts, wholeCounts } from './builder.ts';
import { type Form, refuse } from './form.ts';
import { mapRanges } from './ranges.ts';
import { scaleFor, straightLine } from './scale.ts';
import { segmentsOf } from './segments.ts';
import { shortened } from './shorten.ts';
import { FLOAT_END, MEASURED, MEASURED_PER_UNIT, type Output } from './types.ts';

export interface Written {
  readonly result: number;
  readonly output: Output;
}

/** Brings the last value of a route into its target. */
export function writeForm(builder: Builder, form: Form, analysis: RouteAnalysis): Written {
  const { target, pairing, route } = analysis;
  const endpoint = pairing.find(route.to);
  if (endpoint === null || target === null) return refuse(`"${route.to}" does not exist`);
  if (endpoint.kind === 'message') return refuse('a value cannot be written as a whole message');
  if (endpoint.kind === 'wire') return toWire(builder, form, endpoint.wire, target.kind === 'number' ? target : null);
  const { bits, number } = endpoint.signal;
  const integer = number === 'signed' ? 'signed' : 'unsigned';
  switch (target.kind) {
    case 'number':
      if (target.coding?.kind === 'float')
        return toFloat(builder, form, target, target.coding, bits, number === 'float32' ? 'float32' : 'float64');
      if (target.coding?.kind !== 'integer') return refuse('the target has no coding');
      return {
        result: toRaw(builder, form, target, target.coding),
        output: { kind: 'field', bits, number: integer, avoid: avoided(target, target.coding) },
      };
    case 'state':
      return { result: toStateRaw(builder, form, target), output: { kind: 'field', bits, number: integer, avoid: [] } };
    case 'text':
      if (form.kind !== 'text' || form.lengthBits !== target.lengthBits)
        return refuse('the text has another length than its target');
      return { result: form.slot, output: { kind: 'field', bits, number: 'unsigned', avoid: [] } };
    case 'frame':
      return refuse('a value cannot be written as a whole message');
  }
}

type IntegerCoding = Extract<Coding, { kind: 'integer' }>;

/** Special raw values inside the usable range: an ordinary value must not be written as one of them. */
function avoided({ specials }: NumberDomain, { usable }: IntegerCoding): readonly bigint[] {
  if (usable === null) return [];
  return specials
    .map(({ raw }) => BigInt(raw))
    .filter((raw) => raw > usable.lo && raw < usable.hi)
    .toSorted((a, b) => (a < b ? -1 : 1));
}

/** Physical → raw of an integer field, kept within its usable raw values: one rounding, at the very end. */
function toRaw(builder: Builder, form: Form, target: NumberDomain, coding: IntegerCoding): number {
  const { usable, scaling } = coding;
  if (usable === null || scaling.factor.num === 0n) return refuse('the target has no usable raw value');
  const shown = mapAffine({ lo: { num: usable.lo, den: 1n }, hi: { num: usable.hi, den: 1n } }, scaling);
  const back = invertAffine(scaling);
  if (form.kind === 'float') {
    const line = lineEverywhere(form.pieces);
    if (line !== null) {
      const all = composeAffine(composeAffine(form.scaling, line), back);
      return addNode(builder, {
        kind: 'from-float',
        from: form.slot,
        factor: toNumber(all.factor),
        offset: toNumber(all.offset),
        lo: usable.lo,
        hi: usable.hi,
      });
    }
  }
  const number = asNumber(builder, form);
  if (number.kind === 'values') {
    return addTable(
      builder,
      number.slot,
      mapRanges(number.table, (value) => encodeRaw(value, coding, target)?.raw ?? null),
    );
  }
  const pieces = chain(number.pieces, encodingOf(shown, back));
  return addSegments(builder, number.slot, pieces, number.span);
}

function encodingOf(shown: Interval, back: Affine): PiecewiseFunction {
  return chain(limiting(shown.lo, shown.hi), everywhere(affineFraction(back)));
}

/** Adds a segments node, or none where every integer already is its own result. */
function addSegments(
  builder: Builder,
  from: number,
  pieces: PiecewiseFunction,
  span: { lo: bigint; hi: bigint },
): number {
  const segments = segmentsOf(pieces, span);
  const [only] = segments;
  if (only === undefined) return refuse('no value of the source gets through to the target');
  const whole = segments.length === 1 && only.lo === span.lo && only.hi === span.hi;
  if (whole && only.a === 1n && only.b === 0n && only.c === 0n && only.d === 1n) return from;
  return addNode(builder, { kind: 'segments', from, segments: shortened(segments) });
}

/** A function that is one straight line for every x, or null. */
function lineEverywhere(pieces: PiecewiseFunction): Affine | null {
  const [only] = pieces;
  if (pieces.length !== 1 || only!.lo !== null || only!.hi !== null) return null;
  return straightLine(pieces, { lo: 0n, hi: 0n });
}

/** The greatest double that is a value to the engine: its marks of no value begin at `FLOAT_END`. */
const GREATEST_FLOAT = FLOAT_END * (1 - Number.EPSILON / 2);

function toFloat(
  builder: Builder,
  form: Form,
  target: NumberDomain,
  coding: Extract<Coding, { kind: 'float' }>,
  bits: Extract<Output, { kind: 'float-field' }>['bits'],
  number: 'float32' | 'float64',
): Written {
  if (coding.scaling.factor.num === 0n) return refuse('the target has a factor of 0');
  const back = invertAffine(coding.scaling);
  const raws = target.interval === null ? null : mapAffine(target.interval, back);
  const most = number === 'float32' ? 3.4028234663852886e38 : GREATEST_FLOAT;
  const written = (slot: number, line: Affine): Written => {
    const all = composeAffine(line, back);
    return {
      result: slot,
      output: {
        kind: 'float-field',
        bits,
        number,
        factor: toNumber(all.factor),
        offset: toNumber(all.offset),
        lo: raws === null ? -most : Math.max(-most, toNumber(raws.lo)),
        hi: raws === null ? most : Math.min(most, toNumber(raws.hi)),
      },
    };
  };
  if (form.kind === 'float') {
    const line = lineEverywhere(form.pieces);
    if (line !== null) return written(form.slot, composeAffine(form.scaling, line));
  }
  const plain = asNumber(builder, form);
  const line = plain.kind === 'number' ? straightLine(plain.pieces, plain.span) : null;
  if (plain.kind === 'number' && line !== null) return written(plain.slot, line);
  const counted = toCounts(builder, plain, scaleFor(needsOf(plain)));
  return written(counted.slot, straightLine(counted.pieces, counted.span) ?? refuse('the value never changes'));
}

function toStateRaw(builder: Builder, form: Form, target: StateDomain): number {
  const states = asStates(form);
  const raws = new Map<string, bigint>();
  for (const { label, raw } of target.states) if (raw !== null && !raws.has(label)) raws.set(label, BigInt(raw));
  return addTable(
    builder,
    states.slot,
    mapRanges(states.table, ({ label, unnamed }) => (unnamed ? null : (raws.get(label) ?? null))),
  );
}

function toWire(builder: Builder, form: Form, wire: Wire, target: NumberDomain | null): Written {
  const { meaning } = wire;
  if (target !== null)
    return { result: toMeasured(builder, form, target), output: { kind: 'measured-wire', of: quantityOf(target) } };
  const states = asStates(form);
  if (meaning && 'codes' in meaning) {
    const middles = new Map(
      meaning.codes.map(({ ohm, state }) => [state, (milliohms(ohm[0]) + milliohms(ohm[1])) / 2n]),
    );
    const slot = addTable(
      builder,
      states.slot,
      mapRanges(states.table, ({ label }) => middles.get(label) ?? null),
    );
    return { result: slot, output: { kind: 'measured-wire', of: 'Ohm' } };
  }
  const [active, inactive] =
    meaning && 'active' in meaning ? [meaning.active, meaning.inactive] : ['active', 'inactive'];
  const level = (label: string): bigint | null => (label === active ? 1n : label === inactive ? 0n : null);
  const slot = addTable(
    builder,
    states.slot,
    mapRanges(states.table, ({ label, unnamed }) => (unnamed ? null : level(label))),
  );
  return { result: slot, output: { kind: 'switched-wire' } };
}

function quantityOf({ coding }: NumberDomain): Extract<Output, { kind: 'measured-wire' }>['of'] {
  return coding?.kind === 'wire-scale' || coding?.kind === 'wire-curve' ? coding.of : 'V';
}

/** Physical → thousandths of the electrical quantity. */
function toMeasured(builder: Builder, form: Form, target: NumberDomain): number {
  const levels = levelsOfTarget(target);
  const number = asNumber(builder, form);
  if (number.kind === 'values') {
    const count = { num: 1n, den: 1n };
    return addTable(
      builder,
      number.slot,
      mapRanges(number.table, (value) => {
        const level = valueAt(levels, value);
        return level === null ? null : wholeCounts(level, count);
      }),
    );
  }
  return addSegments(builder, number.slot, chain(number.pieces, levels), number.span);
}

/** Value → thousandths of the quantity that means it, kept within what the wire declares and the integer holds. */
export function levelsOfTarget({ coding, interval }: NumberDomain): PiecewiseFunction {
  const kept = limiting(interval?.lo ?? null, interval?.hi ?? null);
  const thousand = everywhere(
    affineFraction({ factor: { num: MEASURED_PER_UNIT, den: 1n }, offset: { num: 0n, den: 1n } }),
  );
  const held = limiting({ num: MEASURED.lo, den: 1n }, { num: MEASURED.hi, den: 1n });
  switch (coding?.kind) {
    case 'wire-scale': {
      if (coding.scaling.factor.num === 0n) return refuse('the wire has a factor of 0');
      const back: Affine = {
        factor: div({ num: 1n, den: 1n }, coding.scaling.factor),
        offset: div(sub({ num: 0n, den: 1n }, coding.scaling.offset), coding.scaling.factor),
      };
      return chain(chain(chain(kept, everywhere(affineFraction(back))), thousand), held);
    }
    case 'wire-curve': {
      const turned = coding.points.map(([x, y]) => [y, x] as const);
      const rising =
        turned.length > 1 && turned[0]![0].num * turned.at(-1)![0].den > turned.at(-1)![0].num * turned[0]![0].den
          ? turned.toReversed()
          : turned;
      for (let index = 1; index < rising.length; index += 1) {
        const [a] = rising[index - 1]!;
        const [b] = rising[index]!;
        if (a.num * b.den >= b.num * a.den)
          return refuse('the curve of the wire is not monotone: one value would have several levels');
      }
      return chain(chain(chain(kept, throughPoints(rising, 'clamp')), thousand), held);
    }
    default:
      return refuse('the wire has no scale');
  }
}
