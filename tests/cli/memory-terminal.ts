import { runTerminal } from '../../src/cli/main.ts';
import type { Terminal } from '../../src/cli/terminal.ts';

export interface Ran {
  readonly code: number;
  readonly out: string;
  readonly err: string;
}

/** Runs one command line in memory, in a folder, on a fixed day. */
export function run(cwd: string, ...args: readonly string[]): Promise<Ran> {
  return runWith(cwd, {}, ...args);
}

/** The same with some of the terminal replaced. */
export async function runWith(cwd: string, more: Partial<Terminal>, ...args: readonly string[]): Promise<Ran> {
  let out = '';
  let err = '';
  let code = 0;
  const terminal: Terminal = {
    cwd,
    today: '2026-01-31',
    colour: false,
    columns: 100,
    out: (text) => {
      out += typeof text === 'string' ? text : Buffer.from(text).toString('utf8');
    },
    err: (text) => {
      err += text;
    },
    drained: () => Promise.resolve(),
    status: () => undefined,
    onInterrupt: () => () => undefined,
    setExitCode: (next) => {
      code = next;
    },
    exitCode: () => code,
    ...more,
  };
  code = await runTerminal(args, terminal);
  return { code, out, err };
}
