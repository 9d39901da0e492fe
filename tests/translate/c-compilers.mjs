// Finds gcc and clang for the tests of the generated C; on a Debian machine without one it installs the distribution's packages.
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

const NAMES = ['gcc', 'clang'];

/** Whether a compiler makes a program that runs, with these flags. */
function makes(compiler, flags) {
  const folder = mkdtempSync(join(tmpdir(), 'crossloom-compiler-'));
  try {
    writeFileSync(join(folder, 'a.c'), 'int main(void)\n{\n    return 0;\n}\n');
    const made = spawnSync(compiler, [...flags, '-o', 'a', 'a.c'], { cwd: folder, stdio: 'ignore' });
    return made.status === 0 && spawnSync(join(folder, 'a'), { stdio: 'ignore' }).status === 0;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Of gcc and clang, those that make programs here. */
export function findCompilers() {
  return NAMES.filter((name) => makes(name, []));
}

/** Those that have the undefined-behaviour and address sanitizers as well. */
export function findSanitizers() {
  return NAMES.filter((name) => makes(name, ['-fsanitize=undefined,address']));
}

/** Whether the output's own Makefile can be used. */
export function hasMake() {
  return spawnSync('make', ['--version'], { stdio: 'ignore' }).status === 0;
}

/** Installs what is missing where that is possible; says in words what stays missing. */
export async function ensureCompilers() {
  const missing = NAMES.filter((name) => !findSanitizers().includes(name));
  if (missing.length === 0 && hasMake()) return;
  console.log(`${[...missing, ...(hasMake() ? [] : ['make'])].join(' and ')} not found: installing …`);
  const apt = (...args) =>
    spawnSync('apt-get', args, { stdio: 'inherit', env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' } });
  apt('update', '-q');
  const install = (...packages) => apt('install', '-y', '-q', '--no-install-recommends', ...packages);
  install(...missing, 'libc6-dev', 'make');
  if (missing.includes('clang')) {
    // The sanitizers of clang are a package of their own, named by its version.
    const version = /version (\d+)/.exec(spawnSync('clang', ['--version'], { encoding: 'utf8' }).stdout ?? '');
    if (version) install(`libclang-rt-${version[1]}-dev`);
  }
  const left = NAMES.filter((name) => !findSanitizers().includes(name));
  if (left.length > 0)
    console.log(`without ${left.join(' and ')}: tests that compile the firmware with it are skipped`);
}
