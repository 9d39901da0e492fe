import { mkdir, readFile, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { generatedFiles } from './generated-files.ts';
import { sampleLogs } from './sample-drive/index.ts';

/**
 * Writes every generated file under the working directory, the project's root; with `--check` it writes nothing, names what is
 * stale and ends with 1.
 */
async function generate(root: string, onlyCheck: boolean): Promise<number> {
  const stale: string[] = [];
  const sample = (name: string): Promise<string> => readFile(join(root, 'sample-maps', name), 'utf8');
  const logs = sampleLogs({
    map: await sample('ft6-orrin32.map.json'),
    host: await sample('halden-ft6.platform.json'),
    donor: await sample('orrin-32.platform.json'),
  });
  for (const { path, content } of [...generatedFiles(), ...logs]) {
    const file = join(root, path);
    const before = await readFile(file, 'utf8').catch(() => null);
    if (before === content) continue;
    stale.push(path);
    if (onlyCheck) continue;
    await mkdir(dirname(file), { recursive: true });
    await writeFile(file, content);
  }
  const verb = onlyCheck ? 'stale' : 'written';
  process.stdout.write(
    `${stale.length === 0 ? 'everything generated is up to date' : `${stale.length} ${verb}:\n${stale.join('\n')}`}\n`,
  );
  return onlyCheck && stale.length > 0 ? 1 : 0;
}

process.exitCode = await generate(process.cwd(), process.argv.includes('--check'));
