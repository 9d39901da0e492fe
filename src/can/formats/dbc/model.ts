/** What a DBC file holds. Everything is plain readonly data; two equal files give two deeply equal databases. */

/** A number as it was written. `text` is exact and wins; `value` is the nearest double. */
export interface DbcNumber {
  readonly text: string;
  readonly value: number;
}

/** Value of an attribute: a text in quotes, or a number (for an enumeration usually the index of the choice). */
export type DbcAttributeValue = string | DbcNumber;

export type DbcAttributes = ReadonlyMap<string, DbcAttributeValue>;

/** One raw value of a signal with the text that stands for it. */
export interface DbcState {
  readonly raw: bigint;
  readonly text: string;
}

export interface DbcValueTable {
  readonly name: string;
  readonly states: readonly DbcState[];
}

export interface DbcNode {
  /** The long name where the file gives one, else the name as written. References to nodes use this name. */
  readonly name: string;
  /** The name as written in BU_. */
  readonly shortName: string;
  readonly comment: string | null;
  readonly attributes: DbcAttributes;
}

/** A closed interval of raw selector values: both ends belong to it. */
export interface DbcSelectorRange {
  readonly from: bigint;
  readonly to: bigint;
}

/** Extended multiplexing (SG_MUL_VAL_): by which signal, and for which of its raw values. */
export interface DbcExtendedMultiplexing {
  readonly selector: string;
  readonly ranges: readonly DbcSelectorRange[];
}

export interface DbcSignal {
  readonly name: string;
  readonly shortName: string;
  /** `M`: its raw value selects which other signals are present. */
  readonly isMultiplexer: boolean;
  /** The value after `m`: present when the message's multiplexer has it; `null` when not multiplexed. */
  readonly multiplexValue: bigint | null;
  readonly extendedMultiplexing: DbcExtendedMultiplexing | null;
  /** As written: least significant bit of a little-endian field, most significant bit of a big-endian one. */
  readonly startBit: number;
  readonly lengthBits: number;
  readonly order: 'little' | 'big';
  readonly signed: boolean;
  /** From SIG_VALTYPE_; the sign character says nothing for the two float kinds. */
  readonly number: 'integer' | 'float32' | 'float64';
  readonly factor: DbcNumber;
  readonly offset: DbcNumber;
  readonly min: DbcNumber;
  readonly max: DbcNumber;
  readonly unit: string;
  /** Node names; empty where the file has its placeholder for "no node". */
  readonly receivers: readonly string[];
  readonly comment: string | null;
  /** From VAL_, in the order of the file; `null` when there is no VAL_ for the signal. */
  readonly states: readonly DbcState[] | null;
  readonly attributes: DbcAttributes;
}

export interface DbcSignalGroup {
  readonly name: string;
  readonly repetitions: number;
  readonly signals: readonly string[];
}

export interface DbcMessage {
  readonly name: string;
  readonly shortName: string;
  /** As written: frame id, with bit 31 set for a 29-bit frame id. */
  readonly id: number;
  /** Frame id on the bus, without bit 31. */
  readonly frameId: number;
  /** True for a 29-bit frame id: bit 31 is set, or the id does not fit 11 bits. */
  readonly extended: boolean;
  readonly lengthBytes: number;
  readonly sender: string | null;
  /** From BO_TX_BU_, which lists every sender of a message that has several. */
  readonly transmitters: readonly string[];
  readonly signals: readonly DbcSignal[];
  readonly comment: string | null;
  readonly attributes: DbcAttributes;
  readonly signalGroups: readonly DbcSignalGroup[];
  /** Lines of this message that could not be read, word for word. */
  readonly unread: string;
}

export interface DbcEnvironmentVariable {
  readonly name: string;
  readonly shortName: string;
  /** 0 integer, 1 float, 2 text, as written. */
  readonly type: number;
  readonly min: DbcNumber;
  readonly max: DbcNumber;
  readonly unit: string;
  readonly initial: DbcNumber;
  readonly id: number;
  readonly access: string;
  readonly nodes: readonly string[];
  /** From ENVVAR_DATA_; `null` when it is no data variable. */
  readonly sizeBytes: number | null;
  readonly comment: string | null;
  readonly states: readonly DbcState[] | null;
  readonly attributes: DbcAttributes;
}

/** What an attribute can belong to. The last three are relations between a node and the other object. */
export type DbcAttributeObject =
  | 'database'
  | 'node'
  | 'message'
  | 'signal'
  | 'environment-variable'
  | 'node-signal'
  | 'node-message'
  | 'node-environment-variable';

export type DbcAttributeType =
  | { readonly kind: 'integer' | 'hex' | 'float'; readonly min: DbcNumber | null; readonly max: DbcNumber | null }
  | { readonly kind: 'text' }
  | { readonly kind: 'enumeration'; readonly choices: readonly string[] };

export interface DbcAttributeDefinition {
  readonly name: string;
  readonly object: DbcAttributeObject;
  readonly type: DbcAttributeType;
  readonly defaultValue: DbcAttributeValue | null;
}

/** An attribute value between a node and a message, signal or environment variable (BA_REL_). */
export type DbcRelationAttribute =
  | {
      readonly object: 'node-signal';
      readonly name: string;
      readonly node: string;
      readonly messageId: number;
      readonly signal: string;
      readonly value: DbcAttributeValue;
    }
  | {
      readonly object: 'node-message';
      readonly name: string;
      readonly node: string;
      readonly messageId: number;
      readonly value: DbcAttributeValue;
    }
  | {
      readonly object: 'node-environment-variable';
      readonly name: string;
      readonly node: string;
      readonly environmentVariable: string;
      readonly value: DbcAttributeValue;
    };

/**
 * A statement kept word for word. `unmodelled`: legal, not interpreted here. `unknown`: keyword not of the format.
 * `unattached`: it refers to something that the file does not define. `superseded`: a later statement says otherwise.
 */
export interface DbcKeptStatement {
  readonly reason: 'unmodelled' | 'unknown' | 'unattached' | 'superseded';
  readonly text: string;
}

export interface DbcDatabase {
  readonly version: string;
  readonly newSymbols: readonly string[];
  /** What follows `BS_:`, usually nothing. */
  readonly bitTiming: string;
  readonly nodes: readonly DbcNode[];
  readonly valueTables: readonly DbcValueTable[];
  readonly messages: readonly DbcMessage[];
  /** The pseudo message(s) that collect signals of no message: never on the bus. */
  readonly independentSignals: readonly DbcMessage[];
  readonly environmentVariables: readonly DbcEnvironmentVariable[];
  readonly comment: string | null;
  readonly attributes: DbcAttributes;
  readonly attributeDefinitions: readonly DbcAttributeDefinition[];
  readonly relationAttributes: readonly DbcRelationAttribute[];
  readonly kept: readonly DbcKeptStatement[];
  /** The `//` remarks of the file, one a line. */
  readonly remarks: string;
  /** Lines that could not be read, word for word; written back as `//unread:` remarks. */
  readonly unread: string;
}

/** The same shape while it is being built. */
export type Mutable<T> = { -readonly [K in keyof T]: T[K] };

export const NO_ATTRIBUTES: DbcAttributes = new Map<string, DbcAttributeValue>();
