/**
 * Source of every expectation: cantools (open-source CAN library, MIT licence) reading its own 32 test files; see
 * shared/corpus/README.md. What is compared: all that expected.json holds for a file.
 */
import { createHash } from 'node:crypto';
import { isDeepStrictEqual } from 'node:util';
import { afterAll, describe, expect, it } from 'vitest';
import {
  busName,
  bytesNeeded,
  cycleTimeMs,
  decodeMessage,
  encodeMessage,
  isFdMessage,
  isSelectedBy,
  multiplexingOf,
  rangeOf,
  readDbc,
  sendersOf,
  sendType,
  startValue,
  suspectParameterNumber,
  writeDbc,
} from '../../../../src/can/formats/dbc/index.ts';
import type {
  DbcAttributes,
  DbcDatabase,
  DbcFaultCode,
  DbcMessage,
  DbcNumber,
  DbcPhysical,
  DbcRaw,
  DbcSignal,
  DbcState,
  DbcValue,
} from '../../../../src/can/formats/dbc/index.ts';
import { bytesOf, hexOf, loadCorpus } from './corpus.ts';
import type { ExpectedMessage, ExpectedNumber, ExpectedSignal, ExpectedVector } from './corpus.ts';

const corpus = loadCorpus();
const tally = { files: 0, messages: 0, signals: 0, vectors: 0, values: 0, selectorErrors: 0, layoutErrors: 0 };

if (corpus === null) {
  console.warn('DBC corpus: NOT PRESENT at ../shared/corpus/dbc beside the checkout; 32 files NOT CHECKED');
}

afterAll(() => {
  if (corpus === null) return;
  console.log(
    `DBC corpus: ${tally.files} of ${corpus.length} files, ${tally.messages} messages, ${tally.signals} signals, ` +
      `${tally.vectors} vectors (${tally.values} values; ${tally.selectorErrors} with an undefined selector, ` +
      `${tally.layoutErrors} with a layout that the other library cannot decode)`,
  );
});

/** Files which the other library refuses, or reads only leniently: the faults that we must name in them, and where. */
const FAULTY: Readonly<Record<string, { readonly code: DbcFaultCode; readonly line: number; readonly times: number }>> =
  {
    'issue_199.dbc': { code: 'frame-id-without-extended-bit', line: 45, times: 11 },
    'issue_63.dbc': { code: 'signals-overlap', line: 40, times: 1 },
    'bad_message_length.dbc': { code: 'signal-outside-frame', line: 40, times: 1 },
  };

describe.skipIf(corpus === null)('the DBC corpus', () => {
  for (const { name, bytes, expected } of corpus ?? []) {
    it(name, () => {
      expect(createHash('sha256').update(bytes).digest('hex')).toBe(expected.sha256);
      // The other library reads every file as code page 1252; one of them is UTF-8, which we would find out.
      const { database, faults } = readDbc(bytes, { encoding: 'windows-1252' });

      const faulty = FAULTY[name];
      expect(expected.strict_ok).toBe(faulty === undefined);
      if (faulty === undefined) expect(faults.filter((fault) => fault.severity === 'error')).toEqual([]);
      else {
        const found = faults.filter((fault) => fault.code === faulty.code);
        expect(found.length).toBe(faulty.times);
        expect(found[0]?.line).toBe(faulty.line);
      }
      if (expected.error === undefined) {
        compareDatabase(database, expected);
        for (const message of expected.messages) compareMessage(database, message);
      } else expect(database.messages.length).toBe(11); // refused there; counted by hand: BO_ lines of issue_199.dbc

      for (const source of [database, readDbc(bytes).database]) {
        expect(isDeepStrictEqual(readDbc(writeDbc(source)).database, source)).toBe(true);
        expect(isDeepStrictEqual(readDbc(writeDbc(source, { lineEnd: '\r\n' })).database, source)).toBe(true);
      }
      tally.files++;
    });
  }

  it('is all there', () => {
    expect(tally.files).toBe(32);
    expect(tally.messages).toBe(309);
    expect(tally.signals).toBe(728);
    expect(tally.vectors).toBe(6160);
  });
});

function compareDatabase(database: DbcDatabase, expected: NonNullable<typeof corpus>[number]['expected']): void {
  expect(database.version).toBe(expected.version);
  expect(database.nodes.map((node) => node.name)).toEqual(expected.nodes);
  // An empty comment counts as none there.
  const comments = database.nodes.filter((node) => node.comment).map((node) => [node.name, node.comment]);
  expect(Object.fromEntries(comments)).toEqual(expected.node_comments);
  expect(database.comment).toBe(expected.bus_comment);
  expect(attributesOf(database.attributes)).toEqual(expected.db_attributes);
  const definitions = database.attributeDefinitions.filter(({ object }) => !object.startsWith('node-'));
  expect(definitions.map((definition) => definition.name).sort()).toEqual(expected.attribute_definitions);
  const tables = database.valueTables.map((table) => [table.name, choicesOf(table.states)]);
  expect(Object.fromEntries(tables)).toEqual(expected.value_tables);
  expect(database.environmentVariables.map((variable) => variable.name).sort()).toEqual([...expected.env_vars].sort());
  expect(database.messages.length).toBe(expected.message_count);
  expect(database.messages.reduce((sum, message) => sum + message.signals.length, 0)).toBe(expected.signal_count);
}

