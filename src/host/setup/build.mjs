// Bundles the terminal program, the page and the window shell into dist/ when their sources are newer.
import { existsSync, readFileSync, readdirSync, statSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

export const projectRoot = join(dirname(fileURLToPath(import.meta.url)), '..', '..', '..');
export const terminalBundle = join(projectRoot, 'dist', 'crossloom.mjs');

export const pageFolder = join(projectRoot, 'dist', 'page');
const shellBundle = join(projectRoot, 'dist', 'electron', 'main.mjs');

function newestChange(folder, except) {
  let newest = 0;
  for (const entry of readdirSync(folder, { withFileTypes: true })) {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) newest = Math.max(newest, except.includes(entry.name) ? 0 : newestChange(path, except));
    else if (/\.(ts|tsx|css|html|json)$/.test(entry.name)) newest = Math.max(newest, statSync(path).mtimeMs);
  }
  return newest;
}

/** Whether a bundle is missing or older than a source; an installed package without sources is never stale. */
function isStale(bundle, folders, except = []) {
  if (!existsSync(bundle)) return true;
  if (!existsSync(join(projectRoot, 'src', 'cli', 'main.ts'))) return false;
  const built = statSync(bundle).mtimeMs;
  return folders.some((folder) => newestChange(join(projectRoot, folder), except) > built);
}

export const terminalIsStale = () => isStale(terminalBundle, ['src'], ['workbench']);
const pageIsStale = () =>
  isStale(join(pageFolder, 'index.html'), ['src'], ['cli', 'service', 'loopback', 'files', 'setup']);
const shellIsStale = () => isStale(shellBundle, ['src', 'electron'], ['workbench', 'cli']);

/** Bundles one entry for Node; packages stay outside the bundle. */
export async function bundleForNode(entry, outfile, options = {}) {
  const { build } = await import('esbuild');
  await build({
    entryPoints: [join(projectRoot, entry)],
    outfile: join(projectRoot, outfile),
    bundle: true,
    platform: 'node',
    format: 'esm',
    target: 'node20',
    packages: 'external',
    sourcemap: true,
    logLevel: 'error',
    ...options,
  });
}

export async function buildTerminal() {
  await bundleForNode('src/cli/folder/check-worker.ts', 'dist/check-worker.mjs');
  await bundleForNode('src/cli/main.ts', 'dist/crossloom.mjs');
}

/** Builds the page with Vite and lays a Brotli copy beside each of its text files. */
export async function buildPage() {
  const { build } = await import('vite');
  const { brotliCompressSync, constants } = await import('node:zlib');
  await build({ configFile: join(projectRoot, 'vite.config.ts'), logLevel: 'error' });
  const compress = (folder) => {
    for (const entry of readdirSync(folder, { withFileTypes: true })) {
      const path = join(folder, entry.name);
      if (entry.isDirectory()) compress(path);
      else if (/\.(js|css|html|json|svg)$/.test(entry.name)) {
        writeFileSync(
          `${path}.br`,
          brotliCompressSync(readFileSync(path), { params: { [constants.BROTLI_PARAM_QUALITY]: 9 } }),
        );
      }
    }
  };
  compress(pageFolder);
}

/** The window shell: its main process as a module, its preload as CommonJS, which a sandboxed window demands. */
export async function buildShell() {
  await bundleForNode('electron/main/main.ts', 'dist/electron/main.mjs');
  await bundleForNode('electron/preload/preload.ts', 'dist/electron/preload.cjs', {
    format: 'cjs',
    packages: 'bundle',
    external: ['electron'],
  });
}

/** Builds whatever is missing or out of date. */
export async function buildAll() {
  if (terminalIsStale()) await buildTerminal();
  if (pageIsStale()) await buildPage();
  if (existsSync(join(projectRoot, 'electron', 'main', 'main.ts')) && shellIsStale()) await buildShell();
}
