/** Where a command reads and prints: the process in earnest, memory in tests. */
export interface Terminal {
  readonly cwd: string;
  /** Today as an ISO day, for documents that carry a date. */
  readonly today: string;
  readonly colour: boolean;
  readonly columns: number;
  out(text: string | Uint8Array): void;
  err(text: string): void;
  setExitCode(code: 0 | 1 | 2): void;
  exitCode(): number;
}

/** The terminal of this process. `CROSSLOOM_TODAY` fixes the day, for reproducible documents. */
export function processTerminal(): Terminal {
  let exitCode = 0;
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
    setExitCode: (code) => {
      exitCode = code;
    },
    exitCode: () => exitCode,
  };
}
