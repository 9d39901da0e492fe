import type { Command } from 'commander';
import { existsSync, statSync } from 'node:fs';
import { homedir } from 'node:os';
import { basename, dirname, join, relative, resolve, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import { UnusableInput, loadPairing, renderSpecRequest, startLoopback } from '../../host/index.ts';
import { wholeNumber } from '../formats.ts';
import type { Terminal } from '../terminal.ts';
import { VERSION } from '../version.ts';

/** The folder of the bundled program: dist/. */
const programFolder = dirname(fileURLToPath(import.meta.url));

/** The folder to open and the map in it, from what the user named. */
async function whatToOpen(path: string): Promise<{ root: string; opens: string | null }> {
  if (!existsSync(path)) throw new UnusableInput(`cannot open ${path}: there is no such file or folder`);
  if (statSync(path).isDirectory()) return { root: path, opens: null };
  const { platformPaths } = await loadPairing(path);
  // Platforms may lie above the map: the folder opened is the nearest that holds all three.
  let root = dirname(path);
  const holds = (folder: string): boolean =>
    Object.values(platformPaths).every((file) => !relative(folder, file).startsWith('..'));
  while (!holds(root) && dirname(root) !== root) root = dirname(root);
  return { root, opens: relative(root, path).split(sep).join('/') };
}

function stateFolder(): string {
  return (
    process.env['CROSSLOOM_STATE'] ??
    join(process.env['XDG_STATE_HOME'] ?? join(homedir(), '.local', 'state'), 'crossloom')
  );
}

/** `crossloom serve [PATH]`: the workbench in a browser on this machine. */
export function addServe(program: Command, terminal: Terminal): void {
  program
    .command('serve')
    .description('serve the workbench for a browser on this machine (127.0.0.1 only)')
    .argument('[path]', 'a *.map.json file or a folder; the current folder when absent', '.')
    .option('--port <port>', 'the port; any free one when absent', wholeNumber(0, 65535), 0)
    .action(async (path: string, options: { port: number }) => {
      const { root, opens } = await whatToOpen(resolve(terminal.cwd, path));
      const sampleFile = join(programFolder, '..', 'sample-maps', 'ft6-orrin32.map.json');
      const inRoot = relative(root, sampleFile);
      const server = await startLoopback({
        version: VERSION,
        root,
        opens,
        sample: existsSync(sampleFile) && !inRoot.startsWith('..') ? inRoot.split(sep).join('/') : null,
        stateFolder: stateFolder(),
        today: () => terminal.today,
        nowMs: () => Date.now(),
        renderSpec: (request, today, watch) => renderSpecRequest(request, today, VERSION, watch),
        pageFolder: join(programFolder, 'page'),
        port: options.port,
      });
      terminal.out(
        `Crossloom serves ${opens === null ? root : basename(opens)} at\n  ${server.url}\nKeep the address to yourself: it lets a page read and write ${root}. Stop with Ctrl+C.\n`,
      );
      await new Promise<void>((finished) => {
        const stop = (): void => void server.close().then(finished);
        process.once('SIGINT', stop);
        process.once('SIGTERM', stop);
      });
    });
}
