import { type Rational, equals, parseExact, sign } from '../../number/index.ts';
import type { Step } from '../../model/index.ts';
import type { Effect } from '../analysis/effect.ts';
import type { RouteAnalysis, Stage } from '../analysis/route-analysis.ts';
import type { Coding, NumberDomain, ValueDomain } from '../domain/value-domain.ts';
import { affineOf } from '../function/fraction.ts';
import { exactText, givenText, listText, quoted, symbolOf, timeText, unitName } from './words.ts';

/**
 * A route as lines of arithmetic, in the order in which it is done: raw to physical of each source, each step, physical to raw.
 * Every line gives the unit of its result in square brackets. Multiplication comes before addition; `round` is to the nearest
 * whole number, halves away from zero.
 */
export function routeFormula(analysis: RouteAnalysis): string {
  const { pairing, route, stages, sources, target, delivered } = analysis;
  const symbols = uniqueSymbols(route.from.map((ref) => symbolOf(pairing, ref)));
  const lines: string[] = [];
  sources.forEach((domain, index) => {
    const line = decodeLine(symbols[index]!, domain);
    if (line !== null) lines.push(line);
  });
  let values: readonly string[] = symbols;
  let next = 1;
  for (const stage of stages) {
    const results = stage.effects.map((effect, index) => {
      if (effect === null) return values[index] ?? '?';
      const name = `x${next}`;
      next += 1;
      lines.push(`${name} = ${right(stage, effect, values, index)}${unitTag(stage.output[index])}`);
      return name;
    });
    values = results;
  }
  const end = symbolOf(pairing, route.to);
  const own = symbols.includes(end) ? `${end}′` : end;
  const last = values.length === 1 ? values[0]! : listText(values);
  lines.push(`${own} = ${last}${unitTag(target ?? delivered)}`);
  const encode = encodeLine(own, target);
  if (encode !== null) lines.push(encode);
  return lines.join('\n');
}

/** Two signals of one name are told apart by a number behind. */
function uniqueSymbols(names: readonly string[]): readonly string[] {
  const seen = new Map<string, number>();
  return names.map((name) => {
    const count = (seen.get(name) ?? 0) + 1;
    seen.set(name, count);
    return names.filter((other) => other === name).length === 1 ? name : `${name}#${count}`;
  });
}

function unitTag(domain: ValueDomain | null | undefined): string {
  if (domain?.kind !== 'number') return '';
  const name = unitName(domain.unitText);
  return name === '' ? '' : ` [${name}]`;
}

function decodeLine(symbol: string, domain: ValueDomain | null): string | null {
  if (domain?.kind !== 'number' || domain.coding === null) return null;
  const { coding } = domain;
  switch (coding.kind) {
    case 'integer':
    case 'float':
      return `${symbol} = ${scaled(coding.scaling.factor, `raw(${symbol})`, coding.scaling.offset)}${unitTag(domain)}`;
    case 'wire-scale':
      return `${symbol} = ${scaled(coding.scaling.factor, `${coding.of}(${symbol})`, coding.scaling.offset)}${unitTag(domain)}`;
    case 'wire-curve':
      return `${symbol} = curve(${coding.of}(${symbol}))${unitTag(domain)}`;
  }
}

function encodeLine(symbol: string, target: ValueDomain | null): string | null {
  if (target?.kind !== 'number' || target.coding === null) return null;
  const { coding } = target;
  switch (coding.kind) {
    case 'integer':
      return `raw(${symbol}) = round(${unscaled(symbol, coding)})${withinText(coding, target)}`;
    case 'float':
      return `raw(${symbol}) = ${unscaled(symbol, coding)}, the nearest ${coding.lengthBits}-bit float`;
    case 'wire-scale':
      return `${coding.of}(${symbol}) = ${unscaled(symbol, coding)}`;
    case 'wire-curve':
      return `${coding.of}(${symbol}) = curve read backwards(${symbol})`;
  }
}

function withinText({ usable }: Extract<Coding, { kind: 'integer' }>, { specials }: NumberDomain): string {
  const kept = usable === null ? '' : `, kept within ${usable.lo} … ${usable.hi}`;
  const special = specials.map(({ raw, means }) => `${raw} ${means === 'error' ? 'error' : 'not available'}`);
  return special.length === 0 ? kept : `${kept}; ${special.join(', ')}`;
}

