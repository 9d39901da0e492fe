import { classOf, DIGIT } from '../../characters.ts';
import type { DbcState } from '../../model.ts';
import { quoted } from '../../faults.ts';
import { statesStatement } from '../../write/statement-text.ts';
import {
  close,
  keywordAt,
  SEMICOLON,
  skipBlank,
  startsLine,
  takeBigWhole,
  takeName,
  takeText,
  takeWhole,
} from '../scan.ts';
import { fail, findSignal, missing, report, supersede } from '../reading.ts';
import type { Outcome, Reading } from '../reading.ts';

/** `VAL_TABLE_ Name raw "text" … ;` */
export function readValueTable(r: Reading): Outcome {
  const name = takeName(r);
  const at = r.pos - name.length;
  if (name === '') return fail(r, at, 'the name of the value table');
  if (r.unusualName) report(r, 'name-unusual', at, quoted(name));
  const states = takeStates(r, name);
  if (states === null) return 'failed';
  if (r.valueTableNames.has(name)) report(r, 'value-table-repeated', at, quoted(name));
  r.valueTableNames.add(name);
  r.valueTables.push({ name, states });
  r.partsLeft--;
  return 'read';
}

/** `VAL_ id Signal raw "text" … ;` or `VAL_ EnvironmentVariable raw "text" … ;` */
export function readStates(r: Reading): Outcome {
  skipBlank(r);
  const at = r.pos;
  if ((classOf(r.text.charCodeAt(at)) & DIGIT) === 0) return readEnvironmentStates(r);
  const id = takeWhole(r);
  const name = takeName(r);
  const nameAt = r.pos - name.length;
  if (id < 0 || name === '') return fail(r, at, 'a frame id and the name of a signal');
  const states = takeStates(r, name);
  if (states === null) return 'failed';
  const entry = r.entriesById.get(id);
  if (entry === undefined) return missing(r, 'message-unknown', String(id), at);
  const signal = findSignal(entry, name);
  if (signal === undefined) return missing(r, 'signal-unknown', quoted(name), nameAt);
  if (signal.states !== null)
    supersede(r, statesStatement(`${id} ${name}`, signal.states), at, `the states of ${name}`);
  signal.states = states;
  return 'read';
}

function readEnvironmentStates(r: Reading): Outcome {
  const name = takeName(r);
  const at = r.pos - name.length;
  if (name === '') return fail(r, at, 'a frame id or the name of an environment variable');
  const states = takeStates(r, name);
  if (states === null) return 'failed';
  const variable = r.environmentByName.get(name);
  if (variable === undefined) return missing(r, 'environment-variable-unknown', quoted(name), at);
  if (variable.states !== null) supersede(r, statesStatement(name, variable.states), at, `the states of ${name}`);
  variable.states = states;
  return 'read';
}

/** Pairs of raw value and text up to the semicolon; `null` (and the failure noted) when one cannot be read. */
function takeStates(r: Reading, owner: string): DbcState[] | null {
  const states: DbcState[] = [];
  let seen: Set<bigint> | null = null;
  for (;;) {
    skipBlank(r);
    const at = r.pos;
    if (r.text.charCodeAt(at) === SEMICOLON || at >= r.end || (keywordAt(r.text, at) !== '' && startsLine(r.text, at)))
      break;
    const raw = takeBigWhole(r);
    if (raw === null) {
      fail(r, at, 'a whole raw value');
      return null;
    }
    const text = takeText(r);
    if (text === null) return null;
    if (--r.partsLeft < 0) break;
    if (states.length === 0) states.push({ raw, text });
    else {
      if (seen === null) seen = new Set(states.map((state) => state.raw));
      if (seen.has(raw)) report(r, 'state-repeated', at, String(raw), owner);
      seen.add(raw);
      states.push({ raw, text });
    }
  }
  return close(r) === 'read' ? states : null;
}
