/**
 * What the registry's DBC parser (candied 2.2.0) and ours make of the open corpus, against what an independent library (cantools) reads
 * from it: the figures of the README. Run with `npm run bench -- registry`. Candied runs in a process of its own with a limit a file.
 *
 * How it is counted: a signal is found when a message of that frame id has one of that name as written; its definition is right when start bit,
 * length, byte order, sign, factor, offset, range and unit are; a value is right when it is within the rounding of double
 * arithmetic. Only finite values of signals that the payload holds are compared, candied's through `decodeSignal`, which has no limit of
 * 8 bytes. Candied limits values to the range of the signal; that is counted apart, as it may be meant.
 */
import { execFile } from 'node:child_process';
import { pathToFileURL } from 'node:url';
import { decodeMessage, readDbc } from '../../src/can/formats/dbc/index.ts';
import { bytesOf, loadCorpus } from '../can/formats/dbc/corpus.ts';
import type { CorpusFile, ExpectedMessage, ExpectedNumber, ExpectedSignal } from '../can/formats/dbc/corpus.ts';

export interface ComparisonRow {
  readonly work: string;
  readonly against: string;
  readonly ratio: number;
  readonly target?: number;
  readonly better?: 'higher' | 'lower';
  readonly note?: string;
}

const LIMIT_MS = 20_000;

/** A signal as one of the two libraries has it, with its values for the payloads of its message. */
interface FoundSignal {
  readonly start: number;
  readonly length: number;
  readonly big: boolean;
  readonly signed: boolean;
  readonly factor: number;
  readonly offset: number;
  readonly min: number;
  readonly max: number;
  readonly unit: string;
  /** One for each payload; `null` where it gives none. */
  readonly values: readonly (number | null)[];
}

/** Frame id (and whether it is of 29 bits) → written name → signal. */
type FoundMessages = ReadonlyMap<string, ReadonlyMap<string, FoundSignal>>;

interface Score {
  found: number;
  definitions: number;
  values: number;
  limited: number;
}

/** The rows of both libraries: shares of the corpus, 1 being all of it. */
export async function rows(): Promise<ComparisonRow[]> {
  const corpus = loadCorpus();
  if (corpus === null) {
    return [
      {
        work: 'DBC corpus',
        against: 'candied',
        ratio: NaN,
        note: 'NOT COMPARED: the corpus is not beside this checkout',
      },
    ];
  }
  const files = corpus.filter(({ expected }) => expected.error === undefined);
  const theirs = { found: 0, definitions: 0, values: 0, limited: 0 };
  const ours = { found: 0, definitions: 0, values: 0, limited: 0 };
  let signals = 0;
  let values = 0;
  let stopped = 0;
  for (const file of files) {
    const shortNames = shortNamesOf(file);
    const read = await readByRegistry(file);
    if (read === null) stopped++;
    const counted = score(file, shortNames, readByUs(file), ours);
    score(file, shortNames, read ?? new Map(), theirs);
    signals += counted.signals;
    values += counted.values;
  }
  const note = `${files.length} files${stopped > 0 ? `, ${stopped} stopped after ${LIMIT_MS / 1000} s or refused` : ''}`;
  const row = (work: string, right: number, all: number, target?: number): ComparisonRow => ({
    work,
    against: `expected: ${right} of ${all}`,
    ratio: right / all,
    ...(target === undefined ? {} : { target, better: 'higher' as const }),
    note,
  });
  return [
    row('candied 2.2.0: signals found in their message', theirs.found, signals),
    row('ours: signals found in their message', ours.found, signals, 1),
    row('candied 2.2.0: signals defined as expected', theirs.definitions, signals),
    row('ours: signals defined as expected', ours.definitions, signals, 1),
    row('candied 2.2.0: values as expected', theirs.values, values),
    row('candied 2.2.0: values as expected, or limited to the range', theirs.values + theirs.limited, values),
    row('ours: values as expected', ours.values, values, 1),
  ];
}

/** Counts what is right into `into`; returns how many signals and values there are to be right. */
function score(
  { expected }: CorpusFile,
  shortNames: ReadonlyMap<string, string>,
  found: FoundMessages,
  into: Score,
): { signals: number; values: number } {
  let signals = 0;
  let values = 0;
  for (const message of expected.messages) {
    const key = keyOf(message.id, message.extended);
    for (const signal of message.signals) {
      signals++;
      const written = shortNames.get(`${key} ${signal.name}`) ?? signal.name;
      const candidate = found.get(key)?.get(written);
      if (candidate !== undefined) into.found++;
      if (candidate !== undefined && isDefinedAs(candidate, signal)) into.definitions++;
      values += scoreValues(message, signal, candidate, into);
    }
  }
  return { signals, values };
}

function scoreValues(
  message: ExpectedMessage,
  signal: ExpectedSignal,
  candidate: FoundSignal | undefined,
  into: Score,
): number {
  let values = 0;
  message.vectors.forEach((vector, index) => {
    const physical = vector.phys?.[signal.name];
    if (physical === undefined || (typeof physical === 'object' && 'float' in physical)) return;
    values++;
    const value = candidate?.values[index] ?? null;
    if (value === null) return;
    const wanted = numberOf(physical);
    if (isNear(value, wanted, signal)) into.values++;
    else if (isLimited(value, wanted, signal)) into.limited++;
  });
  return values;
}

