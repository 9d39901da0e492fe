/**
 * The name under which each object is written. Names that the reader would read again are written as they are. All others (blank,
 * punctuation, a keyword, too long) get a short name of letters, digits and underscores, unique among its neighbours;
 * their true name then goes into the long-name attribute, so that it comes back on reading.
 */
import { classOf, DIGIT, isReadableName, WORD } from '../characters.ts';
import { KEYWORDS } from '../keywords.ts';
import { isKeyword } from '../read/scan.ts';
import type { DbcDatabase, DbcEnvironmentVariable, DbcMessage, DbcNode, DbcSignal, DbcValueTable } from '../model.ts';

export interface NamedObject {
  readonly name: string;
  readonly shortName: string;
}

export interface WrittenNames {
  readonly nodes: ReadonlyMap<DbcNode, string>;
  readonly messages: ReadonlyMap<DbcMessage, string>;
  readonly environmentVariables: ReadonlyMap<DbcEnvironmentVariable, string>;
  readonly valueTables: ReadonlyMap<DbcValueTable, string>;
  readonly signals: (message: DbcMessage) => ReadonlyMap<DbcSignal, string>;
  /** Written name of what a reference names; a name of nothing in the file is written as it is, as far as it can be. */
  readonly node: (name: string) => string;
  readonly environmentVariable: (name: string) => string;
  readonly signal: (message: DbcMessage | undefined, name: string) => string;
}

/** Chooses the written name of every object. Names longer than `maxLength` are shortened. */
export function chooseWrittenNames(database: DbcDatabase, maxLength: number): WrittenNames {
  const nodes = spellAll(database.nodes, maxLength, (name) => isKeyword(name) || name === 'VERSION');
  const messages = spellAll([...database.messages, ...database.independentSignals], maxLength, never);
  const environmentVariables = spellAll(database.environmentVariables, maxLength, (name, variable) => {
    return variable.states !== null && (classOf(name.charCodeAt(0)) & DIGIT) !== 0; // VAL_ would take it for a frame id
  });
  const tables = database.valueTables.map((table) => ({ name: table.name, shortName: table.name, table }));
  const tableNames = new Map([...spellAll(tables, maxLength, never)].map(([{ table }, name]) => [table, name]));
  const signalNames = new Map<DbcMessage, ReadonlyMap<DbcSignal, string>>();
  const references = new Map<DbcMessage, ReadonlyMap<string, string>>();
  const signals = (message: DbcMessage): ReadonlyMap<DbcSignal, string> => {
    let names = signalNames.get(message);
    if (names === undefined) signalNames.set(message, (names = spellAll(message.signals, maxLength, never)));
    return names;
  };
  const signal = (message: DbcMessage | undefined, name: string): string => {
    if (message === undefined) return spellReference(name);
    let byName = references.get(message);
    if (byName === undefined) references.set(message, (byName = referencesTo(signals(message))));
    return byName.get(name) ?? spellReference(name);
  };
  const nodesByName = referencesTo(nodes);
  const environmentByName = referencesTo(environmentVariables);
  return {
    nodes,
    messages,
    environmentVariables,
    valueTables: tableNames,
    signals,
    signal,
    node: (name) => nodesByName.get(name) ?? spellReference(name),
    environmentVariable: (name) => environmentByName.get(name) ?? spellReference(name),
  };
}

function never(): boolean {
  return false;
}

function referencesTo(names: ReadonlyMap<NamedObject, string>): Map<string, string> {
  const byName = new Map<string, string>();
  for (const [object, written] of names) if (!byName.has(object.name)) byName.set(object.name, written);
  return byName;
}

/** A name that refers to nothing in the file, as one word. */
export function spellReference(name: string): string {
  return isReadableName(name) ? name : plainName(name);
}

function spellAll<T extends NamedObject>(
  objects: readonly T[],
  maxLength: number,
  isMisread: (name: string, object: T) => boolean,
): Map<T, string> {
  const names = new Map<T, string>();
  const unspelt: T[] = [];
  for (const object of objects) {
    const { shortName } = object;
    if (shortName.length <= maxLength && isReadableName(shortName) && !isMisread(shortName, object))
      names.set(object, shortName);
    else {
      names.set(object, '');
      unspelt.push(object);
    }
  }
  if (unspelt.length === 0) return names;
  const taken = new Set(names.values());
  const next = new Map<string, number>();
  for (const object of unspelt) names.set(object, unique(plainName(object.shortName), maxLength, taken, next));
  return names;
}

function unique(plain: string, maxLength: number, taken: Set<string>, next: Map<string, number>): string {
  const limit = Math.max(Math.min(maxLength, 128), 8);
  const base = plain.slice(0, limit);
  let candidate = base;
  for (let n = next.get(base) ?? 0; taken.has(candidate) || KEYWORDS.has(candidate); n++) {
    const suffix = `_${String(n).padStart(4, '0')}`;
    candidate = base.slice(0, limit - suffix.length) + suffix;
    next.set(base, n + 1);
  }
  taken.add(candidate);
  return candidate;
}

/** `text` with everything but letters, digits and underscore replaced by an underscore. */
function plainName(text: string): string {
  let name = '';
  for (let i = 0; i < text.length; i++) name += (classOf(text.charCodeAt(i)) & WORD) !== 0 ? text[i] : '_';
  return name === '' || (classOf(name.charCodeAt(0)) & DIGIT) !== 0 ? `_${name}` : name;
}
