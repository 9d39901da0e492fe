// `npm start`: installs and builds what is missing, then opens the workbench on the sample: in a window where Electron's
// binary can be had, else in the browser from a loopback address.
import { spawn, spawnSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { buildAll, projectRoot } from '../src/host/setup/build.mjs';
import { installMissing } from '../src/host/setup/install-missing.mjs';

const DOWNLOAD_LIMIT_MS = 120_000;
const opens = process.argv[2] ?? join(projectRoot, 'sample-maps', 'ft6-orrin32.map.json');

/** The path of Electron's program once it is there; downloads it when it can be had; null otherwise. */
function electronProgram() {
  const folder = join(projectRoot, 'node_modules', 'electron');
  const find = () => {
    const pathFile = join(folder, 'path.txt');
    if (!existsSync(pathFile)) return null;
    const program = join(folder, 'dist', readFileSync(pathFile, 'utf8').trim());
    return existsSync(program) ? program : null;
  };
  const found = find();
  if (found || process.env.CROSSLOOM_NO_ELECTRON) return found;
  if (!existsSync(join(folder, 'install.js'))) return null;
  spawnSync(process.execPath, [join(folder, 'install.js')], {
    cwd: folder,
    stdio: 'ignore',
    timeout: DOWNLOAD_LIMIT_MS,
  });
  return find();
}

installMissing(projectRoot);
await buildAll();
const program =
  process.platform === 'linux' && !process.env.DISPLAY && !process.env.WAYLAND_DISPLAY ? null : electronProgram();
if (program) {
  const child = spawn(program, [join(projectRoot, 'dist', 'electron', 'main.mjs'), opens], { stdio: 'inherit' });
  child.on('exit', (code) => process.exit(code ?? 0));
} else {
  console.log('crossloom: the Electron window cannot be had here; serving the same workbench for a browser instead');
  const here = dirname(fileURLToPath(import.meta.url));
  spawn(process.execPath, [join(here, '../src/cli/bin.mjs'), 'serve', opens], { stdio: 'inherit' }).on('exit', (code) =>
    process.exit(code ?? 0),
  );
}
