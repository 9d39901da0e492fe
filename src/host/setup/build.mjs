// Bundles the terminal program into dist/ when its sources are newer than the bundle.
import { existsSync, readdirSync, statSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

export const projectRoot = join(dirname(fileURLToPath(import.meta.url)), '..', '..', '..');
export const terminalBundle = join(projectRoot, 'dist', 'crossloom.mjs');

function newestChange(folder) {
  let newest = 0;
  for (const entry of readdirSync(folder, { withFileTypes: true })) {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) newest = Math.max(newest, entry.name === 'workbench' ? 0 : newestChange(path));
    else if (/\.(ts|json)$/.test(entry.name)) newest = Math.max(newest, statSync(path).mtimeMs);
  }
  return newest;
}

/** Whether the bundle is missing or older than a source; an installed package without sources is never stale. */
export function terminalIsStale() {
  if (!existsSync(terminalBundle)) return true;
  if (!existsSync(join(projectRoot, 'src', 'cli', 'main.ts'))) return false;
  return newestChange(join(projectRoot, 'src')) > statSync(terminalBundle).mtimeMs;
}

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
  await bundleForNode('src/cli/main.ts', 'dist/crossloom.mjs');
}