function compareMessage(database: DbcDatabase, expected: ExpectedMessage): void {
  const message = database.messages.find(
    ({ frameId, extended }) => frameId === expected.id && extended === expected.extended,
  );
  if (message === undefined) throw new Error(`message ${expected.name} is missing`);
  expect({
    name: message.name,
    length: message.lengthBytes,
    is_fd: isFdMessage(database, message),
    senders: sendersOf(message),
    comment: message.comment,
    cycle_time: cycleTimeMs(database, message),
    send_type: sendType(database, message),
    bus: busName(database),
    is_multiplexed: multiplexingOf(message).some((link) => link.selector !== null),
    attributes: attributesOf(message.attributes),
    signal_groups: message.signalGroups
      .map((group) => [group.name, group.repetitions, [...group.signals].sort()])
      .sort(),
    signals: message.signals.map((signal) => signal.name).sort(),
  }).toEqual({
    name: expected.name,
    length: expected.length,
    is_fd: expected.is_fd,
    senders: expected.senders,
    comment: expected.comment,
    cycle_time: expected.cycle_time,
    send_type: expected.send_type,
    bus: expected.bus === '' ? null : expected.bus, // an empty name of the bus is none
    is_multiplexed: expected.is_multiplexed,
    attributes: expected.attributes,
    signal_groups: expected.signal_groups.map(([name, times, signals]) => [name, times, [...signals].sort()]).sort(),
    signals: expected.signals.map((signal) => signal.name).sort(),
  });
  for (const signal of expected.signals) compareSignal(database, message, signal);
  expect(expected.vectors.flatMap((vector) => vectorDifferences(message, vector))).toEqual([]);
  tally.messages++;
}

function compareSignal(database: DbcDatabase, message: DbcMessage, expected: ExpectedSignal): void {
  const index = message.signals.findIndex((candidate) => candidate.name === expected.name);
  const signal = message.signals[index] as DbcSignal;
  const link = multiplexingOf(message)[index];
  const selector = link?.selector ?? null;
  const start = startValue(database, signal);
  const hasRange = rangeOf(signal) !== null;
  expect({
    start: signal.startBit,
    length: signal.lengthBits,
    byte_order: `${signal.order}_endian`,
    signed: signal.signed,
    is_float: signal.number !== 'integer',
    scale: signal.factor.value,
    offset: signal.offset.value,
    unit: signal.unit === '' ? null : signal.unit,
    choices: signal.states === null || signal.states.length === 0 ? null : choicesOf(signal.states),
    comment: signal.comment,
    receivers: signal.receivers,
    is_multiplexer: signal.isMultiplexer,
    multiplexer_signal: selector === null ? null : message.signals[selector]?.name,
    spn: suspectParameterNumber(database, signal),
    raw_initial: start === null || start.isDefault ? null : Number(start.raw),
    attributes: attributesOf(signal.attributes),
  }).toEqual({
    start: expected.start,
    length: expected.length,
    byte_order: expected.byte_order,
    signed: expected.signed,
    is_float: expected.is_float,
    scale: expected.scale,
    offset: expected.offset,
    unit: expected.unit,
    choices: expected.choices,
    comment: expected.comment,
    receivers: expected.receivers,
    is_multiplexer: expected.is_multiplexer,
    multiplexer_signal: expected.multiplexer_signal,
    spn: expected.spn,
    raw_initial: expected.raw_initial,
    attributes: expected.attributes,
  });
  compareLimit(signal.min, hasRange, expected.min);
  compareLimit(signal.max, hasRange, expected.max);
  compareSelectors(expected, link?.ranges ?? []);
  tally.signals++;
}

/** Every value that should select the signal does, and none beside them. */
function compareSelectors(
  expected: ExpectedSignal,
  ranges: readonly { readonly from: bigint; readonly to: bigint }[],
): void {
  if (expected.multiplexer_ids === null) {
    expect(ranges).toEqual([]);
    return;
  }
  const greatest = Math.max(...expected.multiplexer_ids);
  const selecting = Array.from({ length: greatest + 3 }, (_, value) => value).filter((value) =>
    isSelectedBy(BigInt(value), ranges),
  );
  expect(selecting).toEqual([...expected.multiplexer_ids].sort((a, b) => a - b));
}

function compareLimit(limit: DbcNumber, hasRange: boolean, expected: ExpectedNumber | null): void {
  if (expected === null) expect(hasRange).toBe(false);
  else if (typeof expected === 'number') expect(limit.value).toBe(expected);
  else expect(BigInt(limit.text)).toBe(BigInt((expected as { int: string }).int)); // exact beyond 2^53: the text has it
}

