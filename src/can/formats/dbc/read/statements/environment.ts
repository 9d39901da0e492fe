import { quoted } from '../../faults.ts';
import { NO_NODE } from '../../keywords.ts';
import { NO_ATTRIBUTES, type DbcEnvironmentVariable, type Mutable } from '../../model.ts';
import { environmentSizeStatement } from '../../write/statement-text.ts';
import {
  close,
  COLON,
  COMMA,
  isKeyword,
  startsLine,
  take,
  takeLimit,
  takeName,
  takeNumber,
  takeText,
  takeWhole,
} from '../scan.ts';
import { fail, missing, report, supersede } from '../reading.ts';
import type { Outcome, Reading } from '../reading.ts';
import { noteNode } from './messages.ts';

const OPEN_SQUARE = 0x5b;
const SHUT_SQUARE = 0x5d;
const PIPE = 0x7c;

/** `EV_ Name: type [min|max] "unit" initial id access Node,Node;` */
export function readEnvironmentVariable(r: Reading): Outcome {
  const name = takeName(r);
  const at = r.pos - name.length;
  if (name === '') return fail(r, at, 'the name of the environment variable');
  if (r.unusualName) report(r, 'name-unusual', at, quoted(name));
  if (!take(r, COLON)) return fail(r, r.pos, 'a colon');
  const type = takeWhole(r);
  if (type < 0) return fail(r, r.pos, 'the type 0, 1 or 2');
  if (!take(r, OPEN_SQUARE)) return fail(r, r.pos, '[ before the minimum');
  const min = takeLimit(r);
  if (min === null) return fail(r, r.pos, 'the minimum');
  if (!take(r, PIPE)) return fail(r, r.pos, '| between minimum and maximum');
  const max = takeLimit(r);
  if (max === null) return fail(r, r.pos, 'the maximum');
  if (!take(r, SHUT_SQUARE)) return fail(r, r.pos, '] after the maximum');
  const unit = takeText(r);
  if (unit === null) return 'failed';
  const initial = takeNumber(r);
  if (initial === null) return fail(r, r.pos, 'the initial value');
  const id = takeWhole(r);
  if (id < 0) return fail(r, r.pos, 'the id of the variable');
  const access = takeName(r);
  if (access === '') return fail(r, r.pos, 'the access type');
  const nodes = takeNodes(r, name);
  if (close(r) === 'failed') return 'failed';

  const variable: Mutable<DbcEnvironmentVariable> = {
    name,
    shortName: name,
    type,
    min,
    max,
    unit,
    initial,
    id,
    access,
    nodes,
    sizeBytes: null,
    comment: null,
    states: null,
    attributes: NO_ATTRIBUTES,
  };
  r.partsLeft--;
  r.environmentVariables.push(variable);
  r.environmentOffsets.push(at);
  if (r.environmentByName.has(name)) report(r, 'environment-variable-repeated', at, quoted(name));
  else r.environmentByName.set(name, variable);
  return 'read';
}

function takeNodes(r: Reading, by: string): string[] {
  const nodes: string[] = [];
  for (;;) {
    const name = takeName(r);
    const at = r.pos - name.length;
    if (name === '') {
      if (take(r, COMMA)) continue;
      return nodes;
    }
    if (isKeyword(name) && startsLine(r.text, at)) {
      r.pos = at;
      return nodes;
    }
    if (--r.partsLeft < 0) return nodes;
    if (name === NO_NODE) continue;
    noteNode(r, name, at, by);
    nodes.push(name);
  }
}

/** `ENVVAR_DATA_ Name: size;` */
export function readEnvironmentSize(r: Reading): Outcome {
  const name = takeName(r);
  const at = r.pos - name.length;
  if (name === '') return fail(r, at, 'the name of an environment variable');
  if (!take(r, COLON)) return fail(r, r.pos, 'a colon');
  const sizeBytes = takeWhole(r);
  if (sizeBytes < 0) return fail(r, r.pos, 'the size in bytes');
  if (close(r) === 'failed') return 'failed';
  const variable = r.environmentByName.get(name);
  if (variable === undefined) return missing(r, 'environment-variable-unknown', quoted(name), at);
  if (variable.sizeBytes !== null)
    supersede(r, environmentSizeStatement(name, variable.sizeBytes), at, `the size of ${name}`);
  variable.sizeBytes = sizeBytes;
  return 'read';
}
