import { app } from 'electron';
import { resolve } from 'node:path';
import type { Shell } from './shell.ts';

/** The map named on a command line; null when none is. */
export function mapInArguments(args: readonly string[], cwd: string): string | null {
  const named = args.slice(1).find((argument) => argument.endsWith('.map.json') && !argument.startsWith('-'));
  return named === undefined ? null : resolve(cwd, named);
}

/** Files from the command line, from a second start, and from the system's file association. */
export function openFilesFromSystem(shell: Shell): void {
  const first = mapInArguments(process.argv, process.cwd());
  if (first) shell.open(first);
  app.on('second-instance', (_event, args, cwd) => {
    const path = mapInArguments(args, cwd);
    if (path) shell.open(path);
    else shell.window()?.focus();
  });
  app.on('open-file', (event, path) => {
    event.preventDefault();
    shell.open(path);
  });
  app.on('window-all-closed', () => {
    if (process.platform !== 'darwin') app.quit();
  });
  app.on('activate', () => {
    if (!shell.window()) shell.openWindow();
  });
}
