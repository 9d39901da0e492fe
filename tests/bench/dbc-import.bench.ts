/**
 * Speed of the DBC reader as a ratio to splitting the same text into lines and words, in one process, so that it holds on any
 * machine. The registry's parser is shown beside it on smaller sizes, in a process of its own with a limit: its time grows with the
 * square of the size.
 */
import { execFile } from 'node:child_process';
import { pathToFileURL } from 'node:url';
import { readDbc } from '../../src/can/formats/dbc/index.ts';
import { generateDbc } from './generate-dbc.ts';

export interface BenchRow {
  readonly work: string;
  readonly against: string;
  readonly ratio: number;
  readonly target?: number;
  readonly note?: string;
}

const SIGNALS = 10_000;
const RUNS = 15;
/** Signals, and how many of them a message has: its time grows with the square of the number of messages. */
const REGISTRY_SIZES = [
  [10_000, 10],
  [2000, 1],
  [4000, 1],
  [8000, 1],
] as const;
const REGISTRY_LIMIT_MS = 60_000;

/** Splits as plainly as it can be done; returns the number of words, so that nothing is optimised away. */
function splitIntoWords(text: string): number {
  let words = 0;
  for (const line of text.split('\n')) words += line.split(' ').length;
  return words;
}

function timeMs(work: () => unknown): number {
  const start = performance.now();
  work();
  return performance.now() - start;
}

function median(times: readonly number[]): number {
  return [...times].sort((a, b) => a - b)[times.length >> 1] as number;
}

/** Medians of several runs, the two works taking turns, each on a fresh copy of its input. */
function compare<T>(
  input: T,
  copy: (input: T) => T,
  work: (input: T) => unknown,
  against: (input: T) => unknown,
): [number, number] {
  const workTimes: number[] = [];
  const againstTimes: number[] = [];
  for (let run = -3; run < RUNS; run++) {
    const forWork = copy(input);
    const workTime = timeMs(() => work(forWork));
    const forAgainst = copy(input);
    const againstTime = timeMs(() => against(forAgainst));
    if (run < 0) continue; // warming up
    workTimes.push(workTime);
    againstTimes.push(againstTime);
  }
  return [median(workTimes), median(againstTimes)];
}

/** A copy of the text that shares nothing with it. */
function freshText(text: string): string {
  return new TextDecoder().decode(new TextEncoder().encode(text));
}

/** The rows of the DBC import: from text, from bytes, growth, and the registry's parser. */
export async function rows(): Promise<BenchRow[]> {
  const text = generateDbc(SIGNALS);
  const { database, faults } = readDbc(text);
  const read = database.messages.reduce((sum, message) => sum + message.signals.length, 0);
  if (read !== SIGNALS || faults.some(({ code }) => code === 'statement-unreadable'))
    throw new Error('the generated file was not read');

  const [fromText, split] = compare(text, freshText, readDbc, splitIntoWords);
  const bytes = new TextEncoder().encode(text);
  const [fromBytes, splitBytes] = compare(
    bytes,
    (input) => input.slice(),
    readDbc,
    (input) => splitIntoWords(new TextDecoder().decode(input)),
  );
  const [tenfold] = compare(generateDbc(10 * SIGNALS), freshText, readDbc, () => 0);
  const megabytes = (text.length / 1e6).toFixed(1);
  return [
    {
      work: `DBC import, ${SIGNALS} signals (${megabytes} MB), from text`,
      against: 'splitting that text into lines and words',
      ratio: fromText / split,
      target: 6,
    },
    {
      work: `DBC import, ${SIGNALS} signals, from bytes`,
      against: 'decoding them and splitting into lines and words',
      ratio: fromBytes / splitBytes,
      target: 6,
    },
    {
      work: `DBC import, ${10 * SIGNALS} signals`,
      against: `the same with ${SIGNALS} signals`,
      ratio: tenfold / fromText,
      note: 'ten times the file: linear growth is about 10',
    },
    ...(await registryRows()),
  ];
}

async function registryRows(): Promise<BenchRow[]> {
  const rows: BenchRow[] = [];
  for (const [signals, perMessage] of REGISTRY_SIZES) {
    const text = generateDbc(signals, perMessage);
    const [ours] = compare(text, freshText, readDbc, () => 0);
    const theirs = await registryTimeMs(text);
    rows.push({
      work: `candied 2.2.0 (registry), ${signals} signals in ${signals / perMessage} messages`,
      against: 'our import of that file',
      ratio: theirs === null ? Infinity : theirs / ours,
      note: theirs === null ? `stopped after ${REGISTRY_LIMIT_MS / 1000} s` : 'median of 3 after one run to warm up',
    });
  }
  return rows;
}

const REGISTRY_PROGRAM = `
  import { createRequire } from 'node:module';
  const { Dbc } = createRequire(process.argv[1])('candied');
  let text = '';
  for await (const chunk of process.stdin) text += chunk;
  const times = [];
  for (let run = -1; run < 3; run++) {
    const start = performance.now();
    new Dbc().load(text);
    if (run >= 0) times.push(performance.now() - start);
  }
  console.log('time ' + times.sort((a, b) => a - b)[1]);
`;

/** Time that the registry's parser takes, in a process of its own; `null` when it hits the limit. */
function registryTimeMs(text: string): Promise<number | null> {
  return new Promise((resolve, reject) => {
    const root = pathToFileURL(`${process.cwd()}/package.json`).href;
    const options = { timeout: REGISTRY_LIMIT_MS, maxBuffer: 1 << 26 };
    const child = execFile(
      process.execPath,
      ['--input-type=module', '-e', REGISTRY_PROGRAM, root],
      options,
      (error, out, err) => {
        if (child.killed) resolve(null);
        else if (error !== null) reject(new Error(`candied did not run: ${err}`));
        else resolve(Number(/time ([\d.]+)/.exec(out)?.[1]));
      },
    );
    child.stdin?.end(text);
  });
}
