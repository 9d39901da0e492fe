import { Exact, Id, Positive, Title, ValueRef, type Route, Route as RouteSchema } from '../../../model/index.ts';
import { parseExact, type ExactNumber } from '../../../number/index.ts';
import { findUnit } from '../../../units/index.ts';

/** What was typed, as a value of the document, or why it cannot be taken. */
export type Entry<T> = { readonly ok: true; readonly value: T } | { readonly ok: false; readonly reason: string };

const taken = <T>(value: T): Entry<T> => ({ ok: true, value });
const refused = (reason: string): Entry<never> => ({ ok: false, reason });

/** A number kept exactly as typed: a JSON number where that says the same, else the text ("1/3", many digits). */
export function readExact(text: string): Entry<ExactNumber> {
  const typed = text.trim().replace('−', '-').replace(',', '.');
  if (typed === '') return refused('a number is needed here');
  if (parseExact(typed) === null || !Exact.safeParse(typed).success)
    return refused('write a decimal such as 0.25, or a fraction such as 1/3');
  const plain = Number(typed);
  const exact = parseExact(typed)!;
  const same = Number.isFinite(plain) ? parseExact(plain) : null;
  return taken(same !== null && same.num === exact.num && same.den === exact.den ? plain : typed);
}

/** Milliseconds above zero; `least` 0 takes zero too. */
export function readMs(text: string, least: 'above-zero' | 'zero'): Entry<number> {
  const typed = text.trim().replace(',', '.');
  const value = Number(typed);
  if (typed === '' || !Number.isFinite(value)) return refused('write a time in milliseconds, such as 100');
  if (least === 'zero' ? value < 0 : !Positive.safeParse(value).success)
    return refused(least === 'zero' ? 'a time is not below zero' : 'a time is above zero');
  return taken(value);
}

/** A whole number within its ends. */
export function readWhole(text: string, low: number, high: number): Entry<number> {
  const value = Number(text.trim());
  return text.trim() !== '' && Number.isInteger(value) && value >= low && value <= high
    ? taken(value)
    : refused(`write a whole number from ${low} to ${high}`);
}

/** A unit known here, by its code or a spelling found in databases; '' is the bare number. */
export function readUnit(text: string): Entry<string> {
  const typed = text.trim();
  if (typed === '' || typed === '1') return taken(typed);
  const found = findUnit(typed);
  return found
    ? taken(found.unit.code)
    : refused(`"${typed.slice(0, 40)}" is no unit known here: write km/h, {rev}/min, Cel, kPa, %`);
}

/** The name of a state: any text that is not empty. */
export function readState(text: string): Entry<string> {
  const typed = text.trim();
  if (typed === '') return refused('a state has a name');
  return Title.safeParse(typed).success ? taken(typed) : refused('a state name has at most 500 characters');
}

export function readId(text: string): Entry<string> {
  const result = Id.safeParse(text.trim());
  return result.success ? taken(result.data) : refused(result.error.issues[0]!.message);
}

export function readRef(text: string): Entry<string> {
  const result = ValueRef.safeParse(text.trim());
  return result.success ? taken(result.data) : refused(result.error.issues[0]!.message);
}

/** Why a route cannot stand in a map; null when it can. */
export function routeFault(route: Route): string | null {
  const result = RouteSchema.safeParse(route);
  if (result.success) return null;
  const issue = result.error.issues[0]!;
  return `${issue.path.map(String).join('.') || 'route'}: ${issue.message}`;
}
