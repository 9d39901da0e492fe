import { existsSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { fileURLToPath } from 'node:url';
import { Worker } from 'node:worker_threads';
import type { CheckRequest } from './check-worker.ts';
import { checkMapOrTell, type CheckedMap, type UnusableMap } from './checked-map.ts';

export type FolderResult = CheckedMap | UnusableMap;

/** Fewer maps than this are checked sooner than threads are started. */
const WORTH_THREADS = 4;

/** The bundle of `check-worker.ts`, which lies beside that of the program; null when run from the sources. */
function workerBundle(): string | null {
  const path = fileURLToPath(new URL('check-worker.mjs', import.meta.url));
  return existsSync(path) ? path : null;
}

/** Checks maps on all cores, in the order given; `onProgress` hears how many are done. */
export async function checkMaps(
  paths: readonly string[],
  rules: readonly string[],
  cwd: string,
  onProgress: (done: number) => void,
): Promise<readonly FolderResult[]> {
  const bundle = workerBundle();
  const threads = Math.min(availableParallelism(), paths.length);
  if (bundle === null || threads < 2 || paths.length < WORTH_THREADS) {
    const results: FolderResult[] = [];
    for (const path of paths) {
      results.push(await checkMapOrTell(path, rules, cwd));
      onProgress(results.length);
    }
    return results;
  }
  return checkInThreads(bundle, threads, paths, rules, cwd, onProgress);
}

async function checkInThreads(
  bundle: string,
  threads: number,
  paths: readonly string[],
  rules: readonly string[],
  cwd: string,
  onProgress: (done: number) => void,
): Promise<readonly FolderResult[]> {
  const results = new Array<FolderResult>(paths.length);
  let [next, done] = [0, 0];
  const workers = Array.from({ length: threads }, () => new Worker(bundle));
  try {
    await Promise.all(
      workers.map(
        (worker) =>
          new Promise<void>((finished, failed) => {
            let mine = -1;
            const ask = (): void => {
              mine = next++;
              if (mine >= paths.length) finished();
              else worker.postMessage({ path: paths[mine]!, rules, cwd } satisfies CheckRequest);
            };
            worker.on('error', failed);
            worker.on('exit', (code) => failed(new Error(`a checking thread ended with code ${code}`)));
            worker.on('message', (result: FolderResult) => {
              results[mine] = result;
              onProgress((done += 1));
              ask();
            });
            ask();
          }),
      ),
    );
    return results;
  } finally {
    await Promise.all(workers.map((worker) => worker.terminate()));
  }
}
