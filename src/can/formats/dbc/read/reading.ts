import type { DbcFaultCode, PendingFault } from '../faults.ts';
import { NO_ATTRIBUTES } from '../model.ts';
import type {
  DbcAttributeDefinition,
  DbcAttributes,
  DbcAttributeValue,
  DbcEnvironmentVariable,
  DbcKeptStatement,
  DbcMessage,
  DbcNode,
  DbcRelationAttribute,
  DbcSignal,
  DbcSignalGroup,
  DbcValueTable,
  Mutable,
} from '../model.ts';

/** A message while it is being read: with the place of each part, and its signals by name. */
export interface MessageEntry {
  readonly message: Omit<Mutable<DbcMessage>, 'signals' | 'signalGroups'> & {
    signals: Mutable<DbcSignal>[];
    signalGroups: DbcSignalGroup[];
  };
  readonly offset: number;
  readonly signalOffsets: number[];
  byName: Map<string, Mutable<DbcSignal>> | null;
}

/** A default value and where it stands. */
export interface DefaultEntry {
  readonly value: DbcAttributeValue;
  readonly offset: number;
}

/** How reading one statement ended. `missing`: what it refers to is not there (yet). */
export type Outcome = 'read' | 'failed' | 'missing' | 'unmodelled';

/** The state of one reading: where it is in the text, and what it has found. One object, so that the hot path stays flat. */
export interface Reading {
  readonly text: string;
  readonly end: number;
  pos: number;

  // The statement being read
  keyword: string;
  failedAt: number;
  failure: DbcFaultCode;
  expected: string;
  missing: DbcFaultCode;
  missingName: string;
  missingAt: number;
  /** Where a text over several lines starts, -1 when the statement has none. */
  longTextAt: number;
  /** The last name read holds characters that the format does not allow. */
  unusualName: boolean;
  /** Some text of the statement may end in a backslash rather than hold an escaped quote. */
  sawBackslashQuote: boolean;
  backslashEndsText: boolean;
  /** The statement would read otherwise in another place: it lacks its semicolon, or a text of it ends in a backslash. */
  cannotKeep: boolean;
  /** Second pass over statements that referred forward. */
  finalPass: boolean;

  // Remarks: pairs of offsets
  readonly remarkSpans: number[];

  // Faults
  readonly faults: PendingFault[];
  readonly maxFaults: number;
  faultCount: number;

  // Bounds
  readonly maxParts: number;
  partsLeft: number;
  rereadsLeft: number;

  // What was found
  version: string | null;
  newSymbols: string[];
  bitTiming: string | null;
  comment: string | null;
  attributes: DbcAttributes;
  readonly nodes: Mutable<DbcNode>[];
  readonly nodeOffsets: number[];
  readonly nodesByName: Map<string, Mutable<DbcNode>>;
  readonly valueTables: DbcValueTable[];
  readonly valueTableNames: Set<string>;
  readonly entries: MessageEntry[];
  readonly entriesById: Map<number, MessageEntry>;
  current: MessageEntry | null;
  /** Another statement stands between the last BO_ or SG_ and here. */
  apart: boolean;
  readonly environmentVariables: Mutable<DbcEnvironmentVariable>[];
  readonly environmentOffsets: number[];
  readonly environmentByName: Map<string, Mutable<DbcEnvironmentVariable>>;
  readonly definitions: Map<string, Mutable<DbcAttributeDefinition>>;
  /** Default values by attribute name, for plain attributes and for relations. */
  readonly defaults: Map<string, DefaultEntry>;
  readonly relationDefaults: Map<string, DefaultEntry>;
  readonly relationAttributes: Mutable<DbcRelationAttribute>[];
  readonly kept: DbcKeptStatement[];
  readonly superseded: string[];
  /** Attributes with a value and, so far, no definition: the first place of each. */
  readonly undefinedAttributes: Map<string, { readonly name: string; readonly offset: number }>;
  /** Nodes referred to before BU_ lists them, or that it never does: the first place of each. */
  readonly unknownNodes: Map<string, { readonly by: string; readonly offset: number }>;
  hasLongNames: boolean;
  remarks: string;
  /** A piece of text that could not be read and may go on; `message` when it belongs to one. */
  pending: { readonly from: number; to: number; readonly message: MessageEntry['message'] | undefined } | null;
  unread: string;
}

