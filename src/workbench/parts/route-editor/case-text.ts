import type { Step } from '../../../model/index.ts';
import { parseExact } from '../../../number/index.ts';
import { readExact, readState, type Entry } from './entry.ts';

export type Case = NonNullable<Extract<Step, { do: 'choose-by' }>['otherwise']>;

/** A case as it is typed: `source 2`, `= 12.5`, or the name of a state. Sources are counted from 1. */
export function caseText(given: Case): string {
  if ('source' in given) return `source ${given.source + 1}`;
  return 'value' in given ? `= ${given.value}` : given.state;
}

/** Reads what `caseText` writes. */
export function readCase(text: string): Entry<Case> {
  const typed = text.trim();
  const source = /^source\s+(\d{1,2})$/i.exec(typed);
  if (source) {
    const index = Number(source[1]) - 1;
    return index >= 0 && index < 64
      ? { ok: true, value: { source: index } }
      : { ok: false, reason: 'sources are counted from 1' };
  }
  if (typed.startsWith('=') || parseExact(typed) !== null) {
    const value = readExact(typed.replace(/^=/, ''));
    return value.ok ? { ok: true, value: { value: value.value } } : value;
  }
  const state = readState(typed);
  return state.ok ? { ok: true, value: { state: state.value } } : state;
}
