import { type Rational, compare, equals } from '../../number/index.ts';
import type { Case, CaseResult, Combination } from '../analysis/effect.ts';
import { apply, invert, isConstant } from '../function/fraction.ts';
import {
  type Builder,
  type NumberForm,
  type StatesForm,
  type ValuesForm,
  addNode,
  addTable,
  asNumber,
  asStates,
  countsOf,
  needsOf,
  positionForm,
  toCounts,
  toPositions,
  unionOfStates,
  wholeCounts,
  withoutFloat,
} from './builder.ts';
import { type Form, type StateLabel, refuse } from './form.ts';
import { type RangeTable, mapRanges } from './ranges.ts';
import { type Scale, scaleFor } from './scale.ts';
import { segmentsOf } from './segments.ts';
import type { RawSpan } from '../domain/value-domain.ts';

/** Makes one value of all values of a route. */
export function combineForms(builder: Builder, forms: readonly Form[], effect: Combination): Form {
  switch (effect.kind) {
    case 'all-of':
    case 'any-of': {
      const slots = forms.map((form) => {
        const states = asStates(form);
        return addTable(
          builder,
          states.slot,
          mapRanges(states.table, ({ label }) => (effect.when.has(label) ? 1n : 0n)),
        );
      });
      const slot = addNode(builder, { kind: effect.kind, of: slots });
      return positionForm(slot, [plain(effect.otherwise), plain(effect.yields)]);
    }
    case 'highest':
    case 'lowest':
    case 'sum':
    case 'difference': {
      const numbers = forms.map((form) => asNumber(builder, form));
      const additive = effect.kind === 'sum' || effect.kind === 'difference';
      const scale = sharedScale(numbers, [], additive ? 2n ** 44n : undefined);
      const counted = numbers.map((form) => toCounts(builder, form, scale));
      const slot = addNode(builder, { kind: effect.kind, of: counted.map((form) => form.slot) });
      return { kind: 'number', slot, span: spanOfCombined(effect.kind, counted), pieces: countsOf(scale.count) };
    }
    case 'first-valid': {
      const aligned = align(builder, forms, []);
      const slot = addNode(builder, { kind: 'first-valid', of: aligned.slots });
      return aligned.formAt(slot);
    }
    case 'choose-by':
      return choose(builder, forms, effect);
  }
}

function plain(label: string): StateLabel {
  return { label, unnamed: false };
}

function sharedScale(forms: readonly (NumberForm | ValuesForm)[], values: readonly Rational[], most?: bigint): Scale {
  const needs = forms.map(needsOf);
  return scaleFor(
    {
      functions: needs.flatMap(({ functions }) => functions),
      values: [...needs.flatMap((need) => need.values), ...values],
    },
    most,
  );
}

function spanOfCombined(kind: 'highest' | 'lowest' | 'sum' | 'difference', forms: readonly NumberForm[]): RawSpan {
  const [first, ...rest] = forms.map(({ span }) => span);
  return rest.reduce((a, b): RawSpan => {
    switch (kind) {
      case 'highest':
        return { lo: a.lo > b.lo ? a.lo : b.lo, hi: a.hi > b.hi ? a.hi : b.hi };
      case 'lowest':
        return { lo: a.lo < b.lo ? a.lo : b.lo, hi: a.hi < b.hi ? a.hi : b.hi };
      case 'sum':
        return { lo: a.lo + b.lo, hi: a.hi + b.hi };
      case 'difference':
        return { lo: a.lo - b.hi, hi: a.hi - b.lo };
    }
  }, first!);
}

function union(spans: readonly RawSpan[]): RawSpan {
  const [first, ...rest] = spans;
  return rest.reduce((a, b) => ({ lo: a.lo < b.lo ? a.lo : b.lo, hi: a.hi > b.hi ? a.hi : b.hi }), first!);
}

/** Several values of one kind whose integers mean the same, so that any of them can stand for the result. */
interface Aligned {
  readonly slots: readonly number[];
  /** The integer for a fixed result. */
  constantOf(result: Exclude<CaseResult, { kind: 'source' }>): bigint;
  formAt(slot: number): Form;
}

function align(
  builder: Builder,
  forms: readonly Form[],
  fixed: readonly Exclude<CaseResult, { kind: 'source' }>[],
): Aligned {
  const kindOf = (form: Form): 'states' | 'text' | 'number' =>
    form.kind === 'states' || form.kind === 'text' ? form.kind : 'number';
  const kinds = new Set([...forms.map(kindOf), ...fixed.map(({ kind }) => (kind === 'state' ? 'states' : 'number'))]);
  if (kinds.size !== 1) return refuse('values of several kinds meet in one step');
  const [kind] = kinds;
  if (kind === 'states') return alignStates(builder, forms.map(asStates), fixed);
  if (kind === 'text') return alignText(forms);
  const numbers = forms.map((form) => asNumber(builder, form));
  const values = fixed.flatMap((result) => (result.kind === 'number' ? [result.value] : []));
  const scale = sharedScale(numbers, values);
  const counted = numbers.map((form) => toCounts(builder, form, scale));
  const constants = values.map((value) => wholeCounts(value, scale.count));
  const span = union([...counted.map((form) => form.span), ...constants.map((value) => ({ lo: value, hi: value }))]);
  return {
    slots: counted.map(({ slot }) => slot),
    constantOf: (result) =>
      result.kind === 'number' ? wholeCounts(result.value, scale.count) : refuse('a number is needed'),
    formAt: (slot) => ({ kind: 'number', slot, span, pieces: countsOf(scale.count) }),
  };
}