export interface ReadingBounds {
  readonly maxFaults: number;
  readonly maxParts: number;
}

export function createReading(text: string, bounds: ReadingBounds): Reading {
  return {
    text,
    end: text.length,
    pos: 0,
    keyword: '',
    failedAt: 0,
    failure: 'statement-unreadable',
    expected: '',
    missing: 'message-unknown',
    missingName: '',
    missingAt: 0,
    longTextAt: -1,
    unusualName: false,
    sawBackslashQuote: false,
    backslashEndsText: false,
    cannotKeep: false,
    finalPass: false,
    remarkSpans: [],
    faults: [],
    maxFaults: bounds.maxFaults,
    faultCount: 0,
    maxParts: bounds.maxParts,
    partsLeft: bounds.maxParts,
    // Going back after a fault is worth a few readings of the whole text and no more: linear, whatever the input.
    rereadsLeft: 4 * text.length + 1000,
    version: null,
    newSymbols: [],
    bitTiming: null,
    comment: null,
    attributes: NO_ATTRIBUTES,
    nodes: [],
    nodeOffsets: [],
    nodesByName: new Map(),
    valueTables: [],
    valueTableNames: new Set(),
    entries: [],
    entriesById: new Map(),
    current: null,
    apart: false,
    environmentVariables: [],
    environmentOffsets: [],
    environmentByName: new Map(),
    definitions: new Map(),
    defaults: new Map(),
    relationDefaults: new Map(),
    relationAttributes: [],
    kept: [],
    superseded: [],
    undefinedAttributes: new Map(),
    unknownNodes: new Map(),
    hasLongNames: false,
    remarks: '',
    pending: null,
    unread: '',
  };
}

/** Notes a fault; beyond the limit it is only counted. */
export function report(r: Reading, code: DbcFaultCode, offset: number, first = '', second = ''): void {
  r.faultCount++;
  if (r.faults.length < r.maxFaults) r.faults.push({ code, offset, details: [first, second] });
}

/** Ends the statement as unreadable at `at`, where `expected` should have stood. */
export function fail(r: Reading, at: number, expected: string): 'failed' {
  r.failure = 'statement-unreadable';
  r.failedAt = at;
  r.expected = expected;
  return 'failed';
}

/** Ends the statement because what it refers to is not there. */
export function missing(r: Reading, code: DbcFaultCode, name: string, at: number): 'missing' {
  r.missing = code;
  r.missingName = name;
  r.missingAt = at;
  return 'missing';
}

/** Keeps an earlier statement that a later one overrides, in its canonical text. */
export function supersede(r: Reading, earlier: string, at: number, what: string): void {
  r.partsLeft--;
  r.superseded.push(earlier);
  report(r, 'statement-repeated', at, what);
}

/** The signal of that written name in a message: the first, when the file repeats it. */
export function findSignal(entry: MessageEntry, name: string): Mutable<DbcSignal> | undefined {
  if (entry.byName === null) {
    const byName = new Map<string, Mutable<DbcSignal>>();
    for (const signal of entry.message.signals) if (!byName.has(signal.shortName)) byName.set(signal.shortName, signal);
    entry.byName = byName;
  }
  return entry.byName.get(name);
}

/** Sets an attribute on an object; gives back the value it had before, if any. The newest stands last. */
export function setAttribute(
  object: { attributes: DbcAttributes },
  name: string,
  value: DbcAttributeValue,
): DbcAttributeValue | undefined {
  let attributes = object.attributes as Map<string, DbcAttributeValue>;
  if (object.attributes === NO_ATTRIBUTES) object.attributes = attributes = new Map();
  const before = attributes.get(name);
  if (before !== undefined) attributes.delete(name);
  attributes.set(name, value);
  return before;
}
