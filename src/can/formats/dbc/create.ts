import { NEW_SYMBOLS } from './keywords.ts';
import { NO_ATTRIBUTES } from './model.ts';
import type { DbcDatabase, DbcMessage, DbcNode, DbcSignal } from './model.ts';
import { dbcNumber } from './numbers.ts';

/** An empty database with the symbol list that a new file carries. */
export function createDatabase(parts: Partial<DbcDatabase> = {}): DbcDatabase {
  return {
    version: '',
    newSymbols: NEW_SYMBOLS,
    bitTiming: '',
    nodes: [],
    valueTables: [],
    messages: [],
    independentSignals: [],
    environmentVariables: [],
    comment: null,
    attributes: NO_ATTRIBUTES,
    attributeDefinitions: [],
    relationAttributes: [],
    kept: [],
    remarks: '',
    unread: '',
    ...parts,
  };
}

/** A node. `name` may be any text: what the format cannot spell is written under a short name with a long-name attribute. */
export function createNode(name: string, parts: Partial<DbcNode> = {}): DbcNode {
  return { name, shortName: name, comment: null, attributes: NO_ATTRIBUTES, ...parts };
}

/**
 * A message from its frame id on the bus (11 bits, or 29 bits when `extended`) and its length in bytes.
 * `id` is derived: the frame id with bit 31 set when extended.
 */
export function createMessage(
  name: string,
  frame: { readonly frameId: number; readonly extended: boolean; readonly lengthBytes: number },
  parts: Partial<DbcMessage> = {},
): DbcMessage {
  return {
    name,
    shortName: name,
    id: frame.extended ? frame.frameId + 0x80000000 : frame.frameId,
    frameId: frame.frameId,
    extended: frame.extended,
    lengthBytes: frame.lengthBytes,
    sender: null,
    transmitters: [],
    signals: [],
    comment: null,
    attributes: NO_ATTRIBUTES,
    signalGroups: [],
    unread: '',
    ...parts,
  };
}

/** A signal: unsigned little-endian integer with factor 1, offset 0, no range and no unit unless `parts` says otherwise. */
export function createSignal(
  name: string,
  field: { readonly startBit: number; readonly lengthBits: number },
  parts: Partial<DbcSignal> = {},
): DbcSignal {
  return {
    name,
    shortName: name,
    isMultiplexer: false,
    multiplexValue: null,
    extendedMultiplexing: null,
    startBit: field.startBit,
    lengthBits: field.lengthBits,
    order: 'little',
    signed: false,
    number: 'integer',
    factor: dbcNumber(1),
    offset: dbcNumber(0),
    min: dbcNumber(0),
    max: dbcNumber(0),
    unit: '',
    receivers: [],
    comment: null,
    states: null,
    attributes: NO_ATTRIBUTES,
    ...parts,
  };
}
