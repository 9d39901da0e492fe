// `npm run bench`: speed as ratios in one process. Usage: npm run bench [-- name …] to run some files only.
import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { bundleForNode, projectRoot } from '../../src/host/setup/build.mjs';
import { installMissing } from '../../src/host/setup/install-missing.mjs';

installMissing(projectRoot);
const here = dirname(fileURLToPath(import.meta.url));
const wanted = process.argv.slice(2);
const files = readdirSync(here).filter(
  (name) => name.endsWith('.bench.ts') && (wanted.length === 0 || wanted.some((part) => name.includes(part))),
);
// Inside dist/, so that packages are found from there.
const { mkdirSync } = await import('node:fs');
mkdirSync(join(projectRoot, 'dist'), { recursive: true });
const folder = mkdtempSync(join(projectRoot, 'dist', 'bench-'));
let missed = 0;
try {
  for (const file of files) {
    const outfile = join(folder, file.replace(/\.ts$/, '.mjs'));
    await bundleForNode(
      join('tests', 'bench', file),
      join('dist', folder.split(/[\\/]/).pop(), file.replace(/\.ts$/, '.mjs')),
    );
    const { rows } = await import(pathToFileURL(outfile).href);
    for (const { work, against, ratio, target, better = 'lower', note } of await rows()) {
      const met = target === undefined || (better === 'lower' ? ratio <= target : ratio >= target);
      if (!met) missed += 1;
      const goal =
        target === undefined
          ? 'report'
          : `target ${better === 'lower' ? '≤' : '≥'} ${Number(target.toPrecision(3))}${met ? '' : '  MISSED'}`;
      console.log(
        `${ratio.toPrecision(3).padStart(8)}×  ${work}\n           against ${against}; ${goal}${note ? `; ${note}` : ''}`,
      );
    }
  }
} finally {
  rmSync(folder, { recursive: true, force: true });
}
if (missed > 0) console.log(`\n${missed} target${missed === 1 ? '' : 's'} missed`);
