import { cpSync, mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { run } from './memory-terminal.ts';

const folder = mkdtempSync(join(tmpdir(), 'crossloom-firmware-'));
const sample = 'ft6-orrin32.map.json';
beforeAll(() => cpSync(resolve(import.meta.dirname, '../../sample-maps'), folder, { recursive: true }));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** A file with its folded comments in one line. */
const read = (...path: string[]): string => readFileSync(join(folder, ...path), 'utf8').replaceAll('\n * ', ' ');

describe('crossloom firmware', () => {
  it('writes the source of the only module, and says for which build', async () => {
    const { code, out, err } = await run(folder, 'firmware', sample, '--out', 'a');
    expect(code).toBe(0);
    expect(err).toBe(
      'firmware is for one build; this one is for drivetrain=2wd,year=2019-2020. Name another with --build\n',
    );
    const files = readdirSync(join(folder, 'a'));
    expect(files).toEqual(
      expect.arrayContaining(['Makefile', 'README.md', 'xlc_core.c', 'xm.c', 'xm.h', 'xm_host.c', 'xm_donor.c']),
    );
    expect(out.trim().split('\n').sort()).toEqual(files.map((name) => `wrote ${join('a', name)}`).sort());
    expect(read('a', 'xm.h')).toMatch(/Digest of the map: [0-9a-f]{64}/);
    expect(read('a', 'xm.h')).toContain('2026-01-31');
    expect(read('a', 'xm.h')).toContain('no automotive safety integrity level is claimed');
    expect(read('a', 'xm.h')).not.toContain('NOT FOR BUILD');
  });

  it('writes the build that is asked for, as JSON alone on standard output', async () => {
    const { out, err } = await run(
      folder,
      'firmware',
      sample,
      '--out',
      'b',
      '--build',
      'drivetrain=4wd,year=2021',
      '--format',
      'json',
    );
    expect(err).toBe('');
    const answer = JSON.parse(out) as object;
    expect(answer).toMatchObject({ build: { drivetrain: '4wd', year: '2021' }, refused: [], notForBuild: false });
    expect(read('b', 'xm_host.c')).toContain('transfer');
  });

  it('marks what comes of a map with an open stop', async () => {
    const { err } = await run(
      folder,
      'firmware',
      'faulty/review-me.map.json',
      '--out',
      'c',
      '--build',
      'drivetrain=2wd,year=2021',
    );
    expect(err).toContain('NOT FOR BUILD');
    for (const name of readdirSync(join(folder, 'c')).filter((each) => /^xm.*\.[ch]$/.test(each)))
      expect(read('c', name), name).toContain('/* NOT FOR BUILD');
  });

  it('a folder for each of several modules, and one of them alone', async () => {
    const map = JSON.parse(read(sample)) as { id: string; interfaceModules: { id: string; ports: object[] }[] };
    const [module] = map.interfaceModules;
    writeFileSync(
      join(folder, 'two.map.json'),
      JSON.stringify({
        ...map,
        id: 'two',
        interfaceModules: [module, { ...module, id: 'X-M', title: 'Second', pins: [] }],
      }),
    );
    await run(folder, 'firmware', 'two.map.json', '--out', 'd');
    expect(readdirSync(join(folder, 'd')).sort()).toEqual(['x_m', 'xm']);
    await run(folder, 'firmware', 'two.map.json', '--out', 'e', '--module', 'X-M');
    expect(readdirSync(join(folder, 'e'))).toContain('x_m.c');
  });

  it.each([
    [['--module', 'nobody'], /there is no interface module "nobody"; there are: xm/],
    [['--build', 'drivetrain=6wd'], /no choice "6wd"/],
    [['--build', 'colour=red'], /no option "colour"/],
    [['--build', 'red'], /write option=choice/],
  ])('answers %o in words', async (more, message) => {
    const { code, err, out } = await run(folder, 'firmware', sample, '--out', 'f', ...more);
    expect([code, out]).toEqual([2, '']);
    expect(err).toMatch(message);
  });
});
