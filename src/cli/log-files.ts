import { createReadStream } from 'node:fs';
import { stat } from 'node:fs/promises';
import { resolve } from 'node:path';
import { reasonOf, UnusableInput } from '../host/index.ts';
import type { Pairing } from '../model/index.ts';
import {
  type BusNames,
  BusNamesError,
  busNames,
  type InferredBus,
  inferBuses,
  logReader,
  type LogReader,
  type LogSource,
  mergeLogs,
  printable,
  wireLogReader,
} from '../translate/index.ts';
import type { Terminal } from './terminal.ts';

/** Which logs to read, as given on the command line; `-` is standard input. */
export interface LogFiles {
  readonly log: readonly string[];
  readonly wires: readonly string[];
  /** `can0=host:chassis-can`. */
  readonly map: readonly string[];
}

/** Logs opened for reading together. */
export interface OpenLogs {
  readonly names: BusNames;
  readonly inferred: readonly InferredBus[];
  readonly logs: readonly { readonly name: string; readonly reader: LogReader }[];
  /** Every event in order of time, in runs; see `mergeLogs`. */
  readonly events: ReturnType<typeof mergeLogs>;
  readonly bytesRead: () => number;
  /** Size of all files; null when it is not known. */
  readonly bytesInAll: number | null;
}

const PIECE_BYTES = 256 * 1024;

/**
 * Opens the logs of one run. Interfaces that neither `--map` nor their name tells are told by the frames at the beginning, where that
 * leaves no doubt. Throws UnusableInput for what cannot be opened, and for a mapping that cannot be used.
 */
export async function openLogs(
  pairing: Pairing,
  { log, wires, map }: LogFiles,
  mayBeOpen: boolean,
  terminal: Terminal,
): Promise<OpenLogs> {
  if ([...log, ...wires].filter((name) => name === '-').length > 1)
    throw new UnusableInput('standard input (-) can be read as one log only');
  const told = namesFor(pairing, map);
  let bytesRead = 0;
  let bytesInAll: number | null = 0;
  const begun: { name: string; wires: boolean; beginning: string; chunks: AsyncIterable<Uint8Array> }[] = [];
  for (const [names, areWires] of [
    [log, false],
    [wires, true],
  ] as const) {
    for (const name of names) {
      const size = name === '-' ? null : await sizeOf(resolve(terminal.cwd, name), name);
      bytesInAll = size === null || bytesInAll === null ? null : bytesInAll + size;
      const chunks = piecesOf(name, terminal, (bytes) => (bytesRead += bytes));
      begun.push({ name, wires: areWires, ...(await readAhead(chunks)) });
    }
  }
  const inferred = inferBuses(
    pairing,
    told,
    begun.flatMap((one) => (one.wires ? [] : [one.beginning])),
  );
  const names = namesFor(pairing, [...map, ...inferred.map(({ interfaceName, bus }) => `${interfaceName}=${bus}`)]);
  const sources = begun.map((one): LogSource => ({
    name: one.name,
    chunks: one.chunks,
    reader: one.wires ? wireLogReader(pairing, { mayBeOpen }) : logReader(pairing, names, { mayBeOpen }),
  }));
  return {
    names,
    inferred,
    logs: sources,
    events: mergeLogs(sources),
    bytesRead: () => bytesRead,
    bytesInAll,
  };
}

function namesFor(pairing: Pairing, pairs: readonly string[]): BusNames {
  try {
    return busNames(pairing, pairs);
  } catch (error) {
    if (error instanceof BusNamesError) throw new UnusableInput(error.message);
    throw error;
  }
}

async function sizeOf(path: string, name: string): Promise<number | null> {
  const found = await stat(path).catch((error: unknown) => {
    throw new UnusableInput(`cannot read ${name}: ${reasonOf(error)}`);
  });
  if (found.isDirectory()) throw new UnusableInput(`${name} is a folder; name a file`);
  return found.isFile() ? found.size : null;
}

async function* piecesOf(
  name: string,
  terminal: Terminal,
  count: (bytes: number) => void,
): AsyncGenerator<Uint8Array, void, undefined> {
  const stream =
    name === '-' ? process.stdin : createReadStream(resolve(terminal.cwd, name), { highWaterMark: PIECE_BYTES });
  try {
    for await (const piece of stream) {
      const bytes = piece as Uint8Array;
      count(bytes.length);
      yield bytes;
    }
  } catch (error) {
    throw new UnusableInput(`cannot read ${name}: ${reasonOf(error)}`);
  }
}

