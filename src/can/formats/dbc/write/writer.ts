import { isReadableName } from '../characters.ts';
import { LONG_NAME_ATTRIBUTE } from '../long-names.ts';
import { NO_NODE } from '../keywords.ts';
import type {
  DbcAttributeDefinition,
  DbcAttributeObject,
  DbcAttributes,
  DbcAttributeValue,
  DbcDatabase,
  DbcEnvironmentVariable,
  DbcKeptStatement,
  DbcMessage,
  DbcRelationAttribute,
  DbcSignal,
} from '../model.ts';
import { UNREAD_MARK } from '../read/recovery.ts';
import { isKeyword } from '../read/scan.ts';
import {
  attributeStatement,
  attributeValueText,
  commentStatement,
  defaultStatement,
  definitionStatement,
  environmentSizeStatement,
  isRelation,
  limitText,
  multiplexingStatement,
  numberText,
  quotedText,
  statesStatement,
  statesText,
  transmittersStatement,
  valueTypeStatement,
  wholeText,
} from './statement-text.ts';
import { chooseWrittenNames, spellReference } from './written-names.ts';
import type { NamedObject, WrittenNames } from './written-names.ts';

export interface WriteDbcOptions {
  /** Default `\n`; give the `lineEnd` of the reading to keep it. */
  readonly lineEnd?: '\n' | '\r\n';
  /**
   * Names longer than this are written short, with the full name in the long-name attribute: 32 is what the format
   * promises. Default: no limit, names stay as they were read.
   */
  readonly maxNameLength?: number;
}

/** The output being built, with the objects that need a long-name attribute of the writer's own. */
interface Writing {
  readonly lines: string[];
  readonly names: WrittenNames;
  readonly byId: ReadonlyMap<number, DbcMessage>;
  readonly longNamesUsed: Set<DbcAttributeObject>;
}

/**
 * The text of a DBC file. Reading it gives a database deeply equal to `database`, if that came from reading; statements come in
 * the canonical order of the format. Any text is safe in any place: names that the format cannot spell are written short
 * with a long-name attribute, quotes are escaped. Throws RangeError for a number that no DBC file can hold.
 */
export function writeDbc(database: DbcDatabase, options: WriteDbcOptions = {}): string {
  const names = chooseWrittenNames(database, options.maxNameLength ?? Infinity);
  const byId = new Map<number, DbcMessage>();
  for (const message of allMessages(database)) if (!byId.has(message.id)) byId.set(message.id, message);
  const w: Writing = { lines: [], names, byId, longNamesUsed: new Set() };
  writeHeader(w, database);
  for (const message of allMessages(database)) writeMessage(w, message);
  writeMore(w, database);
  const text = `${w.lines.join('\n')}\n`;
  return options.lineEnd === '\r\n' ? text.replaceAll('\n', '\r\n') : text;
}

function allMessages(database: DbcDatabase): readonly DbcMessage[] {
  return database.independentSignals.length === 0
    ? database.messages
    : [...database.messages, ...database.independentSignals];
}

function linesOf(text: string): string[] {
  return (text.includes('\r') ? text.replace(/\r\n?/g, '\n') : text).split('\n');
}

function writeUnread(w: Writing, unread: string): void {
  if (unread === '') return;
  for (const line of linesOf(unread)) w.lines.push(line === '' ? UNREAD_MARK : `${UNREAD_MARK} ${line}`);
}

function writeHeader(w: Writing, database: DbcDatabase): void {
  for (const line of linesOf(database.remarks))
    if (line !== '') w.lines.push(line.startsWith('//') ? line : `// ${line}`);
  writeUnread(w, database.unread);
  w.lines.push(`VERSION ${quotedText(database.version)}`, '', '', 'NS_ :');
  for (const symbol of database.newSymbols) if (/^[A-Z0-9_]+$/.test(symbol)) w.lines.push(`\t${symbol}`);
  w.lines.push('', `BS_:${bitTimingText(database.bitTiming)}`, '');
  w.lines.push(['BU_:', ...w.names.nodes.values()].join(' '));
  for (const table of database.valueTables) {
    w.lines.push(`VAL_TABLE_ ${w.names.valueTables.get(table)} ${statesText(table.states)};`);
  }
  w.lines.push('', '');
}