function numberOf(value: ExpectedNumber | null): number {
  if (value === null) return 0;
  return typeof value === 'number' ? value : Number('int' in value ? value.int : NaN);
}

function isNear(value: number, wanted: number, { offset }: ExpectedSignal): boolean {
  return Math.abs(value - wanted) <= 2 ** -50 * (Math.abs(wanted) + Math.abs(offset));
}

function isLimited(value: number, wanted: number, signal: ExpectedSignal): boolean {
  const [min, max] = [numberOf(signal.min), numberOf(signal.max)];
  return (wanted > max && value === max) || (wanted < min && value === min);
}

function isDefinedAs(
  found: FoundSignal,
  { start, length, byte_order, signed, scale, offset, min, max, unit }: ExpectedSignal,
): boolean {
  return (
    found.start === start &&
    found.length === length &&
    found.big === (byte_order === 'big_endian') &&
    found.signed === signed &&
    found.factor === scale &&
    found.offset === offset &&
    found.min === numberOf(min) &&
    found.max === numberOf(max) &&
    found.unit === (unit ?? '')
  );
}

function keyOf(id: number, extended: boolean): string {
  return `${id}${extended ? 'x' : ''}`;
}

/** Expected names are long names; candied knows only the written ones, and is compared by those. */
function shortNamesOf({ bytes }: CorpusFile): Map<string, string> {
  const names = new Map<string, string>();
  for (const { frameId, extended, signals } of readDbc(bytes, { encoding: 'windows-1252' }).database.messages) {
    for (const { name, shortName } of signals) names.set(`${keyOf(frameId, extended)} ${name}`, shortName);
  }
  return names;
}

function readByUs({ bytes, expected }: CorpusFile): FoundMessages {
  const { database } = readDbc(bytes, { encoding: 'windows-1252' });
  const messages = new Map<string, Map<string, FoundSignal>>();
  for (const message of database.messages) {
    const key = keyOf(message.frameId, message.extended);
    const vectors = expected.messages.find(({ id, extended }) => keyOf(id, extended) === key)?.vectors ?? [];
    const decoded = vectors.map((vector) => decodeMessage(message, bytesOf(vector.data)).signals);
    const found = message.signals.map((signal): [string, FoundSignal] => [
      signal.shortName,
      {
        start: signal.startBit,
        length: signal.lengthBits,
        big: signal.order === 'big',
        signed: signal.signed,
        factor: signal.factor.value,
        offset: signal.offset.value,
        min: signal.min.value,
        max: signal.max.value,
        unit: signal.unit,
        values: decoded.map((values) => {
          const value = values.find((one) => one.signal === signal)?.value;
          return value === undefined ? null : Number(value);
        }),
      },
    ]);
    messages.set(key, new Map(found));
  }
  return messages;
}

const REGISTRY_PROGRAM = `
  import { createRequire } from 'node:module';
  const { Dbc, Can } = createRequire(process.argv[1])('candied');
  let input = '';
  for await (const chunk of process.stdin) input += chunk;
  const { text, payloads } = JSON.parse(input);
  const can = new Can();
  const found = [];
  for (const message of new Dbc().load(text).messages.values()) {
    // Its id has bit 31 or has lost it: either is taken for the frame id.
    const bare = message.id % 0x80000000;
    const key = [bare + (message.id >= 0x80000000 || bare > 0x7ff ? 'x' : ''), String(bare), bare + 'x'].find((key) => key in payloads);
    if (key === undefined) continue;
    for (const signal of message.signals.values()) {
      const values = payloads[key].map((payload) => {
        try { const { value } = can.decodeSignal(payload, signal); return Number.isFinite(value) ? value : null; } catch { return null; }
      });
      found.push([key, signal.name, { start: signal.startBit, length: signal.length, big: signal.endian === 'Motorola', signed: signal.signed,
        factor: signal.factor, offset: signal.offset, min: signal.min, max: signal.max, unit: signal.unit ?? '', values }]);
    }
  }
  console.log('found ' + JSON.stringify(found));
`;

/** What candied reads and decodes; `null` when it fails or does not end. */
function readByRegistry({ bytes, expected }: CorpusFile): Promise<FoundMessages | null> {
  const payloads = Object.fromEntries(
    expected.messages.map(({ id, extended, vectors }) => [
      keyOf(id, extended),
      vectors.map(({ data }) => [...bytesOf(data)]),
    ]),
  );
  const text = String.fromCharCode(...[...bytes].map((byte) => byte));
  return new Promise((resolve) => {
    const root = pathToFileURL(`${process.cwd()}/package.json`).href;
    const options = { timeout: LIMIT_MS, maxBuffer: 1 << 28 };
    const child = execFile(
      process.execPath,
      ['--input-type=module', '-e', REGISTRY_PROGRAM, root],
      options,
      (error, out) => {
        const line = /^found (.*)$/m.exec(out)?.[1];
        if (error !== null || line === undefined) resolve(null);
        else resolve(foundMessages(JSON.parse(line) as [string, string, FoundSignal][]));
      },
    );
    child.stdin?.end(JSON.stringify({ text, payloads }));
  });
}

function foundMessages(found: readonly [string, string, FoundSignal][]): FoundMessages {
  const messages = new Map<string, Map<string, FoundSignal>>();
  for (const [key, name, signal] of found) {
    const signals = messages.get(key) ?? new Map<string, FoundSignal>();
    signals.set(name, signal);
    messages.set(key, signals);
  }
  return messages;
}
