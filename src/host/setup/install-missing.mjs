// Plain JavaScript, no imports but Node's own: this runs before anything is installed.
import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

/** Packages named in package.json which are absent from node_modules or there at another version. */
export function missingPackages(root, kinds = ['dependencies', 'devDependencies']) {
  const wanted = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'));
  return kinds
    .flatMap((kind) => Object.entries(wanted[kind] ?? {}))
    .filter(([name, version]) => {
      const manifest = join(root, 'node_modules', name, 'package.json');
      return !existsSync(manifest) || JSON.parse(readFileSync(manifest, 'utf8')).version !== version;
    })
    .map(([name]) => name);
}

/** Installs from the lock file when something is missing; says so in one line. Exits with 2 when it cannot. */
export function installMissing(root, kinds) {
  const missing = missingPackages(root, kinds);
  if (missing.length === 0) return;
  console.error(`crossloom: installing ${missing.length} missing packages from the lock file …`);
  const npm = process.env.npm_execpath;
  const args = ['ci', '--include=dev', '--no-audit', '--no-fund', '--loglevel=error'];
  const env = { ...process.env, NODE_ENV: 'development' };
  const result = npm?.endsWith('.js')
    ? spawnSync(process.execPath, [npm, ...args], { cwd: root, env, stdio: ['ignore', 2, 2] })
    : spawnSync('npm', args, { cwd: root, env, stdio: ['ignore', 2, 2], shell: process.platform === 'win32' });
  if (result.status !== 0) {
    console.error(
      'crossloom: the packages could not be installed; run "npm ci" in the project folder and read its message',
    );
    process.exit(2);
  }
}