function unscaled(symbol: string, { scaling: { factor, offset } }: Exclude<Coding, { kind: 'wire-curve' }>): string {
  const shifted = offset.num === 0n ? symbol : `(${symbol}${added({ num: -offset.num, den: offset.den })})`;
  if (isOne(factor)) return offset.num === 0n ? symbol : shifted.slice(1, -1);
  return `${shifted} / ${bracketed(factor)}`;
}

/** factor · x + offset, with what is 1 or 0 left out. */
function scaled(factor: Rational, x: string, offset: Rational): string {
  if (factor.num === 0n) return exactText(offset);
  const product = isOne(factor) ? x : factor.num === -1n && factor.den === 1n ? `−${x}` : `${bracketed(factor)} · ${x}`;
  return `${product}${added(offset)}`;
}

function isOne(r: Rational): boolean {
  return equals(r, { num: 1n, den: 1n });
}

function added(r: Rational): string {
  switch (sign(r)) {
    case 0:
      return '';
    case 1:
      return ` + ${bracketed(r)}`;
    case -1:
      return ` − ${bracketed({ num: -r.num, den: r.den })}`;
  }
}

function bracketed(r: Rational): string {
  const text = exactText(r);
  return text.includes('/') ? `(${text})` : text.replace('-', '−');
}

function right(stage: Stage, effect: Effect, values: readonly string[], index: number): string {
  const x = values[index] ?? '?';
  const { step } = stage;
  switch (effect.kind) {
    case 'function':
      return functionText(step, effect, x);
    case 'relabel':
      return `state(${x})`;
    case 'pick':
      return `value of state(${x})`;
    case 'bands':
      return `band(${x}; ${step.do === 'bands' ? step.at.map((at) => givenText(at, step.unit)).join(', ') : ''})`;
    case 'rate-limit':
      return `rate-limit(${x}; ${effect.risePerS === null ? 'any' : exactText(effect.risePerS)} up, ${effect.fallPerS === null ? 'any' : exactText(effect.fallPerS)} down a second)`;
    case 'smooth':
      return `smooth(${x}; ${timeText(effect.timeConstantMs)})`;
    case 'debounce':
      return `steady(${x}; ${timeText(effect.forMs)})`;
    case 'delay':
      return `${x} as it was ${timeText(effect.byMs)} ago`;
    case 'all-of':
    case 'any-of':
      return `${quoted(effect.yields)} if ${effect.kind === 'all-of' ? 'all' : 'any'} of (${values.join(', ')}) in (${[...effect.when].map(quoted).join(', ')}), else ${quoted(effect.otherwise)}`;
    case 'highest':
      return `highest(${values.join(', ')})`;
    case 'lowest':
      return `lowest(${values.join(', ')})`;
    case 'sum':
      return values.join(' + ');
    case 'difference':
      return values.join(' − ');
    case 'first-valid':
      return `first valid(${values.join(', ')})`;
    case 'choose-by':
      return `chosen by ${values[effect.selector] ?? '?'}(${values.join(', ')})`;
  }
}

function functionText(step: Step, effect: Extract<Effect, { kind: 'function' }>, x: string): string {
  if (step.do === 'limit') {
    const min = step.min === undefined ? '−∞' : givenText(step.min, step.unit);
    const max = step.max === undefined ? '∞' : givenText(step.max, step.unit);
    return `limit(${x}; ${min} … ${max})`;
  }
  if (step.do === 'curve') return `curve(${x}; ${step.points.length} points)`;
  if (step.do === 'reciprocal') {
    const k = parseExact(step.k);
    return `${k === null ? step.k : bracketed(k)} / ${x}`;
  }
  const only = effect.pieces[0]!.fraction;
  const affine = affineOf(only);
  if (affine !== null) return scaled(affine.factor, x, affine.offset);
  // A conversion that turns its quantity upside down: b / (c · x).
  return `${bracketed({ num: only.b, den: only.c })} / ${x}`;
}
