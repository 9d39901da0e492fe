import { quoted } from '../../faults.ts';
import { LONG_NAME_ATTRIBUTES } from '../../long-names.ts';
import type {
  DbcAttributeDefinition,
  DbcAttributeObject,
  DbcAttributeType,
  DbcAttributeValue,
  DbcNumber,
  Mutable,
} from '../../model.ts';
import { attributeStatement, defaultStatement, definitionStatement, isRelation } from '../../write/statement-text.ts';
import {
  close,
  COMMA,
  keywordAt,
  QUOTE,
  SEMICOLON,
  skipBlank,
  startsLine,
  take,
  takeLimit,
  takeName,
  takeNumber,
  takeText,
} from '../scan.ts';
import { fail, report, setAttribute, supersede } from '../reading.ts';
import type { Outcome, Reading } from '../reading.ts';
import { takeTarget } from './targets.ts';

const OBJECTS: ReadonlyMap<string, DbcAttributeObject> = new Map([
  ['BU_', 'node'],
  ['BO_', 'message'],
  ['SG_', 'signal'],
  ['EV_', 'environment-variable'],
] as const);

const RELATIONS: ReadonlyMap<string, DbcAttributeObject> = new Map([
  ['BU_SG_REL_', 'node-signal'],
  ['BU_BO_REL_', 'node-message'],
  ['BU_EV_REL_', 'node-environment-variable'],
] as const);

/** Key of a definition: an attribute name may be defined once for each kind of object. */
export function definitionKey(object: DbcAttributeObject, name: string): string {
  return `${object} ${name}`;
}

/** `BA_DEF_ [BU_|BO_|SG_|EV_] "Name" INT min max;` and the other types. */
export function readDefinition(r: Reading): Outcome {
  skipBlank(r);
  let object: DbcAttributeObject = 'database';
  if (r.text.charCodeAt(r.pos) !== QUOTE) {
    const at = r.pos;
    const found = OBJECTS.get(takeName(r));
    if (found === undefined) return fail(r, at, 'BU_, BO_, SG_, EV_ or the name of the attribute in quotes');
    object = found;
  }
  return readDefinitionOf(r, object);
}

/** `BA_DEF_REL_ BU_SG_REL_ "Name" INT min max;` and the other relations and types. */
export function readRelationDefinition(r: Reading): Outcome {
  skipBlank(r);
  const at = r.pos;
  const object = RELATIONS.get(takeName(r));
  if (object === undefined) return fail(r, at, 'BU_SG_REL_, BU_BO_REL_ or BU_EV_REL_');
  return readDefinitionOf(r, object);
}

function readDefinitionOf(r: Reading, object: DbcAttributeObject): Outcome {
  const name = takeText(r);
  if (name === null) return 'failed';
  const at = r.pos;
  const type = takeType(r);
  if (type === null || close(r) === 'failed') return 'failed';
  const key = definitionKey(object, name);
  const before = r.definitions.get(key);
  const definition: Mutable<DbcAttributeDefinition> = {
    name,
    object,
    type,
    defaultValue: null,
  };
  if (before !== undefined) {
    supersede(r, definitionStatement(before), at, `the definition of attribute ${quoted(name)}`);
    r.definitions.delete(key);
  }
  r.partsLeft--;
  r.definitions.set(key, definition);
  return 'read';
}

function takeType(r: Reading): DbcAttributeType | null {
  skipBlank(r);
  const at = r.pos;
  const word = takeName(r);
  switch (word) {
    case 'INT':
      return { kind: 'integer', ...takeLimits(r) };
    case 'HEX':
      return { kind: 'hex', ...takeLimits(r) };
    case 'FLOAT':
      return { kind: 'float', ...takeLimits(r) };
    case 'STRING':
      return { kind: 'text' };
    case 'ENUM':
      return takeChoices(r);
    default:
      fail(r, at, 'INT, HEX, FLOAT, STRING or ENUM');
      return null;
  }
}

function takeLimits(r: Reading): { min: DbcNumber | null; max: DbcNumber | null } {
  const min = takeLimitIfAny(r);
  return { min, max: min === null ? null : takeLimitIfAny(r) };
}

