/** The object that a comment or an attribute value belongs to: `BU_ Node`, `BO_ id`, `SG_ id Signal`, `EV_ Name` or nothing. */
import { classOf, NAME } from '../../characters.ts';
import { quoted } from '../../faults.ts';
import type { DbcAttributeObject, DbcAttributes } from '../../model.ts';
import { keywordAt, skipBlank, takeName, takeWhole } from '../scan.ts';
import { fail, findSignal, missing } from '../reading.ts';
import type { Reading } from '../reading.ts';

export interface Target {
  readonly object: DbcAttributeObject;
  /** `BO_ 5` and the like; empty for the database. */
  readonly written: string;
  readonly at: number;
  /** `null` when the file does not define it (then `missing` is noted). */
  readonly owner: { comment: string | null; attributes: DbcAttributes } | null;
}

/** Reads the target; `null` (and the failure noted) when it cannot be read. */
export function takeTarget(r: Reading): Target | null {
  skipBlank(r);
  const at = r.pos;
  const first = r.text.charCodeAt(at);
  // B, S, E: the first letters of BU_, BO_, SG_, EV_
  const keyword = first === 0x42 || first === 0x53 || first === 0x45 ? keywordAt(r.text, at) : '';
  switch (keyword) {
    case 'BU_':
      r.pos += 3;
      return nodeTarget(r);
    case 'BO_':
      r.pos += 3;
      return messageTarget(r);
    case 'SG_':
      r.pos += 3;
      return signalTarget(r);
    case 'EV_':
      r.pos += 3;
      return environmentTarget(r);
    default:
      return { object: 'database', written: '', at, owner: r };
  }
}

function nodeTarget(r: Reading): Target | null {
  const name = takeName(r);
  const at = r.pos - name.length;
  if (name === '') return failed(r, at, 'the name of a node');
  const owner = r.nodesByName.get(name) ?? null;
  if (owner === null) missing(r, 'node-unknown', quoted(name), at);
  return { object: 'node', written: `BU_ ${name}`, at, owner };
}

function messageTarget(r: Reading): Target | null {
  skipBlank(r);
  const at = r.pos;
  const id = takeWhole(r);
  if (id < 0) return failed(r, at, 'a frame id');
  const owner = r.entriesById.get(id)?.message ?? null;
  if (owner === null) missing(r, 'message-unknown', String(id), at);
  return { object: 'message', written: `BO_ ${id}`, at, owner };
}

function signalTarget(r: Reading): Target | null {
  skipBlank(r);
  const at = r.pos;
  const id = takeWhole(r);
  if (id < 0 || (classOf(r.text.charCodeAt(r.pos)) & NAME) !== 0) return failed(r, at, 'a frame id');
  const name = takeName(r);
  const nameAt = r.pos - name.length;
  if (name === '') return failed(r, nameAt, 'the name of a signal');
  const written = `SG_ ${id} ${name}`;
  const entry = r.entriesById.get(id);
  if (entry === undefined) {
    missing(r, 'message-unknown', String(id), at);
    return { object: 'signal', written, at, owner: null };
  }
  const owner = findSignal(entry, name) ?? null;
  if (owner === null) missing(r, 'signal-unknown', quoted(name), nameAt);
  return { object: 'signal', written, at: nameAt, owner };
}

function environmentTarget(r: Reading): Target | null {
  const name = takeName(r);
  const at = r.pos - name.length;
  if (name === '') return failed(r, at, 'the name of an environment variable');
  const owner = r.environmentByName.get(name) ?? null;
  if (owner === null) missing(r, 'environment-variable-unknown', quoted(name), at);
  return { object: 'environment-variable', written: `EV_ ${name}`, at, owner };
}

function failed(r: Reading, at: number, expected: string): null {
  fail(r, at, expected);
  return null;
}
