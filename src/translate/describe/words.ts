import { type Rational, decimalPlaces, formatDecimal, parseExact } from '../../number/index.ts';
import { unitSymbol } from '../../units/index.ts';
import type { Pairing } from '../../model/index.ts';

/** Longest decimal that is shown in full. */
const MOST_PLACES = 9;

/** A number for people, exact: a decimal where it ends soon, else the fraction with its value beside it. */
export function exactText(r: Rational): string {
  const places = decimalPlaces(r);
  if (places !== null && places <= MOST_PLACES) return formatDecimal(r);
  return `${r.num}/${r.den} (≈ ${formatDecimal(r, { maxSignificant: 9 })})`;
}

/** A number for a table cell: at most nine significant digits. */
export function shortText(r: Rational): string {
  return formatDecimal(r, { maxSignificant: 9 });
}

/** A number with its unit: "100 km/h"; the bare number 1 and an unknown empty unit show none. */
export function quantityText(r: Rational, unit: string): string {
  return withUnit(exactText(r), unit);
}

export function withUnit(figure: string, unit: string): string {
  const symbol = unitName(unit);
  return symbol === '' ? figure : `${figure} ${symbol}`;
}

/** The symbol of a unit as people read it; '' for the bare number. */
export function unitName(unit: string): string {
  return unit === '1' ? '' : unitSymbol(unit);
}

/** "km/h", or "a plain number" where there is no unit to name. */
export function unitPhrase(unit: string): string {
  return unitName(unit) === '' ? 'a plain number' : unitName(unit);
}

/** A document's number with its unit. */
export function givenText(x: string | number, unit: string): string {
  const exact = parseExact(x);
  return withUnit(exact === null ? String(x) : exactText(exact), unit);
}

/** 100 ms, 1.5 s: seconds from one second on. */
export function timeText(ms: number): string {
  return ms >= 1000 ? `${trimmed(ms / 1000)} s` : `${trimmed(ms)} ms`;
}

function trimmed(n: number): string {
  return formatDecimal(parseExact(n) ?? { num: 0n, den: 1n }, { maxSignificant: 6 });
}

/** a, b and c. */
export function listText(parts: readonly string[]): string {
  if (parts.length < 2) return parts.join('');
  return `${parts.slice(0, -1).join(', ')} and ${parts.at(-1)}`;
}

export function quoted(label: string): string {
  return `“${label}”`;
}

/** How a sentence names a source or target: "EngSpeed of EngSpeedMsg (donor)", "wire brake-switch (host)". */
export function endName(pairing: Pairing, ref: string): string {
  const endpoint = pairing.find(ref);
  if (endpoint === null) return `${ref} (which does not exist)`;
  switch (endpoint.kind) {
    case 'signal':
      return `${endpoint.signal.id} of ${endpoint.message.id} (${endpoint.side})`;
    case 'message':
      return `the whole message ${endpoint.message.id} (${endpoint.side})`;
    case 'wire':
      return `wire ${endpoint.wire.id} (${endpoint.side})`;
  }
}

/** The short name a formula uses: the signal's or wire's own. */
export function symbolOf(pairing: Pairing, ref: string): string {
  const endpoint = pairing.find(ref);
  if (endpoint === null) return ref;
  switch (endpoint.kind) {
    case 'signal':
      return endpoint.signal.id;
    case 'message':
      return endpoint.message.id;
    case 'wire':
      return endpoint.wire.id;
  }
}