function bitTimingText(timing: string): string {
  if (timing === '') return '';
  if (/[A-Za-z;\r\n]|\/\//.test(timing)) throw new RangeError(`${JSON.stringify(timing)} is no bit timing.`);
  return ` ${timing}`;
}

function writeMessage(w: Writing, message: DbcMessage): void {
  const { sender } = message;
  const senderName = sender === null ? NO_NODE : nodeInList(w, sender);
  const length = wholeText(message.lengthBytes, 'The length of a message');
  w.lines.push(`BO_ ${wholeText(message.id, 'A frame id')} ${w.names.messages.get(message)}: ${length} ${senderName}`);
  const names = w.names.signals(message);
  for (const signal of message.signals) w.lines.push(signalLine(w, signal, names.get(signal) as string));
  writeUnread(w, message.unread);
  w.lines.push('');
}

/** A node where a keyword would be taken for the next statement. */
function nodeInList(w: Writing, name: string): string {
  const written = w.names.node(name);
  return isKeyword(written) ? `${written}0` : written;
}

function signalLine(w: Writing, signal: DbcSignal, name: string): string {
  const start = wholeText(signal.startBit, 'A start bit');
  const length = wholeText(signal.lengthBits, 'The length of a signal');
  const layout = `${start}|${length}@${signal.order === 'little' ? 1 : 0}${signal.signed ? '-' : '+'}`;
  const scaling = `(${numberText(signal.factor)},${numberText(signal.offset)})`;
  const range = `[${limitText(signal.min)}|${limitText(signal.max)}]`;
  const receivers =
    signal.receivers.length === 0 ? NO_NODE : signal.receivers.map((node) => nodeInList(w, node)).join(',');
  return ` SG_ ${name}${multiplexIndicator(signal)} : ${layout} ${scaling} ${range} ${quotedText(signal.unit)} ${receivers}`;
}

function multiplexIndicator(signal: DbcSignal): string {
  const { multiplexValue, isMultiplexer } = signal;
  if (multiplexValue === null) return isMultiplexer ? ' M' : '';
  if (multiplexValue < 0n) throw new RangeError('A multiplex value cannot be negative.');
  return ` m${multiplexValue}${isMultiplexer ? 'M' : ''}`;
}

/** Everything after the messages. */
function writeMore(w: Writing, database: DbcDatabase): void {
  const messages = allMessages(database);
  // An overridden statement stands after what it refers to and before the one that overrides it.
  const superseded = database.kept.filter(({ reason }) => reason === 'superseded');
  const isOfSenders = ({ text }: DbcKeptStatement): boolean => text.startsWith('BO_TX_BU_');
  writeKept(w, superseded.filter(isOfSenders));
  for (const { id, transmitters } of messages) {
    if (transmitters.length > 0) w.lines.push(transmittersStatement(id, transmitters.map(w.names.node)));
  }
  for (const variable of database.environmentVariables) w.lines.push(environmentLine(w, variable));
  writeKept(
    w,
    superseded.filter((statement) => !isOfSenders(statement)),
  );
  for (const variable of database.environmentVariables) {
    if (variable.sizeBytes === null) continue;
    w.lines.push(environmentSizeStatement(w.names.environmentVariables.get(variable) as string, variable.sizeBytes));
  }
  const targets = attributeTargets(w, database);
  for (const { written, comment } of targets) if (comment !== null) w.lines.push(commentStatement(written, comment));
  const values = targets.flatMap((target) => attributeLines(w, target));
  writeDefinitions(w, database);
  for (const line of values) w.lines.push(line);
  for (const relation of database.relationAttributes) w.lines.push(relationLine(w, relation));
  for (const { states, written } of targets)
    if (states !== null) w.lines.push(statesStatement(written.slice(4), states));
  writeSignalDetails(w, messages);
  writeKept(
    w,
    database.kept.filter(({ reason }) => reason !== 'superseded'),
  );
}

function environmentLine(w: Writing, variable: DbcEnvironmentVariable): string {
  const name = w.names.environmentVariables.get(variable);
  const range = `[${limitText(variable.min)}|${limitText(variable.max)}]`;
  const access = isReadableName(variable.access) ? variable.access : spellReference(variable.access);
  const nodes = variable.nodes.length === 0 ? NO_NODE : variable.nodes.map(w.names.node).join(',');
  const id = wholeText(variable.id, 'The id of an environment variable');
  const type = wholeText(variable.type, 'The type of an environment variable');
  return `EV_ ${name}: ${type} ${range} ${quotedText(variable.unit)} ${numberText(variable.initial)} ${id} ${access} ${nodes};`;
}

/** An object that comments, attributes and states belong to, with the words that name it. */
interface AttributeTarget {
  readonly object: DbcAttributeObject;
  readonly written: string;
  readonly comment: string | null;
  readonly attributes: DbcAttributes;
  readonly states: DbcSignal['states'];
  /** The true name, when it is written otherwise. */
  readonly longName: string | null;
}

function attributeTargets(w: Writing, database: DbcDatabase): AttributeTarget[] {
  const targets: AttributeTarget[] = [
    { object: 'database', written: '', longName: null, states: null, ...said(database) },
  ];
  for (const [node, name] of w.names.nodes) {
    targets.push({
      object: 'node',
      written: `BU_ ${name}`,
      longName: longName(node, name),
      states: null,
      ...said(node),
    });
  }
  for (const [message, name] of w.names.messages) {
    targets.push({
      object: 'message',
      written: `BO_ ${message.id}`,
      longName: longName(message, name),
      states: null,
      ...said(message),
    });
    for (const [signal, signalName] of w.names.signals(message)) {
      const written = `SG_ ${message.id} ${signalName}`;
      targets.push({
        object: 'signal',
        written,
        longName: longName(signal, signalName),
        states: signal.states,
        ...said(signal),
      });
    }
  }
  for (const [variable, name] of w.names.environmentVariables) {
    const written = `EV_ ${name}`;
    const states = variable.states;
    targets.push({
      object: 'environment-variable',
      written,
      longName: longName(variable, name),
      states,
      ...said(variable),
    });
  }
  return targets;
}

function said(object: {
  readonly comment: string | null;
  readonly attributes: DbcAttributes;
}): Pick<AttributeTarget, 'comment' | 'attributes'> {
  return { comment: object.comment, attributes: object.attributes };
}

function longName(object: NamedObject, written: string): string | null {
  return object.name === written || object.name === '' ? null : object.name;
}

const LONG_NAME_BY_OBJECT: Partial<Record<DbcAttributeObject, string>> = {
  node: LONG_NAME_ATTRIBUTE.node,
  message: LONG_NAME_ATTRIBUTE.message,
  signal: LONG_NAME_ATTRIBUTE.signal,
  'environment-variable': LONG_NAME_ATTRIBUTE.environmentVariable,
};

function attributeLines(w: Writing, target: AttributeTarget): string[] {
  const lines: string[] = [];
  const longNameAttribute = LONG_NAME_BY_OBJECT[target.object];
  const isNeeded = target.longName !== null && longNameAttribute !== undefined;
  const isGiven = isNeeded && target.attributes.get(longNameAttribute) === target.longName;
  for (const [name, value] of target.attributes) {
    if (isNeeded && !isGiven && name === longNameAttribute) continue;
    lines.push(attributeStatement(name, target.written, value));
  }
  if (isNeeded && !isGiven) {
    w.longNamesUsed.add(target.object);
    lines.push(attributeStatement(longNameAttribute, target.written, target.longName as string));
  }
  return lines;
}

function writeDefinitions(w: Writing, database: DbcDatabase): void {
  const definitions: DbcAttributeDefinition[] = [...database.attributeDefinitions];
  for (const object of w.longNamesUsed) {
    const name = LONG_NAME_BY_OBJECT[object] as string;
    const isDefined = definitions.some((definition) => definition.object === object && definition.name === name);
    if (!isDefined) definitions.push({ name, object, type: { kind: 'text' }, defaultValue: '' });
  }
  for (const definition of definitions) w.lines.push(definitionStatement(definition));
  const written = new Set<string>();
  for (const definition of definitions) {
    if (definition.defaultValue === null) continue;
    const keyword = isRelation(definition.object) ? 'BA_DEF_DEF_REL_' : 'BA_DEF_DEF_';
    const line = defaultStatement(keyword, definition.name, definition.defaultValue);
    // One default serves every definition of its name.
    if (!written.has(line)) w.lines.push(line);
    written.add(line);
  }
}

function relationLine(w: Writing, relation: DbcRelationAttribute): string {
  const value: DbcAttributeValue = relation.value;
  const start = `BA_REL_ ${quotedText(relation.name)}`;
  const node = w.names.node(relation.node);
  const end = `${attributeValueText(value)};`;
  switch (relation.object) {
    case 'node-signal': {
      const signal = w.names.signal(w.byId.get(relation.messageId), relation.signal);
      return `${start} BU_SG_REL_ ${node} SG_ ${wholeText(relation.messageId, 'A frame id')} ${signal} ${end}`;
    }
    case 'node-message':
      return `${start} BU_BO_REL_ ${node} ${wholeText(relation.messageId, 'A frame id')} ${end}`;
    case 'node-environment-variable':
      return `${start} BU_EV_REL_ ${node} ${w.names.environmentVariable(relation.environmentVariable)} ${end}`;
  }
}

function writeSignalDetails(w: Writing, messages: readonly DbcMessage[]): void {
  for (const message of messages) {
    for (const group of message.signalGroups) {
      const signals = group.signals.map((name) => w.names.signal(message, name)).join(' ');
      const repetitions = wholeText(group.repetitions, 'The repetitions of a signal group');
      w.lines.push(`SIG_GROUP_ ${message.id} ${spellReference(group.name)} ${repetitions} : ${signals};`);
    }
  }
  for (const message of messages) {
    for (const [signal, name] of w.names.signals(message)) {
      if (signal.number !== 'integer') w.lines.push(valueTypeStatement(message.id, name, signal.number));
    }
  }
  for (const message of messages) {
    for (const [signal, name] of w.names.signals(message)) {
      const extended = signal.extendedMultiplexing;
      if (extended === null) continue;
      if (extended.ranges.length === 0 || extended.ranges.some(({ from, to }) => from < 0n || to < 0n)) {
        throw new RangeError(
          `The multiplexing of signal ${JSON.stringify(signal.name)} needs ranges of values from 0 on.`,
        );
      }
      const selector = w.names.signal(message, extended.selector);
      w.lines.push(multiplexingStatement(message.id, name, { selector, ranges: extended.ranges }));
    }
  }
}

function writeKept(w: Writing, statements: readonly DbcKeptStatement[]): void {
  for (const { text } of statements) w.lines.push(linesOf(text).join('\n'));
}
