import { parentPort } from 'node:worker_threads';
import { checkMapOrTell } from './checked-map.ts';

/** What the command asks a thread for; the answer is the checked map. */
export interface CheckRequest {
  readonly path: string;
  readonly rules: readonly string[];
  readonly cwd: string;
}

parentPort?.on('message', ({ path, rules, cwd }: CheckRequest) => {
  checkMapOrTell(path, rules, cwd).then(
    (checked) => parentPort!.postMessage(checked),
    // What is no fault of the input is a fault of ours: it ends the thread and reaches the command as an error.
    (error: unknown) => {
      setImmediate(() => {
        throw error;
      });
    },
  );
});
