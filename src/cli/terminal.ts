import { once } from 'node:events';

/** 0 nothing found, 1 findings, 2 unusable input, 130 stopped by the user. */
export type ExitCode = 0 | 1 | 2 | 130;

/** Where a command reads and prints: the process in earnest, memory in tests. */
export interface Terminal {
  readonly cwd: string;
  /** Today as an ISO day, for documents that carry a date. */
  readonly today: string;
  readonly colour: boolean;
  readonly columns: number;
  out(text: string | Uint8Array): void;
  err(text: string): void;
  /** Resolves when what was printed has been taken over by its reader. */
  drained(): Promise<void>;
  /** Replaces the line that tells how far a long run is; '' clears it. Nothing happens where nobody looks on. */
  status(line: string): void;
  /** Calls back once when the user interrupts; undo by calling what is given back. */
  onInterrupt(stop: () => void): () => void;
  setExitCode(code: ExitCode): void;
  exitCode(): number;
}

/** The terminal of this process. `CROSSLOOM_TODAY` fixes the day, for reproducible documents. */
export function processTerminal(): Terminal {
  let exitCode: ExitCode = 0;
  const fixed = process.env['CROSSLOOM_TODAY'];
  process.stdout.on('error', (error: NodeJS.ErrnoException) => {
    // A reader such as `head` may close early: that is no fault of ours.
    if (error.code === 'EPIPE') process.exit(exitCode);
    throw error;
  });
  return {
    cwd: process.cwd(),
    today: fixed !== undefined && /^\d{4}-\d{2}-\d{2}$/.test(fixed) ? fixed : new Date().toISOString().slice(0, 10),
    colour: process.stdout.isTTY === true && process.env['NO_COLOR'] === undefined,
    columns: process.stdout.columns ?? 100,
    out: (text) => void process.stdout.write(text),
    err: (text) => void process.stderr.write(text),
    drained: async () => {
      if (process.stdout.writableNeedDrain) await once(process.stdout, 'drain');
    },
    status: (line) => {
      if (process.stderr.isTTY !== true) return;
      process.stderr.write(`\r\u001b[2K${line.slice(0, (process.stderr.columns || 80) - 1)}`);
    },
    onInterrupt: (stop) => {
      process.once('SIGINT', stop);
      return () => void process.off('SIGINT', stop);
    },
    setExitCode: (code) => {
      exitCode = code;
    },
    exitCode: () => exitCode,
  };
}
