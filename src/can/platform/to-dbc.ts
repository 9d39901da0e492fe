import type { Message, Platform, Signal } from '../../model/index.ts';
import { parseExact, toNumber, type ExactNumber } from '../../number/index.ts';
import {
  createDatabase,
  createMessage,
  createNode,
  createSignal,
  dbcNumber,
  type DbcAttributeDefinition,
  type DbcAttributeValue,
  type DbcDatabase,
  type DbcMessage,
  type DbcNumber,
  type DbcSelectorRange,
  type DbcSignal,
} from '../formats/dbc/index.ts';

const definition = (
  name: string,
  object: DbcAttributeDefinition['object'],
  type: DbcAttributeDefinition['type'],
  defaultValue: DbcAttributeValue,
): DbcAttributeDefinition => ({ name, object, type, defaultValue });

const SEND_TYPES = ['NotSpecified', 'Cyclic', 'OnChange', 'CyclicAndOnChange', 'OnRequest'] as const;
const FRAME_FORMATS = [
  'StandardCAN',
  'ExtendedCAN',
  ...Array.from({ length: 12 }, (_, at) => `reserved${at + 2}`),
  'StandardCAN_FD',
  'ExtendedCAN_FD',
] as const;
const SEND_INDEX: Readonly<Record<NonNullable<Message['send']>, number>> = {
  cyclic: 1,
  'on-change': 2,
  'cyclic-and-on-change': 3,
  'on-request': 4,
};

const ATTRIBUTES: readonly DbcAttributeDefinition[] = [
  definition('BusType', 'database', { kind: 'text' }, 'CAN'),
  definition('DBName', 'database', { kind: 'text' }, ''),
  definition(
    'GenMsgCycleTime',
    'message',
    { kind: 'integer', min: dbcNumber(0), max: dbcNumber(3600000) },
    dbcNumber(0),
  ),
  definition('GenMsgSendType', 'message', { kind: 'enumeration', choices: SEND_TYPES }, 'NotSpecified'),
  definition('VFrameFormat', 'message', { kind: 'enumeration', choices: FRAME_FORMATS }, 'StandardCAN'),
  definition('GenSigStartValue', 'signal', { kind: 'float', min: dbcNumber(0), max: dbcNumber(0) }, dbcNumber(0)),
];

/** An exact number as decimal text; a fraction that has none is given to 17 digits, the nearest double. */
function decimal(value: ExactNumber): DbcNumber {
  const exact = parseExact(value)!;
  const text = String(value);
  return text.includes('/') ? dbcNumber(toNumber(exact)) : dbcNumber(text);
}

/** What a DBC file can say of one bus of a platform; `messages` limits it to those named. */
export function dbcOfPlatform(platform: Platform, busId: string, messages?: ReadonlySet<string>): DbcDatabase {
  const bus = platform.buses.find(({ id }) => id === busId);
  const own = platform.messages.filter(
    (message) => message.bus === busId && (messages === undefined || messages.has(message.id)),
  );
  const used = new Set(
    own.flatMap((message) => [
      message.sender,
      ...(message.otherSenders ?? []),
      ...message.signals.flatMap(({ readers }) => readers ?? message.readers ?? []),
    ]),
  );
  const nodes = platform.modules
    .filter(({ id, buses }) => used.has(id) || (messages === undefined && buses?.includes(busId)))
    .map(({ id, title }) => createNode(id, { comment: title === id ? null : title }));
  const kind = bus?.kind === 'can-fd' ? 'CAN FD' : 'CAN';
  return createDatabase({
    version: platform.id,
    nodes,
    messages: own.map(dbcMessage),
    comment: `${platform.title}: ${bus?.title ?? busId}`,
    attributes: new Map<string, DbcAttributeValue>([
      ['BusType', kind],
      ['DBName', busId],
    ]),
    attributeDefinitions: ATTRIBUTES,
  });
}

/** One message as a DBC file says it. */
export function dbcMessage(message: Message): DbcMessage {
  const extended = message.idFormat === 'extended';
  const format = (message.frameFormat === 'fd' ? 14 : 0) + (extended ? 1 : 0);
  const attributes = new Map<string, DbcAttributeValue>();
  if (message.cycleMs !== undefined) attributes.set('GenMsgCycleTime', dbcNumber(Math.round(message.cycleMs)));
  if (message.send !== undefined) attributes.set('GenMsgSendType', dbcNumber(SEND_INDEX[message.send]));
  if (format !== 0) attributes.set('VFrameFormat', dbcNumber(format));
  const senders = [...(message.sender === null ? [] : [message.sender]), ...(message.otherSenders ?? [])];
  const plain = plainMultiplexer(message);
  return createMessage(
    message.id,
    { frameId: Number(message.frameId), extended, lengthBytes: message.length },
    {
      sender: message.sender,
      transmitters: senders.length > 1 ? senders : [],
      comment: message.comment ?? message.title ?? null,
      attributes,
      signals: message.signals.map((signal) => dbcSignal(signal, message, plain)),
    },
  );
}

/** The one multiplexer that plain `m0` can name: the only one there is, each signal on a single value of it. */
function plainMultiplexer(message: Message): string | null {
  const selectors = new Set(message.signals.flatMap(({ multiplexed }) => (multiplexed ? [multiplexed.by] : [])));
  const single = message.signals.every(
    ({ multiplexed }) =>
      multiplexed === undefined || (multiplexed.on.length === 1 && !Array.isArray(multiplexed.on[0])),
  );
  const nested = message.signals.some(({ id, multiplexed }) => multiplexed !== undefined && selectors.has(id));
  return selectors.size === 1 && single && !nested ? [...selectors][0]! : null;
}

function rangesOf(multiplexed: NonNullable<Signal['multiplexed']>): DbcSelectorRange[] {
  return multiplexed.on.map((entry) =>
    Array.isArray(entry)
      ? { from: BigInt(entry[0]), to: BigInt(entry[1]) }
      : { from: BigInt(entry), to: BigInt(entry) },
  );
}

function dbcSignal(signal: Signal, message: Message, plain: string | null): DbcSignal {
  const isMultiplexer =
    signal.multiplexer === true || message.signals.some(({ multiplexed }) => multiplexed?.by === signal.id);
  const ranges = signal.multiplexed ? rangesOf(signal.multiplexed) : [];
  const attributes = new Map<string, DbcAttributeValue>();
  if (signal.initial !== undefined) attributes.set('GenSigStartValue', dbcNumber(String(signal.initial)));
  return createSignal(
    signal.id,
    { startBit: signal.bits.start, lengthBits: signal.bits.length },
    {
      order: signal.bits.order,
      signed: signal.number !== 'unsigned',
      number: signal.number === 'float32' || signal.number === 'float64' ? signal.number : 'integer',
      isMultiplexer,
      multiplexValue: ranges[0]?.from ?? null,
      extendedMultiplexing: signal.multiplexed && plain === null ? { selector: signal.multiplexed.by, ranges } : null,
      factor: decimal(signal.factor),
      offset: decimal(signal.offset),
      min: signal.range ? decimal(signal.range[0]) : dbcNumber(0),
      max: signal.range ? decimal(signal.range[1]) : dbcNumber(0),
      unit: signal.unitAsWritten ?? signal.unit,
      receivers: signal.readers ?? message.readers ?? [],
      comment: signal.comment ?? signal.title ?? null,
      states: signal.states ? Object.entries(signal.states).map(([raw, text]) => ({ raw: BigInt(raw), text })) : null,
      attributes,
    },
  );
}
