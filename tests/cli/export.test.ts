import { cpSync, existsSync, mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { run, runWith } from './memory-terminal.ts';

const folder = mkdtempSync(join(tmpdir(), 'crossloom-export-'));
const sample = 'ft6-orrin32.map.json';
beforeAll(() => cpSync(resolve(import.meta.dirname, '../../sample-maps'), folder, { recursive: true }));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('crossloom export', () => {
  it('writes what is asked for, and says so', async () => {
    const { code, out, err } = await run(
      folder,
      'export',
      sample,
      '--spec',
      'wiring',
      '--as',
      'html',
      '--as',
      'json',
      '--out',
      'a',
    );
    expect([code, err]).toEqual([0, '']);
    expect(readdirSync(join(folder, 'a')).sort()).toEqual(['ft6-orrin32-wiring.html', 'ft6-orrin32-wiring.json']);
    expect(out).toBe(`wrote ${join('a', 'ft6-orrin32-wiring.html')}\nwrote ${join('a', 'ft6-orrin32-wiring.json')}\n`);
  });
  it.each([/wiring spec, html/i, /wiring spec, pdf/i, /translation spec, pdf/i])(
    'stopped while it tells %s: no file, no folder, exit code 130',
    async (when) => {
      let stop: (() => void) | null = null;
      const told: string[] = [];
      const { code, out, err } = await runWith(
        folder,
        {
          onInterrupt: (asked) => {
            stop = asked;
            return () => (stop = null);
          },
          status: (line) => {
            told.push(line);
            if (when.test(line)) stop?.();
          },
        },
        ...['export', sample, '--spec', 'wiring', '--spec', 'translation', '--as', 'html', '--as', 'pdf'],
        ...['--out', 'stopped'],
      );
      expect(told.some((line) => when.test(line))).toBe(true);
      expect([code, out, err]).toEqual([130, '', 'stopped; nothing was written\n']);
      expect(existsSync(join(folder, 'stopped'))).toBe(false);
      // The line is cleared, and Ctrl-C belongs to the terminal again.
      expect([told.at(-1), stop]).toEqual(['', null]);
    },
  );
  it('the DBC of each bus the interface module sends on', async () => {
    await run(folder, 'export', sample, '--spec', 'interface-dbc', '--out', 'b');
    expect(readdirSync(join(folder, 'b')).sort()).toEqual([
      'ft6-orrin32-donor-powertrain-can.dbc',
      'ft6-orrin32-host-body-can.dbc',
      'ft6-orrin32-host-chassis-can.dbc',
    ]);
  });
  it('one build, in files of its own, and JSON alone on standard output', async () => {
    const { out } = await run(
      folder,
      'export',
      sample,
      '--spec',
      'translation',
      '--as',
      'json',
      '--out',
      'c',
      '--build',
      'drivetrain=2wd',
      '--format',
      'json',
    );
    const answer = JSON.parse(out) as { written: string[]; notForBuild: boolean };
    expect(answer).toMatchObject({ written: ['ft6-orrin32-translation-drivetrain-2wd.json'], notForBuild: false });
    expect(readFileSync(join(folder, 'c', answer.written[0]!), 'utf8')).not.toContain('transfer-range');
  });
  it('a map with an open stop: NOT FOR BUILD, said loudly and in the file', async () => {
    const map = JSON.parse(readFileSync(join(folder, sample), 'utf8')) as {
      routes: { id: string }[];
      signOffs?: unknown;
    };
    map.routes = map.routes.filter(({ id }) => id !== 'park-neutral');
    writeFileSync(join(folder, 'open.map.json'), JSON.stringify(map));
    const { code, err } = await run(
      folder,
      'export',
      'open.map.json',
      '--spec',
      'wiring',
      '--as',
      'html',
      '--out',
      'd',
    );
    expect(code).toBe(0);
    expect(err).toContain('NOT FOR BUILD');
    expect(readFileSync(join(folder, 'd', 'ft6-orrin32-wiring.html'), 'utf8')).toContain('NOT FOR BUILD');
  });
  it.each([
    [['--spec', 'gearbox'], 'there is no spec "gearbox"'],
    [['--as', 'docx'], 'there is no form "docx"'],
    [['--build', 'drivetrain'], 'option=choice'],
    [['--build', 'drivetrain=6wd'], 'has no choice "6wd"; the choices are 2wd, 4wd'],
    [['--build', 'wheels=6'], 'there is no option "wheels"; the options are drivetrain, year'],
  ])('%j: exit code 2, one clear line, nothing written', async (args, words) => {
    const { code, out, err } = await run(folder, 'export', sample, '--out', 'e', ...args);
    expect([code, out]).toEqual([2, '']);
    expect(err).toContain(words);
    expect(err).not.toContain('    at ');
    expect(existsSync(join(folder, 'e'))).toBe(false);
  });
});
