import { check, recheck, type Run } from '../../checks/index.ts';
import { indexSide, pair, type Side } from '../../model/index.ts';
import type { WorkerAnswer, WorkerRequest } from './protocol.ts';

let host: Side | null = null;
let donor: Side | null = null;
let run: Run | null = null;

function answer(message: WorkerAnswer): void {
  postMessage(message);
}

self.onmessage = ({ data }: MessageEvent<WorkerRequest>) => {
  const started = performance.now();
  try {
    if (data.host) host = indexSide('host', data.host);
    if (data.donor) donor = indexSide('donor', data.donor);
    if (!host || !donor) return;
    const pairing = pair(shareUnchanged(data.map), host, donor);
    run = run && !data.host && !data.donor ? recheck(run, pairing) : check(pairing);
    answer({
      kind: 'checked',
      version: data.version,
      findings: run.findings,
      counts: run.counts,
      elapsedMs: performance.now() - started,
    });
  } catch (error) {
    run = null;
    answer({ kind: 'failed', version: data.version, message: error instanceof Error ? error.message : String(error) });
  }
};

/**
 * A map that came through postMessage is all new objects; entries that say the same as before are taken from before, so that
 * the re-check sees which routes changed.
 */
function shareUnchanged(map: WorkerRequest['map']): WorkerRequest['map'] {
  const before = run?.pairing.map;
  if (!before) return map;
  return Object.fromEntries(
    Object.entries(map).map(([key, value]) => {
      const old = before[key as keyof typeof before] as unknown;
      if (Array.isArray(value) && Array.isArray(old)) return [key, shareEntries(value, old)];
      return [key, JSON.stringify(value) === JSON.stringify(old) ? old : value];
    }),
  ) as WorkerRequest['map'];
}

function shareEntries(list: readonly unknown[], before: readonly unknown[]): readonly unknown[] {
  const byText = new Map(before.map((entry) => [JSON.stringify(entry), entry]));
  const shared = list.map((entry) => byText.get(JSON.stringify(entry)) ?? entry);
  return shared.length === before.length && shared.every((entry, at) => entry === before[at]) ? before : shared;
}
