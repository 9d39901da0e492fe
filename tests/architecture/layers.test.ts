import { mkdirSync, mkdtempSync, rmSync, writeFileSync, cpSync } from 'node:fs';
import { spawnSync } from 'node:child_process';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';

const root = resolve(import.meta.dirname, '../..');
const cruiser = join(root, 'node_modules/dependency-cruiser/bin/dependency-cruise.mjs');

function cruise(folder: string): { status: number | null; output: string } {
  const result = spawnSync(process.execPath, [cruiser, '--config', '.dependency-cruiser.cjs', 'src', 'electron'], {
    cwd: folder,
    encoding: 'utf8',
  });
  return { status: result.status, output: result.stdout + result.stderr };
}

describe('the layers of the house', () => {
  const planted = mkdtempSync(join(tmpdir(), 'crossloom-layers-'));
  afterAll(() => rmSync(planted, { recursive: true, force: true }));

  it('are kept by every import', () => {
    const { status, output } = cruise(root);
    expect(output).toContain('no dependency violations found');
    expect(status).toBe(0);
  });

  it('are enforced: planted violations of each kind are reported', () => {
    for (const file of ['.dependency-cruiser.cjs', 'tsconfig.json', 'tsconfig.base.json'])
      cpSync(join(root, file), join(planted, file));
    const plant = (path: string, text: string): void => {
      mkdirSync(join(planted, path, '..'), { recursive: true });
      writeFileSync(join(planted, path), text);
    };
    plant('electron/main.ts', "import '../src/workbench/page.ts';\n");
    plant('src/workbench/page.ts', "import '../host/files.ts';\nexport const page = 1;\n");
    plant('src/host/files.ts', "import '../cli/main.ts';\n");
    plant('src/cli/main.ts', "import '../units/table.ts';\n");
    plant('src/units/table.ts', "import '../model/index.ts';\n");
    plant('src/model/index.ts', "import 'node:fs';\n");
    plant('src/can/formats/dbc/reader.ts', "import '../../circle-a.ts';\n");
    plant('src/can/circle-a.ts', "import { b } from './circle-b.ts';\nexport const a = b;\n");
    plant('src/can/circle-b.ts', "import { a } from './circle-a.ts';\nexport const b = a;\n");
    const { status, output } = cruise(planted);
    expect(status).not.toBe(0);
    for (const rule of [
      'electron-thin',
      'workbench-apart',
      'host-below-cli',
      'core-through-index',
      'layer-units',
      'core-without-node',
      'dbc-alone',
      'no-circular',
    ]) {
      expect(output, rule).toContain(rule);
    }
  });
});
