import { formatDecimal, sign, type Rational } from '../../number/index.ts';
import {
  routeFormula,
  type LiveValue,
  type NoValue,
  type RouteAnalysis,
  type SourceFor,
} from '../../translate/index.ts';
import { unitSymbol } from '../../units/index.ts';

const SIGNIFICANT = 9;

/** A number for the strip: at most nine significant digits, a true minus sign. */
export function numberText(value: Rational): string {
  return formatDecimal(value, { maxSignificant: SIGNIFICANT }).replace('-', '−');
}

/** The symbol of a unit as the document has it; '' for the bare number. */
export function unitText(unit: string): string {
  return unit === '1' ? '' : unitSymbol(unit);
}

export function withUnit(text: string, unit: string): string {
  const symbol = unitText(unit);
  return symbol === '' ? text : `${text} ${symbol}`;
}

const WHY_NONE: Readonly<Record<NoValue['why'], string>> = {
  special: 'sent as such',
  'no-image': 'nothing stands for this state',
  outside: 'outside the curve',
  absent: 'no value given',
  fault: 'a fault of the route leaves it open',
};

/** A value at one place of a route, with its unit. */
export function valueText(value: LiveValue, unit: string): string {
  switch (value.kind) {
    case 'number':
      return withUnit(numberText(value.value), unit);
    case 'state':
      return value.label;
    case 'none':
      return `${value.means === 'error' ? 'error' : 'not available'}: ${WHY_NONE[value.why]}`;
  }
}

/** A raw value in decimal and, for an integer field, in hexadecimal with all its digits (two's complement below zero). */
export function rawTexts(
  raw: bigint | number | null,
  lengthBits: number,
): { readonly decimal: string; readonly hex: string } {
  if (raw === null) return { decimal: '–', hex: '' };
  if (typeof raw === 'number') return { decimal: String(raw).replace('-', '−'), hex: '' };
  const digits = Math.ceil(lengthBits / 4);
  const hex = BigInt.asUintN(lengthBits, raw).toString(16).toUpperCase().padStart(digits, '0');
  return { decimal: raw.toString().replace('-', '−'), hex: `0x${hex}` };
}

const WHY_NO_WAY: Readonly<Record<Extract<SourceFor, { kind: 'none' }>['why'], string>> = {
  'several-sources': 'several sources make it: set them at the left',
  'not-reached': 'no value of the source leads there',
  'no-way-back': 'a step in between has no way back',
};

export function whyNoWay(found: Extract<SourceFor, { kind: 'none' }>): string {
  return WHY_NO_WAY[found.why];
}

/** A rounding error with its sign: "+0.02 °C". */
export function errorText(error: Rational, unit: string): string {
  if (error.num === 0n) return `exact`;
  return withUnit(`${sign(error) > 0 ? '+' : ''}${numberText(error)}`, unit);
}

/** The lines of arithmetic that belong to each step, from the route's formula. */
export function formulaOfStages(analysis: RouteAnalysis): readonly (readonly string[])[] {
  const lines = routeFormula(analysis).split('\n');
  let at = analysis.sources.filter((domain) => domain?.kind === 'number' && domain.coding !== null).length;
  return analysis.stages.map(({ effects }) => {
    const count = effects.filter((effect) => effect !== null).length;
    const own = lines.slice(at, at + count);
    at += count;
    return own;
  });
}
