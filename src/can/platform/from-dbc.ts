import { isId, type Message, type Module, type Signal } from '../../model/index.ts';
import { parseExact, toExact, type ExactNumber } from '../../number/index.ts';
import { findUnit } from '../../units/index.ts';
import {
  cycleTimeMs,
  isFdMessage,
  multiplexingOf,
  sendersOf,
  sendType,
  startValue,
  type DbcDatabase,
  type DbcMessage,
  type DbcNumber,
  type DbcSignal,
} from '../formats/dbc/index.ts';

/** What a DBC file says of one bus, in the platform's words. */
export interface DbcContent {
  readonly modules: readonly Module[];
  readonly messages: readonly Message[];
  /** What could not be taken over as it stands, and what was done instead. */
  readonly notes: readonly string[];
}

/** State texts that say "no value" or "the sender's value is wrong" (common practice). */
const NOT_AVAILABLE = /^(sna|n\/?a|not[ _-]?available|signal[ _-]?not[ _-]?available|invalid|unknown|undefined)$/i;
const ERROR = /^(error|err|fault|failure|signal[ _-]?error)$/i;

/** Names that stand in references have letters, digits, `_ - + /` only; others get `_` for each stray character. */
function idOf(name: string, taken: Set<string>, notes: string[]): string {
  let id = name.replace(/[^A-Za-z0-9_+/-]/g, '_').slice(0, 120);
  if (!isId(id)) id = `_${id}`.replace(/[^A-Za-z0-9_+/-]/g, '_');
  const base = id;
  for (let count = 2; taken.has(id); count += 1) id = `${base}_${count}`;
  taken.add(id);
  if (id !== name) notes.push(`"${name}" is named ${id} here`);
  return id;
}

function exactOf(number: DbcNumber): ExactNumber | null {
  const exact = parseExact(
    number.text
      .trim()
      .replace(/^\+/, '')
      .replace(/^(-?)\./, '$10.'),
  );
  if (exact !== null) return toExact(exact);
  return Number.isFinite(number.value) ? number.value : null;
}

function rawValue(raw: bigint): number | string {
  return raw >= -9007199254740991n && raw <= 9007199254740991n ? Number(raw) : raw.toString();
}

/** Converts what was read from a DBC file into modules and messages of a platform, on the bus named. */
export function contentOfDbc(database: DbcDatabase, busId: string): DbcContent {
  const notes: string[] = [];
  const nodeIds = new Map<string, string>();
  const takenModules = new Set<string>();
  const modules = database.nodes.map((node): Module => {
    const id = idOf(node.name, takenModules, notes);
    nodeIds.set(node.name, id);
    return {
      id,
      title: firstLine(node.comment) ?? node.name,
      buses: [busId],
      ...(node.comment === null ? {} : { note: node.comment }),
    };
  });
  const moduleOf = (name: string): string => {
    const known = nodeIds.get(name);
    if (known !== undefined) return known;
    const id = idOf(name, takenModules, notes);
    nodeIds.set(name, id);
    modules.push({ id, title: name, buses: [busId] });
    notes.push(`the node ${name} is used but not listed in the file; a module was added for it`);
    return id;
  };
  const taken = new Set<string>();
  const messages = database.messages.flatMap((message): Message[] => {
    const converted = messageOf(database, message, { busId, moduleOf, taken, notes });
    return converted ? [converted] : [];
  });
  return { modules, messages, notes };
}

interface Setting {
  readonly busId: string;
  readonly moduleOf: (name: string) => string;
  readonly taken: Set<string>;
  readonly notes: string[];
}

function firstLine(comment: string | null): string | null {
  const line = comment?.split(/\r?\n/)[0]?.trim() ?? '';
  return line === '' ? null : line.slice(0, 200);
}

const SEND_TYPES: readonly (readonly [RegExp, NonNullable<Message['send']>])[] = [
  [/cyclic.*(change|spont|event|active)/i, 'cyclic-and-on-change'],
  [/^cyclic/i, 'cyclic'],
  [/(change|spontan|event)/i, 'on-change'],
  [/request|none/i, 'on-request'],
];

function messageOf(database: DbcDatabase, message: DbcMessage, setting: Setting): Message | null {
  const { notes } = setting;
  if (message.frameId > (message.extended ? 0x1fffffff : 0x7ff)) {
    notes.push(
      `${message.name}: the frame id 0x${message.frameId.toString(16)} is out of range; the message was left out`,
    );
    return null;
  }
  const id = idOf(message.name, setting.taken, notes);
  const senders = sendersOf(message).map(setting.moduleOf);
  const cycleMs = cycleTimeMs(database, message);
  const send = sendType(database, message);
  const known = send === null ? undefined : SEND_TYPES.find(([pattern]) => pattern.test(send))?.[1];
  const names = new Set<string>();
  const ids = message.signals.map((signal) => idOf(signal.name, names, notes));
  return {
    id,
    ...(message.comment === null ? {} : { comment: message.comment }),
    bus: setting.busId,
    frameId: `0x${message.frameId.toString(16).toUpperCase()}`,
    idFormat: message.extended ? 'extended' : 'standard',
    ...(isFdMessage(database, message) ? { frameFormat: 'fd' as const } : {}),
    length: boundedLength(message, notes),
    sender: senders[0] ?? null,
    ...(senders.length > 1 ? { otherSenders: senders.slice(1) } : {}),
    ...(cycleMs === null ? {} : { cycleMs }),
    ...(known === undefined ? {} : { send: known }),
    signals: message.signals.flatMap((signal, index) => signalOf(database, message, signal, { index, ids }, setting)),
  };
}