function takeLimitIfAny(r: Reading): DbcNumber | null {
  skipBlank(r);
  if (r.text.charCodeAt(r.pos) === SEMICOLON) return null;
  if (keywordAt(r.text, r.pos) !== '' && startsLine(r.text, r.pos)) return null;
  return takeLimit(r);
}

function takeChoices(r: Reading): DbcAttributeType | null {
  const choices: string[] = [];
  for (;;) {
    skipBlank(r);
    if (r.text.charCodeAt(r.pos) !== QUOTE) break;
    const choice = takeText(r);
    if (choice === null) return null;
    if (--r.partsLeft < 0) break;
    choices.push(choice);
    take(r, COMMA);
  }
  return { kind: 'enumeration', choices };
}

/** `BA_DEF_DEF_ "Name" value;`: the default of every definition of that name. */
export function readDefault(r: Reading): Outcome {
  return readDefaultInto(r, r.defaults);
}

/** `BA_DEF_DEF_REL_ "Name" value;` */
export function readRelationDefault(r: Reading): Outcome {
  return readDefaultInto(r, r.relationDefaults);
}

function readDefaultInto(r: Reading, defaults: Reading['defaults']): Outcome {
  skipBlank(r);
  const offset = r.pos;
  const name = takeText(r);
  if (name === null) return 'failed';
  const value = takeAttributeValue(r);
  if (value === null || close(r) === 'failed') return 'failed';
  const before = defaults.get(name);
  if (before !== undefined) {
    supersede(r, defaultStatement(r.keyword, name, before.value), offset, `the default of attribute ${quoted(name)}`);
    defaults.delete(name);
  }
  r.partsLeft--;
  defaults.set(name, { value, offset });
  return 'read';
}

/** Gives every definition the default of its name, whichever of the two stands first; keeps the defaults of no definition. */
export function applyDefaults(r: Reading): void {
  const used = new Set<string>();
  const usedByRelation = new Set<string>();
  for (const definition of r.definitions.values()) {
    const ofRelation = isRelation(definition.object);
    definition.defaultValue = (ofRelation ? r.relationDefaults : r.defaults).get(definition.name)?.value ?? null;
    (ofRelation ? usedByRelation : used).add(definition.name);
  }
  keepUnused(r, 'BA_DEF_DEF_', r.defaults, used);
  keepUnused(r, 'BA_DEF_DEF_REL_', r.relationDefaults, usedByRelation);
}

function keepUnused(r: Reading, keyword: string, defaults: Reading['defaults'], used: ReadonlySet<string>): void {
  for (const [name, { value, offset }] of defaults) {
    if (used.has(name)) continue;
    report(r, 'attribute-default-unattached', offset, quoted(name));
    r.kept.push({ reason: 'unattached', text: defaultStatement(keyword, name, value) });
  }
}

/** A text in quotes or a number; `null` (and the failure noted) when it is neither. */
export function takeAttributeValue(r: Reading): DbcAttributeValue | null {
  skipBlank(r);
  if (r.text.charCodeAt(r.pos) === QUOTE) return takeText(r);
  const number = takeNumber(r);
  if (number === null) fail(r, r.pos, 'a number or a text in quotes');
  return number;
}

/** `BA_ "Name" [BU_ Node | BO_ id | SG_ id Signal | EV_ Name] value;` */
export function readAttribute(r: Reading): Outcome {
  const name = takeText(r);
  if (name === null) return 'failed';
  const target = takeTarget(r);
  if (target === null) return 'failed';
  const value = takeAttributeValue(r);
  if (value === null || close(r) === 'failed') return 'failed';
  const { owner } = target;
  if (owner === null) return 'missing';
  const before = setAttribute(owner, name, value);
  r.partsLeft--;
  if (before !== undefined) {
    const what = `attribute ${quoted(name)} of ${target.written || 'the file'}`;
    supersede(r, attributeStatement(name, target.written, before), target.at, what);
  }
  noteUndefined(r, target.object, name, target.at);
  if (LONG_NAME_ATTRIBUTES.has(name)) r.hasLongNames = true;
  return 'read';
}

/** Remembers a value whose definition has not been read so far; they are looked at again at the end. */
export function noteUndefined(r: Reading, object: DbcAttributeObject, name: string, at: number): void {
  const key = definitionKey(object, name);
  if (!r.definitions.has(key) && !r.undefinedAttributes.has(key)) r.undefinedAttributes.set(key, { name, offset: at });
}