function alignStates(
  builder: Builder,
  forms: readonly StatesForm[],
  fixed: readonly Exclude<CaseResult, { kind: 'source' }>[],
): Aligned {
  const labels = fixed.flatMap((result) => (result.kind === 'state' ? [result.label] : []));
  const list = unionOfStates(forms, labels);
  return {
    slots: forms.map((form) => toPositions(builder, form, list).slot),
    constantOf: (result) =>
      result.kind === 'state'
        ? BigInt(list.findIndex(({ label, unnamed }) => !unnamed && label === result.label))
        : refuse('a state is needed'),
    formAt: (slot) => positionForm(slot, list),
  };
}

function alignText(forms: readonly Form[]): Aligned {
  const [first] = forms;
  const length = first?.kind === 'text' ? first.lengthBits : 0;
  if (forms.some((form) => form.kind !== 'text' || form.lengthBits !== length))
    return refuse('texts of several lengths meet');
  return {
    slots: forms.map(({ slot }) => slot),
    constantOf: () => refuse('a text is needed'),
    formAt: (slot) => ({ kind: 'text', slot, lengthBits: length }),
  };
}

function choose(builder: Builder, forms: readonly Form[], effect: Extract<Combination, { kind: 'choose-by' }>): Form {
  const selector = forms[effect.selector];
  if (selector === undefined) return refuse('choose-by has no selector');
  const results: readonly CaseResult[] = [
    ...effect.cases.map(({ gives }) => gives),
    ...(effect.otherwise === null ? [] : [effect.otherwise]),
  ];
  const table = caseTable(
    builder,
    selector,
    effect.cases,
    effect.otherwise === null ? null : BigInt(effect.cases.length),
  );
  const used = [...new Set(results.flatMap((result) => (result.kind === 'source' ? [result.source] : [])))];
  const fixed = results.flatMap((result) => (result.kind === 'source' ? [] : [result]));
  const aligned = align(
    builder,
    used.map((source) => forms[source] ?? refuse(`choose-by names source ${source}, which does not exist`)),
    fixed,
  );
  const slot = addNode(builder, {
    kind: 'choose',
    selector: addTable(builder, table.slot, table.table),
    cases: results.map((result) =>
      result.kind === 'source'
        ? { slot: aligned.slots[used.indexOf(result.source)]! }
        : { value: aligned.constantOf(result) },
    ),
  });
  return aligned.formAt(slot);
}

/** Which case each integer of the selector leads to. */
function caseTable(
  builder: Builder,
  selector: Form,
  cases: readonly Case[],
  otherwise: bigint | null,
): { readonly slot: number; readonly table: RangeTable<bigint> } {
  const form = withoutFloat(builder, selector);
  switch (form.kind) {
    case 'states': {
      const at = new Map(cases.map(({ on }, index) => [on.kind === 'state' ? on.label : '', BigInt(index)]));
      return { slot: form.slot, table: mapRanges(form.table, ({ label }) => at.get(label) ?? otherwise) };
    }
    case 'values': {
      const find = (value: Rational): bigint | null => {
        const index = cases.findIndex(({ on }) => on.kind === 'number' && equals(on.value, value));
        return index < 0 ? otherwise : BigInt(index);
      };
      return { slot: form.slot, table: mapRanges(form.table, find) };
    }
    case 'number':
      return { slot: form.slot, table: { ranges: numberCases(form, cases, otherwise), gap: null } };
    case 'text':
      return refuse('text cannot choose');
  }
}

/** Integers that stand for exactly the value of a case, and the stretches between them. */
function numberCases(form: NumberForm, cases: readonly Case[], otherwise: bigint | null): RangeTable<bigint>['ranges'] {
  const ranges: { lo: bigint; hi: bigint; out: bigint | null }[] = [];
  for (const segment of segmentsOf(form.pieces, form.span)) {
    const hits: { x: bigint; index: number }[] = [];
    cases.forEach(({ on }, index) => {
      if (on.kind !== 'number') return;
      if (isConstant(segment)) {
        if (compare(apply(segment, { num: segment.lo, den: 1n })!, on.value) === 0) hits.push({ x: segment.lo, index });
        return;
      }
      const x = apply(invert(segment), on.value);
      if (x !== null && x.den === 1n && x.num >= segment.lo && x.num <= segment.hi) hits.push({ x: x.num, index });
    });
    if (isConstant(segment)) {
      ranges.push({ lo: segment.lo, hi: segment.hi, out: hits[0] ? BigInt(hits[0].index) : otherwise });
      continue;
    }
    let next = segment.lo;
    for (const { x, index } of hits.toSorted((p, q) => (p.x < q.x ? -1 : p.x > q.x ? 1 : p.index - q.index))) {
      if (x < next) continue;
      if (x > next) ranges.push({ lo: next, hi: x - 1n, out: otherwise });
      ranges.push({ lo: x, hi: x, out: BigInt(index) });
      next = x + 1n;
    }
    if (next <= segment.hi) ranges.push({ lo: next, hi: segment.hi, out: otherwise });
  }
  return ranges;
}