/** The beginning of a text, and all of it still to be read. */
async function readAhead(
  pieces: AsyncGenerator<Uint8Array, void, undefined>,
): Promise<{ readonly beginning: string; readonly chunks: AsyncIterable<Uint8Array> }> {
  const ahead: Uint8Array[] = [];
  let bytes = 0;
  while (bytes < PIECE_BYTES) {
    const next = await pieces.next();
    if (next.done === true) break;
    ahead.push(next.value);
    bytes += next.value.length;
  }
  return { beginning: Buffer.concat(ahead).toString('utf8'), chunks: allOf(ahead, pieces) };
}

async function* allOf(
  ahead: readonly Uint8Array[],
  pieces: AsyncGenerator<Uint8Array, void, undefined>,
): AsyncGenerator<Uint8Array, void, undefined> {
  try {
    yield* ahead;
    yield* pieces;
  } finally {
    await pieces.return();
  }
}

const MOST_LISTED = 20;

/** Says which interfaces were taken for which bus by their frames. */
export function tellOfInferred({ inferred }: OpenLogs, terminal: Terminal): void {
  for (const { interfaceName, bus, ids } of inferred)
    terminal.err(
      `${printable(interfaceName)} is taken for ${bus}: ${ids} of its frame ids are that bus's alone (--map ${printable(interfaceName)}=BUS says otherwise)\n`,
    );
}

/** Says what was left out of the logs. True when lines were bad. */
export function tellOfLogs({ logs, names }: OpenLogs, terminal: Terminal): boolean {
  let bad = 0;
  let listed = 0;
  for (const { name, reader } of logs) {
    bad += reader.report.bad;
    for (const { line, column, problem } of reader.report.faults) {
      if (listed === MOST_LISTED) break;
      listed += 1;
      terminal.err(`${name}:${line}:${column}: ${printable(problem, 300)}\n`);
    }
    for (const [interfaceName, frames] of reader.report.unmapped)
      terminal.err(
        `${name}: ${interfaceName} stands for no bus, ${frames} of its frames were left out; --map ${interfaceName}=BUS names one of ${names.buses.join(', ')}\n`,
      );
  }
  if (bad > 0)
    terminal.err(
      `${bad} ${bad === 1 ? 'line was' : 'lines were'} left out${bad > listed ? `; ${listed} of them are named above` : ''}\n`,
    );
  return bad > 0;
}

const STATUS_EVERY_MS = 100;

/** Tells how far a run is, now and then, and lets an interruption be noticed; `done`: what is done with the log. */
export function progress(logs: OpenLogs, done: string, terminal: Terminal): (nowUs: number | null) => Promise<void> {
  const begunMs = performance.now();
  let toldMs = begunMs;
  return async (nowUs) => {
    const ms = performance.now();
    if (ms - toldMs < STATUS_EVERY_MS) return;
    toldMs = ms;
    await new Promise(setImmediate);
    const read = logs.bytesRead();
    const firstUs = Math.min(...logs.logs.map(({ reader }) => reader.report.firstUs ?? Infinity));
    const share = logs.bytesInAll === null ? '' : `${Math.floor((100 * read) / Math.max(1, logs.bytesInAll))} %, `;
    const seconds = nowUs === null ? 0 : (nowUs - firstUs) / 1e6;
    terminal.status(
      `${share}${(read / 1e6).toFixed(0)} MB read, ${(read / 1e3 / (ms - begunMs)).toFixed(0)} MB/s, ${seconds.toFixed(1)} s ${done}; Ctrl-C stops`,
    );
  };
}

/** Why there was nothing to read. */
export function nothingRead({ logs, names }: OpenLogs, done: string): UnusableInput {
  const faults = logs.flatMap(({ name, reader }) => [
    ...[...reader.report.unmapped].map(
      ([interfaceName, frames]) =>
        `${name}: ${interfaceName} stands for no bus (${frames} frames): --map ${interfaceName}=BUS`,
    ),
    ...reader.report.faults.slice(0, 5).map(({ line, column, problem }) => `${name}:${line}:${column}: ${problem}`),
  ]);
  return new UnusableInput(
    `nothing in ${logs.map(({ name }) => name).join(', ')} can be ${done}; the buses are ${names.buses.join(', ')}, frames look like (1436509052.249713) can0 123#DEADBEEF`,
    faults,
  );
}