/** What differs between a vector and ours; an empty list when nothing does. */
function vectorDifferences(message: DbcMessage, vector: ExpectedVector): string[] {
  const { signals, unreadable } = decodeMessage(message, bytesOf(vector.data));
  tally.vectors++;
  if (vector.error !== undefined) {
    compareUndecodable(message, vector.error, { present: signals.length, unreadable: unreadable.length });
    return [];
  }
  const differences: string[] = [];
  const expectedRaw = vector.raw ?? {};
  const expectedPhysical = vector.phys ?? {};
  const names = signals
    .map(({ signal }) => signal.name)
    .sort()
    .join();
  if (names !== Object.keys(expectedRaw).sort().join()) differences.push(`signals ${names}`);
  if (unreadable.length > 0) differences.push(`unreadable ${unreadable.length}`);
  const values: Record<string, DbcValue> = {};
  for (const { signal, raw, value } of signals) {
    const { name } = signal;
    if (!sameRaw(raw, expectedRaw[name] as ExpectedNumber)) differences.push(`raw ${name} ${raw}`);
    if (!isNear(signal, raw, value, expectedPhysical[name] as ExpectedNumber))
      differences.push(`phys ${name} ${value}`);
    values[name] = value;
    tally.values++;
  }
  // From the other library's physical values, and from ours: the same bytes.
  const theirs = Object.fromEntries(Object.entries(expectedPhysical).map(([name, value]) => [name, givenValue(value)]));
  for (const given of [theirs, values]) {
    const { bytes, faults } = encodeMessage(message, given);
    if (hexOf(bytes) !== vector.encoded) differences.push(`encoded ${hexOf(bytes)}, not ${vector.encoded}`);
    for (const fault of faults) differences.push(fault.message);
  }
  return differences.map((difference) => `${message.name} ${vector.data}: ${difference}`);
}

/** Payloads that the other library gives up on; we still give what can be read. */
function compareUndecodable(message: DbcMessage, error: string, found: { present: number; unreadable: number }): void {
  const all = message.signals.length;
  if (/multiplexer/i.test(error)) {
    // A selector value that selects nothing: what is present without it.
    expect(found.present).toBeLessThan(all);
    expect(found.unreadable).toBe(0);
    tally.selectorErrors++;
    return;
  }
  // The layout: in bad_message_length.dbc a signal leaves its frame, in issue_63.dbc two signals share bits and both can be read.
  expect(error).toMatch(/unpacking failed/);
  expect(found.unreadable).toBe(bytesNeededByMost(message) > message.lengthBytes ? 1 : 0);
  expect(found.present + found.unreadable).toBe(all);
  tally.layoutErrors++;
}

function bytesNeededByMost(message: DbcMessage): number {
  return Math.max(...message.signals.map(bytesNeeded));
}

function sameRaw(raw: DbcRaw, expected: ExpectedNumber): boolean {
  if (typeof expected === 'number') {
    // Integers arrive as bigint; a float signal may hold a whole number.
    return typeof raw === 'bigint'
      ? Number.isSafeInteger(expected) && raw === BigInt(expected)
      : Object.is(raw, expected);
  }
  if ('int' in expected) return raw === BigInt(expected.int);
  return Object.is(raw, floatWord(expected.float));
}

/**
 * The other library computes raw·scale + offset in doubles, we exactly. Its two roundings can each move the value by half a unit in
 * the last place of the product and of the sum; no more is allowed.
 */
function isNear(signal: DbcSignal, raw: DbcRaw, value: DbcPhysical, expected: ExpectedNumber): boolean {
  if (typeof expected !== 'number') {
    if ('int' in expected)
      return typeof value === 'string' ? value === expected.int : BigInt(value) === BigInt(expected.int);
    return Object.is(value, floatWord(expected.float));
  }
  const product = Math.abs(Number(raw) * signal.factor.value);
  const slack = 2 ** -53 * (product + Math.abs(signal.offset.value) + 2 * Math.abs(expected));
  return Math.abs(Number(value) - expected) <= slack;
}

function floatWord(word: 'nan' | 'inf' | '-inf'): number {
  return { nan: NaN, inf: Infinity, '-inf': -Infinity }[word];
}

function givenValue(value: ExpectedNumber): DbcValue {
  if (typeof value === 'number') return value;
  return 'int' in value ? value.int : floatWord(value.float);
}

function attributesOf(attributes: DbcAttributes): Record<string, string | number> {
  return Object.fromEntries(
    [...attributes].map(([name, value]) => [name, typeof value === 'string' ? value : value.value]),
  );
}

function choicesOf(states: readonly DbcState[]): Record<string, string> {
  return Object.fromEntries(states.map((state) => [String(state.raw), state.text]));
}
