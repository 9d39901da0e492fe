import { type Rational, div, inverse, toExact, toNumber } from '../../number/index.ts';
import type { RawSpan } from '../domain/value-domain.ts';
import { affineFraction } from '../function/fraction.ts';
import { type PiecewiseFunction, chain, everywhere } from '../function/pieces.ts';
import { type Form, type StateLabel, refuse } from './form.ts';
import { type RangeTable, compactRanges, mapRanges, outputsOf } from './ranges.ts';
import { type Scale, type ScaleNeeds, powerOfTwoFor, straightLine } from './scale.ts';
import { outputSpan, segmentsOf } from './segments.ts';
import { shortened } from './shorten.ts';
import type { Node, WorkingStep } from './types.ts';

/** A program under construction. */
export interface Builder {
  readonly sourceCount: number;
  readonly periodMs: number;
  readonly nodes: Node[];
  readonly working: WorkingStep[];
}

/** Adds a node and gives the slot it fills. */
export function addNode(builder: Builder, node: Node): number {
  builder.nodes.push(node);
  return builder.sourceCount + builder.nodes.length - 1;
}

/** Whole ticks in which a time has passed, at least one. */
export function ticksFor(ms: number, builder: Builder): number {
  return Math.max(1, Math.ceil(Math.round(ms * 1000) / Math.round(builder.periodMs * 1000)));
}

export type NumberForm = Extract<Form, { kind: 'number' }>;
export type ValuesForm = Extract<Form, { kind: 'values' }>;
export type FloatForm = Extract<Form, { kind: 'float' }>;
export type StatesForm = Extract<Form, { kind: 'states' }>;

/** The function x → x · count. */
export function countsOf(count: Rational): PiecewiseFunction {
  return everywhere(affineFraction({ factor: count, offset: { num: 0n, den: 1n } }));
}

/** A number as an integer of so many counts, in a slot of its own unless it stands so already. */
export function toCounts(builder: Builder, form: NumberForm | ValuesForm, scale: Scale): NumberForm {
  const { count } = scale;
  if (form.kind === 'values') {
    const table = mapRanges(form.table, (value) => wholeCounts(value, count));
    const slot = addTable(builder, form.slot, table);
    return { kind: 'number', slot, span: spanOf(outputsOf(table)), pieces: countsOf(count) };
  }
  const line = straightLine(form.pieces, form.span);
  if (line !== null && line.offset.num === 0n && line.factor.num === count.num && line.factor.den === count.den)
    return form;
  const segments = segmentsOf(chain(form.pieces, countsOf(inverse(count))), form.span);
  const span = outputSpan(segments);
  if (span === null) return refuse('no value of the source gets through its steps');
  const slot = addNode(builder, { kind: 'segments', from: form.slot, segments: shortened(segments) });
  builder.working.push({ node: builder.nodes.length - 1, count: String(toExact(count)), exact: scale.exact });
  return { kind: 'number', slot, span, pieces: countsOf(count) };
}

/** Nearest whole number of counts, halves away from zero. */
export function wholeCounts(value: Rational, count: Rational): bigint {
  const counts = div(value, count);
  const half = counts.den >> 1n;
  return counts.num >= 0n ? (counts.num + half) / counts.den : -((half - counts.num) / counts.den);
}

function spanOf(values: readonly bigint[]): RawSpan {
  let [lo = 0n] = values;
  let hi = lo;
  for (const value of values) {
    if (value < lo) lo = value;
    if (value > hi) hi = value;
  }
  return { lo, hi };
}

/** Adds a table node. */
export function addTable(builder: Builder, from: number, table: RangeTable<bigint>): number {
  return addNode(builder, { kind: 'table', from, ranges: compactRanges(table), gap: table.gap });
}

/** What `scaleFor` needs to know of a form. */
export function needsOf(form: NumberForm | ValuesForm): ScaleNeeds {
  return form.kind === 'number'
    ? { functions: [{ pieces: form.pieces, span: form.span }], values: [] }
    : { functions: [], values: outputsOf(form.table) };
}

/** Where nothing bounds a float source, values up to this size are told apart by 1/1024. */
const UNBOUNDED = 2n ** 20n;
const FLOAT_COUNTS = 2n ** 30n;

/** A float source as an integer: at most 2^30 counts of a power of two, saturating beyond. Other forms stay. */
export function withoutFloat(builder: Builder, form: Form): Exclude<Form, { kind: 'float' }> {
  if (form.kind !== 'float') return form;
  let size: Rational = { num: UNBOUNDED, den: 1n };
  if (form.interval !== null) {
    const { lo, hi } = form.interval;
    const a = lo.num < 0n ? { num: -lo.num, den: lo.den } : lo;
    const b = hi.num < 0n ? { num: -hi.num, den: hi.den } : hi;
    size = a.num * b.den > b.num * a.den ? a : b;
  }
  const count = powerOfTwoFor(size, FLOAT_COUNTS);
  const slot = addNode(builder, {
    kind: 'from-float',
    from: form.slot,
    factor: toNumber(div(form.scaling.factor, count)),
    offset: toNumber(div(form.scaling.offset, count)),
    lo: -FLOAT_COUNTS,
    hi: FLOAT_COUNTS,
  });
  builder.working.push({ node: builder.nodes.length - 1, count: String(toExact(count)), exact: false });
  return {
    kind: 'number',
    slot,
    span: { lo: -FLOAT_COUNTS, hi: FLOAT_COUNTS },
    pieces: chain(countsOf(count), form.pieces),
  };
}

/** A form as a number of integers, or a refusal. */
export function asNumber(builder: Builder, form: Form): NumberForm | ValuesForm {
  const plain = withoutFloat(builder, form);
  if (plain.kind === 'number' || plain.kind === 'values') return plain;
  return refuse(`a number is needed, but the value is ${plain.kind === 'states' ? 'a state' : 'text'}`);
}

export function asStates(form: Form): StatesForm {
  return form.kind === 'states'
    ? form
    : refuse(`a state is needed, but the value is ${form.kind === 'text' ? 'text' : 'a number'}`);
}

const keyOf = ({ label, unnamed }: StateLabel): string => `${unnamed ? 'u' : 'n'}${label}`;

/** States as positions in a list of labels, in a slot of its own. `list` fixes the positions where several forms share them. */
export function toPositions(
  builder: Builder,
  form: StatesForm,
  list: readonly StateLabel[] = statesOf(form),
): StatesForm {
  const positions = new Map(list.map((state, index) => [keyOf(state), BigInt(index)]));
  const slot = addTable(
    builder,
    form.slot,
    mapRanges(form.table, (state) => positions.get(keyOf(state)) ?? null),
  );
  return positionForm(slot, list);
}

/** Distinct states of a form. */
export function statesOf({ table }: StatesForm): readonly StateLabel[] {
  return [...new Map(outputsOf(table).map((state) => [keyOf(state), state])).values()];
}

/** A slot that holds positions in a list of states. */
export function positionForm(slot: number, list: readonly StateLabel[]): StatesForm {
  return {
    kind: 'states',
    slot,
    table: { ranges: list.map((out, index) => ({ lo: BigInt(index), hi: BigInt(index), out })), gap: null },
  };
}

/** The union of the states of several forms, each once. */
export function unionOfStates(forms: readonly StatesForm[], more: readonly string[]): readonly StateLabel[] {
  const all = [...forms.flatMap(statesOf), ...more.map((label): StateLabel => ({ label, unnamed: false }))];
  return [...new Map(all.map((state) => [keyOf(state), state])).values()];
}
