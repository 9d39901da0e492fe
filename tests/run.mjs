// `npm test`: installs what is missing, then compiles every layer, lints, and runs all tests, the browser's included.
// Usage: npm test [-- unit|e2e|static] to run a part.
import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync, rmSync, mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { installMissing } from '../src/host/setup/install-missing.mjs';

const root = join(dirname(fileURLToPath(import.meta.url)), '..');
const parts = process.argv.slice(2);
const wants = (part) => parts.length === 0 || parts.includes(part);

installMissing(root);

let failedSteps = 0;

/** Runs one step from the project folder; a failure is counted and the rest still runs. */
function step(title, file, args) {
  console.log(`\n── ${title}`);
  const started = Date.now();
  const result = spawnSync(process.execPath, [join(root, 'node_modules', file), ...args], {
    cwd: root,
    stdio: 'inherit',
  });
  const seconds = ((Date.now() - started) / 1000).toFixed(0);
  if (result.status !== 0) failedSteps += 1;
  console.log(`── ${title}: ${result.status === 0 ? 'passed' : 'FAILED'} in ${seconds} s`);
}

if (wants('static')) {
  for (const layer of ['core', 'node', 'workbench'])
    step(`types, ${layer}`, 'typescript/bin/tsc', ['-p', `tsconfig.${layer}.json`]);
  step('types, tests', 'typescript/bin/tsc', ['-p', 'tsconfig.json']);
  step('lint', 'eslint/bin/eslint.js', ['.', '--max-warnings=0']);
  step('format', 'prettier/bin/prettier.cjs', [
    '--check',
    '--log-level=warn',
    'src/**/*.{ts,tsx,css}',
    'electron/**/*.ts',
    'tests/**/*.ts',
  ]);
}

let passed = 0;
let failed = 0;
let skipped = 0;
const projects = ['unit', 'e2e'].filter(wants);
if (projects.length > 0) {
  if (projects.includes('e2e')) {
    const { ensureBrowser } = await import('./e2e/browser-setup.mjs');
    await ensureBrowser();
    const { buildAll } = await import(pathToFileURL(join(root, 'src/host/setup/build.mjs')).href);
    await buildAll();
  }
  const folder = mkdtempSync(join(tmpdir(), 'crossloom-test-'));
  const report = join(folder, 'report.json');
  if (projects.includes('unit')) {
    const { ensureCompilers } = await import('./translate/c-compilers.mjs');
    await ensureCompilers();
  }
  step('tests', 'vitest/vitest.mjs', [
    'run',
    ...projects.flatMap((name) => ['--project', name]),
    '--reporter=default',
    '--reporter=json',
    `--outputFile.json=${report}`,
  ]);
  if (existsSync(report)) {
    const result = JSON.parse(readFileSync(report, 'utf8'));
    passed = result.numPassedTests;
    failed = result.numFailedTests;
    skipped = result.numPendingTests + (result.numTodoTests ?? 0);
  }
  rmSync(folder, { recursive: true, force: true });
}

const ok = failedSteps === 0 && failed === 0 && (projects.length === 0 || passed > 0);
if (failedSteps > 0) console.log(`\n${failedSteps} step${failedSteps === 1 ? '' : 's'} failed; see above`);
console.log(`\n${passed} passed, ${failed} failed${skipped > 0 ? `, ${skipped} skipped` : ''}`);
process.exitCode = ok ? 0 : 1;
