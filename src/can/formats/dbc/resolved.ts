/** What attributes say about a message or a signal, with the defaults of their definitions. */
import { NO_NODE } from './keywords.ts';
import type {
  DbcAttributeDefinition,
  DbcAttributes,
  DbcAttributeObject,
  DbcAttributeValue,
  DbcDatabase,
  DbcMessage,
  DbcSignal,
} from './model.ts';
import { exactDecimal, powerOfTen } from './numbers.ts';

const definitionsOf = new WeakMap<DbcDatabase, ReadonlyMap<string, DbcAttributeDefinition>>();

/** The definition of an attribute for one kind of object, if the file has one. */
export function attributeDefinition(
  database: DbcDatabase,
  object: DbcAttributeObject,
  name: string,
): DbcAttributeDefinition | undefined {
  let definitions = definitionsOf.get(database);
  if (definitions === undefined) {
    definitions = new Map(
      database.attributeDefinitions.map((definition) => [`${definition.object} ${definition.name}`, definition]),
    );
    definitionsOf.set(database, definitions);
  }
  return definitions.get(`${object} ${name}`);
}

/** An attribute value as it counts: the object's own or the default, an enumeration as the text of its choice. */
export interface ResolvedAttribute {
  readonly value: DbcAttributeValue;
  readonly isDefault: boolean;
}

/** Value of an attribute for an object with `attributes`; `null` when it has none and the definition no default. */
export function resolveAttribute(
  database: DbcDatabase,
  object: DbcAttributeObject,
  attributes: DbcAttributes,
  name: string,
): ResolvedAttribute | null {
  const definition = attributeDefinition(database, object, name);
  const own = attributes.get(name);
  const value = own ?? definition?.defaultValue ?? null;
  if (value === null) return null;
  return { value: choiceText(definition, value), isDefault: own === undefined };
}

function choiceText(definition: DbcAttributeDefinition | undefined, value: DbcAttributeValue): DbcAttributeValue {
  if (definition?.type.kind !== 'enumeration' || typeof value === 'string') return value;
  return definition.type.choices[value.value] ?? value;
}

/** Cycle time in milliseconds (GenMsgCycleTime); `null` when there is none or it is 0, which means "not cyclic". */
export function cycleTimeMs(database: DbcDatabase, message: DbcMessage): number | null {
  const cycle = resolveAttribute(database, 'message', message.attributes, 'GenMsgCycleTime');
  if (cycle === null) return null;
  const timeMs = typeof cycle.value === 'string' ? Number(cycle.value) : cycle.value.value;
  return timeMs > 0 ? timeMs : null;
}

/** How the message is sent, in the words of the file (GenMsgSendType); `null` when it does not say. */
export function sendType(database: DbcDatabase, message: DbcMessage): string | null {
  return textOf(resolveAttribute(database, 'message', message.attributes, 'GenMsgSendType'));
}

function textOf(attribute: ResolvedAttribute | null): string | null {
  if (attribute === null) return null;
  return typeof attribute.value === 'string' ? attribute.value : attribute.value.text;
}

/** True for a CAN FD message: VFrameFormat says so or, where the file has no such attribute, the bus is CAN FD and the length beyond 8. */
export function isFdMessage(database: DbcDatabase, message: DbcMessage): boolean {
  const format = textOf(resolveAttribute(database, 'message', message.attributes, 'VFrameFormat'));
  if (format !== null && format !== '') return format.endsWith('_FD');
  const busType = textOf(resolveAttribute(database, 'database', database.attributes, 'BusType'));
  return message.lengthBytes > 8 && busType !== null && /\bFD\b/i.test(busType);
}

/** Name of the bus (DBName); `null` when the file does not say. */
export function busName(database: DbcDatabase): string | null {
  const name = textOf(resolveAttribute(database, 'database', database.attributes, 'DBName'));
  return name === '' ? null : name;
}

/** Value of a signal before it was first sent, raw (GenSigStartValue): whole where it is; with whether it is only the default. */
export interface StartValue {
  readonly raw: bigint | number;
  readonly isDefault: boolean;
}

/** Start value of a signal; `null` when the file gives neither a value nor a default. Exact to 64 bits and beyond. */
export function startValue(database: DbcDatabase, signal: DbcSignal): StartValue | null {
  const attribute = resolveAttribute(database, 'signal', signal.attributes, 'GenSigStartValue');
  if (attribute === null) return null;
  const text = textOf(attribute) as string;
  const exact = exactDecimal(text.trim());
  if (exact === null) return null;
  const { mantissa, exponent } = exact;
  const { isDefault } = attribute;
  if (exponent >= 0) return { raw: mantissa * powerOfTen(exponent), isDefault };
  const divisor = powerOfTen(-exponent);
  return { raw: mantissa % divisor === 0n ? mantissa / divisor : Number(text), isDefault };
}

/** Suspect parameter number of a signal (SPN, SAE J1939); `null` when the file does not give one. */
export function suspectParameterNumber(database: DbcDatabase, signal: DbcSignal): number | null {
  const number = resolveAttribute(database, 'signal', signal.attributes, 'SPN');
  if (number === null || typeof number.value === 'string') return null;
  return number.value.value;
}

/** Every node that sends the message: the one of BO_ first, then those that BO_TX_BU_ adds. */
export function sendersOf(message: DbcMessage): readonly string[] {
  const senders = new Set<string>(message.sender === null ? [] : [message.sender]);
  for (const node of message.transmitters) if (node !== NO_NODE) senders.add(node);
  return [...senders];
}

/** Minimum and maximum as numbers; `null` for `[0|0]`, which means that no range is given. */
export function rangeOf(signal: DbcSignal): { readonly min: number; readonly max: number } | null {
  const { min, max } = signal;
  return min.value === 0 && max.value === 0 ? null : { min: min.value, max: max.value };
}
