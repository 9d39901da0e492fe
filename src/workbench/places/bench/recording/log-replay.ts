import {
  busNames,
  createCapture,
  inferBuses,
  logReader,
  mergeLogs,
  type CaptureReport,
  type InferredBus,
  type LogReader,
} from '../../../../translate/index.ts';
import type { Combination, Pairing } from '../../../../model/index.ts';
import { createRecorder, type Recorder, type Recording } from './recorder.ts';
import { stimulate, type StimulusPlan } from './stimulus.ts';

/** Memory a recording may take, in bytes; about an hour and a half of three busy networks. */
export const MOST_BYTES = 400_000_000;
/** How long the thread works before it looks for requests, in ms. */
const TURN_MS = 40;

/** One log: its name, its size for the progress, and where its text comes from. */
export interface LogText {
  readonly name: string;
  readonly bytes: number;
  readonly chunks: AsyncIterable<Uint8Array>;
}

export interface ReplayWatch {
  /** Told now and then; true: stop here, keep what there is. */
  stopped(): boolean;
  progress(fraction: number, timeUs: number): void;
  /** Lets the thread see its requests. */
  breathe(): Promise<void>;
  nowMs(): number;
}

export interface Replayed {
  readonly recording: Recording;
  readonly readers: readonly { readonly name: string; readonly reader: LogReader }[];
  readonly inferred: readonly InferredBus[];
  /** The logs held against the map as a capture of it; null: that was not asked for. */
  readonly capture: CaptureReport | null;
  readonly cutShort: 'stopped' | 'full' | null;
}

/**
 * Replays logs that were recorded together, merged by time, through a build of the map. `buses`: what is said of interface names, as
 * `can0=host:bus`; names of which nothing is said are inferred from the frame ids at the beginning. `compare`: the logs are a capture of
 * all buses and are held against the map too. Throws what the readers throw.
 */
export async function replayLogs(
  pairing: Pairing,
  combination: Combination,
  buses: readonly string[],
  logs: readonly LogText[],
  watch: ReplayWatch,
  { compare = false, mostBytes = MOST_BYTES }: { readonly compare?: boolean; readonly mostBytes?: number } = {},
): Promise<Replayed> {
  const begun = await Promise.all(logs.map(async (log) => ({ ...log, ...(await beginningOf(log.chunks)) })));
  const said = busNames(pairing, buses);
  const inferred = inferBuses(
    pairing,
    said,
    begun.map(({ beginning }) => new TextDecoder().decode(beginning)),
  );
  const names = busNames(pairing, [...buses, ...inferred.map(({ interfaceName, bus }) => `${interfaceName}=${bus}`)]);
  const recorder = createRecorder(pairing, combination);
  const capture = compare ? createCapture(pairing, { combination }) : null;
  let read = 0;
  const total = logs.reduce((sum, { bytes }) => sum + bytes, 0);
  async function* counted(chunks: AsyncIterable<Uint8Array>): AsyncGenerator<Uint8Array> {
    for await (const chunk of chunks) {
      read += chunk.length;
      yield chunk;
    }
  }
  const sources = begun.map(({ name, chunks }) => ({
    name,
    reader: logReader(pairing, names),
    chunks: counted(chunks),
  }));
  const pace = paceOf(recorder, watch, mostBytes);
  let cutShort: Replayed['cutShort'] = null;
  for await (const run of mergeLogs(sources)) {
    for (const event of run) {
      if (event.kind === 'frame') capture?.onFrame(event);
      else capture?.onWire(event.wire, event.level, event.timeUs);
      if (event.kind === 'frame') recorder.onFrame(event);
      else if (event.level.kind !== 'open') recorder.onWire(event.wire, event.level, event.timeUs);
    }
    cutShort = await pace(total === 0 ? 1 : read / total);
    if (cutShort !== null) break;
  }
  return {
    recording: recorder.finish(),
    readers: sources,
    inferred,
    capture: capture?.report(cutShort === null) ?? null,
    cutShort,
  };
}

/** Plays a made-up course through a build of the map. */
export async function replayStimulus(
  pairing: Pairing,
  combination: Combination,
  plan: StimulusPlan,
  watch: ReplayWatch,
): Promise<Replayed> {
  const recorder = createRecorder(pairing, combination, 0);
  const pace = paceOf(recorder, watch, MOST_BYTES);
  let cutShort: Replayed['cutShort'] = null;
  let count = 0;
  for (const event of stimulate(pairing, plan)) {
    if (event.kind === 'frame') recorder.onFrame(event.frame);
    else recorder.onWire(event.ref, event.level, event.timeUs);
    count += 1;
    if (count % 512 !== 0) continue;
    cutShort = await pace(recorder.timeUs / 1000 / plan.forMs);
    if (cutShort !== null) break;
  }
  return {
    recording: recorder.finish(cutShort === null ? plan.forMs * 1000 : undefined),
    readers: [],
    inferred: [],
    capture: null,
    cutShort,
  };
}

/** The first piece of a text, and all of it with that piece in its place. */
async function beginningOf(
  chunks: AsyncIterable<Uint8Array>,
): Promise<{ readonly beginning: Uint8Array; readonly chunks: AsyncIterable<Uint8Array> }> {
  const rest = chunks[Symbol.asyncIterator]();
  const first = await rest.next();
  if (first.done === true) return { beginning: new Uint8Array(), chunks: rest as AsyncIterableIterator<Uint8Array> };
  async function* whole(): AsyncGenerator<Uint8Array> {
    yield first.value as Uint8Array;
    for (let next = await rest.next(); next.done !== true; next = await rest.next()) yield next.value;
  }
  return { beginning: first.value, chunks: whole() };
}

function paceOf(
  recorder: Recorder,
  watch: ReplayWatch,
  mostBytes: number,
): (fraction: number) => Promise<Replayed['cutShort']> {
  let since = watch.nowMs();
  return async (fraction) => {
    if (recorder.bytes > mostBytes) return 'full';
    if (watch.nowMs() - since < TURN_MS) return null;
    watch.progress(Math.min(1, fraction), recorder.timeUs);
    await watch.breathe();
    since = watch.nowMs();
    return watch.stopped() ? 'stopped' : null;
  };
}