function boundedLength(message: DbcMessage, notes: string[]): number {
  if (message.lengthBytes <= 64) return message.lengthBytes;
  notes.push(
    `${message.name}: ${message.lengthBytes} bytes are more than a frame holds; taken as 64 (transport layers are not described)`,
  );
  return 64;
}

function signalOf(
  database: DbcDatabase,
  message: DbcMessage,
  signal: DbcSignal,
  place: SignalPlace,
  { moduleOf, notes }: Setting,
): Signal[] {
  const where = `${message.name}.${signal.name}`;
  const [factor, offset] = [exactOf(signal.factor), exactOf(signal.offset)];
  if (signal.lengthBits < 1 || signal.lengthBits > 64 || signal.startBit < 0 || signal.startBit > 511) {
    notes.push(`${where}: a field of ${signal.lengthBits} bits at ${signal.startBit} is not one; it was left out`);
    return [];
  }
  if (factor === null || offset === null) {
    notes.push(`${where}: its factor or offset is not a number; it was left out`);
    return [];
  }
  const unit = unitOf(signal.unit, where, notes);
  const [min, max] = [exactOf(signal.min), exactOf(signal.max)];
  const hasRange = min !== null && max !== null && !(Number(min) === 0 && Number(max) === 0);
  const initial = startValue(database, signal);
  const selectors = selectionOf(message, place, where, notes);
  const readers = [...new Set(signal.receivers.map(moduleOf))];
  return [
    {
      id: place.ids[place.index]!,
      ...(signal.comment === null ? {} : { comment: signal.comment }),
      bits: { start: signal.startBit, length: signal.lengthBits, order: signal.order },
      number: signal.number === 'integer' ? (signal.signed ? 'signed' : 'unsigned') : signal.number,
      factor,
      offset,
      ...unit,
      ...(hasRange ? { range: [min, max] as [ExactNumber, ExactNumber] } : {}),
      ...(initial !== null && !initial.isDefault && isWhole(initial.raw)
        ? { initial: rawValue(BigInt(initial.raw)) }
        : {}),
      ...statesOf(signal),
      ...(signal.isMultiplexer ? { multiplexer: true } : {}),
      ...(selectors ? { multiplexed: selectors } : {}),
      ...(readers.length > 0 ? { readers } : {}),
    },
  ];
}

function isWhole(raw: bigint | number): boolean {
  return typeof raw === 'bigint' || Number.isInteger(raw);
}

function unitOf(text: string, where: string, notes: string[]): { unit: string; unitAsWritten?: string } {
  const found = findUnit(text);
  if (found)
    return found.unit.code === text || text === ''
      ? { unit: text === '' ? '' : found.unit.code }
      : { unit: found.unit.code, unitAsWritten: text.slice(0, 64) };
  if (text !== '') notes.push(`${where}: the unit "${text}" is not known; it is kept as written and never converted`);
  return { unit: text.slice(0, 64) };
}

function statesOf(signal: DbcSignal): Pick<Signal, 'states' | 'notAvailable' | 'error'> {
  if (signal.states === null || signal.states.length === 0) return {};
  const named = (pattern: RegExp): (number | string)[] =>
    signal.states!.filter(({ text }) => pattern.test(text.trim())).map(({ raw }) => rawValue(raw));
  const notAvailable = named(NOT_AVAILABLE);
  const error = named(ERROR);
  return {
    states: Object.fromEntries(signal.states.map(({ raw, text }) => [raw.toString(), text.slice(0, 500)])),
    ...(notAvailable.length > 0 ? { notAvailable } : {}),
    ...(error.length > 0 ? { error } : {}),
  };
}

/** Where a signal stands in its message, and the ids given to all of them. */
interface SignalPlace {
  readonly index: number;
  readonly ids: readonly string[];
}

function selectionOf(
  message: DbcMessage,
  { index, ids }: SignalPlace,
  where: string,
  notes: string[],
): Signal['multiplexed'] | null {
  const { selector, ranges, problem } = multiplexingOf(message)[index]!;
  if (problem !== null) notes.push(`${where}: its multiplexing is unclear (${problem})`);
  if (selector === null || ranges.length === 0 || problem === 'multiplexer-cycle') return null;
  return {
    by: ids[selector]!,
    on: ranges.map(({ from, to }) =>
      from === to ? rawValue(from) : ([rawValue(from), rawValue(to)] as [number | string, number | string]),
    ),
  };
}
