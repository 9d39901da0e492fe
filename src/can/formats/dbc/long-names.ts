/**
 * Long names. The format allows 32 characters a name; longer ones are written short, and the full name stands in an
 * attribute of the object. Applied after reading: `name` and every reference become the long name, `shortName` stays.
 */
import { quoted } from './faults.ts';
import type { DbcAttributes } from './model.ts';
import { report } from './read/reading.ts';
import type { MessageEntry, Reading } from './read/reading.ts';

export const LONG_NAME_ATTRIBUTE = {
  node: 'SystemNodeLongSymbol',
  message: 'SystemMessageLongSymbol',
  signal: 'SystemSignalLongSymbol',
  environmentVariable: 'SystemEnvVarLongSymbol',
} as const;

export const LONG_NAME_ATTRIBUTES: ReadonlySet<string> = new Set(Object.values(LONG_NAME_ATTRIBUTE));

interface Named {
  name: string;
  readonly shortName: string;
  readonly attributes: DbcAttributes;
}

/** Applies the long names of the file to its objects and to all references between them. */
export function applyLongNames(r: Reading): void {
  if (!r.hasLongNames) return;
  const nodeNames = rename(r, r.nodes, r.nodeOffsets, LONG_NAME_ATTRIBUTE.node);
  const messages = r.entries.map((entry) => entry.message);
  const messageOffsets = r.entries.map((entry) => entry.offset);
  rename(r, messages, messageOffsets, LONG_NAME_ATTRIBUTE.message);
  const environmentNames = rename(
    r,
    r.environmentVariables,
    r.environmentOffsets,
    LONG_NAME_ATTRIBUTE.environmentVariable,
  );
  const signalNamesById = new Map<number, ReadonlyMap<string, string>>();
  for (const { message, signalOffsets } of r.entries) {
    const signalNames = rename(r, message.signals, signalOffsets, LONG_NAME_ATTRIBUTE.signal);
    if (signalNames.size > 0 && r.entriesById.get(message.id)?.message === message)
      signalNamesById.set(message.id, signalNames);
    renameInMessage(message, nodeNames, signalNames);
  }
  for (const variable of r.environmentVariables) variable.nodes = renamed(variable.nodes, nodeNames);
  for (const relation of r.relationAttributes) {
    relation.node = nodeNames.get(relation.node) ?? relation.node;
    if (relation.object === 'node-signal') {
      relation.signal = signalNamesById.get(relation.messageId)?.get(relation.signal) ?? relation.signal;
    } else if (relation.object === 'node-environment-variable') {
      relation.environmentVariable = environmentNames.get(relation.environmentVariable) ?? relation.environmentVariable;
    }
  }
}

/** Gives each object its long name, if it has one that is not taken; returns short name → long name. */
function rename(
  r: Reading,
  objects: readonly Named[],
  offsets: readonly number[],
  attribute: string,
): Map<string, string> {
  const names = new Map<string, string>();
  let taken: Set<string> | null = null;
  for (const [index, object] of objects.entries()) {
    const long = object.attributes.get(attribute);
    if (typeof long !== 'string' || long === '' || long === object.shortName) continue;
    taken ??= new Set(objects.map((other) => other.shortName));
    if (taken.has(long)) {
      report(r, 'long-name-repeated', offsets[index] ?? 0, quoted(long), quoted(object.shortName));
      continue;
    }
    taken.add(long);
    object.name = long;
    names.set(object.shortName, long); // of a repeated short name, only the first object carries attributes
  }
  return names;
}

function renameInMessage(
  message: MessageEntry['message'],
  nodeNames: ReadonlyMap<string, string>,
  signalNames: ReadonlyMap<string, string>,
): void {
  if (message.sender !== null) message.sender = nodeNames.get(message.sender) ?? message.sender;
  message.transmitters = renamed(message.transmitters, nodeNames);
  for (const signal of message.signals) {
    signal.receivers = renamed(signal.receivers, nodeNames);
    const extended = signal.extendedMultiplexing;
    const selector = extended === null ? undefined : signalNames.get(extended.selector);
    if (extended !== null && selector !== undefined)
      signal.extendedMultiplexing = { selector, ranges: extended.ranges };
  }
  if (signalNames.size === 0) return;
  for (const group of message.signalGroups)
    (group as { signals: readonly string[] }).signals = renamed(group.signals, signalNames);
}

function renamed(names: readonly string[], byName: ReadonlyMap<string, string>): readonly string[] {
  if (byName.size === 0 || !names.some((name) => byName.has(name))) return names;
  return names.map((name) => byName.get(name) ?? name);
}
