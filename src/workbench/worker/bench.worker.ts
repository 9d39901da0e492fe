import { indexSide, pair, type Pairing } from '../../model/index.ts';
import { openRecording, type OpenRecording } from '../places/bench/recording/open-recording.ts';
import {
  replayLogs,
  replayStimulus,
  type LogText,
  type Replayed,
  type ReplayWatch,
} from '../places/bench/recording/log-replay.ts';
import type { BenchAnswer, BenchDocuments, BenchRequest, LogPart } from './bench-protocol.ts';

let recorded: OpenRecording | null = null;
let stopped = false;
/** Parts of logs that were asked for and have not come yet. */
const awaited = new Map<
  number,
  { readonly take: (bytes: Uint8Array) => void; readonly refuse: (error: Error) => void }
>();

function answer(message: BenchAnswer, transfer: Transferable[] = []): void {
  postMessage(message, { transfer });
}

self.onmessage = ({ data }: MessageEvent<BenchRequest>) => {
  switch (data.kind) {
    case 'replay':
      void run(data.documents, (pairing, watch) =>
        replayLogs(pairing, buildOf(pairing, data.documents), data.buses, data.logs.map(textOf), watch, {
          compare: data.compare,
        }),
      );
      return;
    case 'stimulate':
      void run(data.documents, (pairing, watch) =>
        replayStimulus(pairing, buildOf(pairing, data.documents), data.plan, watch),
      );
      return;
    case 'part':
      awaited.get(data.log)?.take(data.bytes);
      return;
    case 'part-failed':
      awaited.get(data.log)?.refuse(new Error(data.message));
      return;
    case 'stop':
      stopped = true;
      return;
    case 'lanes': {
      if (recorded === null) return;
      const { heads, points } = recorded.lanes(data.routes, data.span);
      const buffers = points.flatMap(({ sources, delivered, target }) => [...sources, delivered, target]);
      answer({ kind: 'lanes', token: data.token, span: data.span, heads, points }, [
        ...new Set(buffers.filter(({ length }) => length > 0).map(({ buffer }) => buffer as ArrayBuffer)),
      ]);
      return;
    }
    case 'moment':
      if (recorded !== null)
        answer({ kind: 'moment', token: data.token, moment: recorded.moment(data.timeUs, data.at, data.scope) });
      return;
    case 'step':
      if (recorded !== null)
        answer({
          kind: 'moment',
          token: data.token,
          moment: recorded.step(data.timeUs, data.at, data.step, data.scope),
        });
      return;
    case 'turn':
      if (recorded !== null)
        answer({ kind: 'moment', token: data.token, moment: recorded.turn(data.timeUs, data.step, data.routes) });
  }
};

async function run(
  documents: BenchDocuments,
  replay: (pairing: Pairing, watch: ReplayWatch) => Promise<Replayed>,
): Promise<void> {
  const started = performance.now();
  stopped = false;
  recorded = null;
  try {
    const pairing = pair(documents.map, indexSide('host', documents.host), indexSide('donor', documents.donor));
    const replayed = await replay(pairing, {
      stopped: () => stopped,
      progress: (fraction, timeUs) => answer({ kind: 'progress', fraction, timeUs }),
      breathe: () => new Promise((resolve) => setTimeout(resolve)),
      nowMs: () => performance.now(),
    });
    recorded = openRecording(replayed);
    answer({ kind: 'recorded', summary: recorded.summary(performance.now() - started) });
  } catch (error) {
    answer({ kind: 'failed', message: error instanceof Error ? error.message : String(error) });
  } finally {
    awaited.clear();
  }
}

function buildOf({ options }: Pairing, { build }: BenchDocuments): ReadonlyMap<string, string> {
  return options.combinations[build] ?? options.combinations[0] ?? new Map<string, string>();
}

function textOf({ name, bytes, file }: LogPart, log: number): LogText {
  return { name, bytes, chunks: file === null ? fetched(log) : streamed(file) };
}

async function* streamed(file: Blob): AsyncGenerator<Uint8Array> {
  const reader = file.stream().getReader();
  try {
    for (;;) {
      const { done, value } = await reader.read();
      if (done) return;
      yield value;
    }
  } finally {
    void reader.cancel();
  }
}

/** A log that lies on the machine: the page fetches it part by part. */
async function* fetched(log: number): AsyncGenerator<Uint8Array> {
  for (let from = 0; ;) {
    const bytes = await new Promise<Uint8Array>((take, refuse) => {
      awaited.set(log, { take, refuse });
      answer({ kind: 'wants', log, from });
    });
    if (bytes.length === 0) return;
    from += bytes.length;
    yield bytes;
  }
}
