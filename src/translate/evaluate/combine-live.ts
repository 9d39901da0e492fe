import { type Rational, add, compare, equals, sub } from '../../number/index.ts';
import type { ArithmeticKind, CaseResult, Combination } from '../analysis/effect.ts';
import { type LiveValue, noValue } from './live-value.ts';

/**
 * Several values made one. Where one of them is missing, the result is missing too, unless the others decide it: one source that
 * is not as wanted settles `all-of`, one that is settles `any-of`, and `first-valid` and `choose-by` need only what they take.
 * Of several missing values the first counts.
 */
export function combineLive(effect: Combination, values: readonly LiveValue[]): LiveValue {
  const missing = values.find((value) => value.kind === 'none');
  switch (effect.kind) {
    case 'all-of': {
      const decided = values.some((value) => value.kind === 'state' && !effect.when.has(value.label));
      if (decided) return { kind: 'state', label: effect.otherwise };
      return missing ?? { kind: 'state', label: effect.yields };
    }
    case 'any-of': {
      const decided = values.some((value) => value.kind === 'state' && effect.when.has(value.label));
      if (decided) return { kind: 'state', label: effect.yields };
      return missing ?? { kind: 'state', label: effect.otherwise };
    }
    case 'first-valid':
      return values.find((value) => value.kind !== 'none') ?? missing ?? noValue('absent');
    case 'choose-by': {
      const selector = values[effect.selector];
      if (selector === undefined || selector.kind === 'none') return selector ?? noValue('fault');
      const chosen = effect.cases.find(({ on }) => isOn(on, selector))?.gives ?? effect.otherwise;
      return chosen === null ? noValue('no-image') : resultOf(chosen, values);
    }
    case 'highest':
    case 'lowest':
    case 'sum':
    case 'difference': {
      const { kind } = effect;
      if (missing !== undefined) return missing;
      const numbers = values.flatMap((value) => (value.kind === 'number' ? [value.value] : []));
      const [first, ...rest] = numbers;
      if (first === undefined || numbers.length !== values.length) return noValue('fault');
      return { kind: 'number', value: rest.reduce((a, b) => two(kind, a, b), first) };
    }
  }
}

function two(kind: ArithmeticKind, a: Rational, b: Rational): Rational {
  switch (kind) {
    case 'highest':
      return compare(a, b) >= 0 ? a : b;
    case 'lowest':
      return compare(a, b) <= 0 ? a : b;
    case 'sum':
      return add(a, b);
    case 'difference':
      return sub(a, b);
  }
}

function isOn(on: Extract<Combination, { kind: 'choose-by' }>['cases'][number]['on'], selector: LiveValue): boolean {
  if (on.kind === 'state') return selector.kind === 'state' && selector.label === on.label;
  return selector.kind === 'number' && equals(selector.value, on.value);
}

function resultOf(result: CaseResult, values: readonly LiveValue[]): LiveValue {
  switch (result.kind) {
    case 'source':
      return values[result.source] ?? noValue('fault');
    case 'state':
      return { kind: 'state', label: result.label };
    case 'number':
      return { kind: 'number', value: result.value };
  }
}
