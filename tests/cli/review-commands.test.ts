import { spawnSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { applyEdits, readMap, readPlatform, writeMap, type Edit } from '../../src/model/index.ts';
import { run } from './memory-terminal.ts';

const root = resolve(import.meta.dirname, '../..');
const folder = mkdtempSync(join(tmpdir(), 'crossloom-review-'));
const sample = 'ft6-orrin32.map.json';
const faulty = 'faulty/review-me.map.json';

beforeAll(() => cpSync(join(root, 'sample-maps'), folder, { recursive: true }));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const text = (name: string): string => readFileSync(join(folder, name), 'utf8');
const planted = (): string[] => [...text('faulty/review-me.md').matchAll(/^\| *\d+ *\|.*$/gm)].map(([row]) => row);

describe('check FOLDER', () => {
  it('gives one line a map and one sum, the same as each map alone', async () => {
    mkdirSync(join(folder, 'two/deeper'), { recursive: true });
    const platforms = (name: string): string =>
      text(name).replaceAll(/"platform": "(?:\.\.\/)?/g, '"platform": "../../');
    writeFileSync(join(folder, 'two/deeper/a.map.json'), platforms(sample));
    writeFileSync(join(folder, 'two/deeper/b.map.json'), platforms(faulty));
    const { code, out } = await run(folder, 'check', 'two', '--format', 'json');
    expect(code).toBe(1);
    const report = JSON.parse(out) as { counts: object; maps: { file: string; counts: object; findings: object[] }[] };
    expect(report.maps.map(({ file }) => file)).toEqual([
      join('two', 'deeper', 'a.map.json'),
      join('two', 'deeper', 'b.map.json'),
    ]);
    for (const { file, counts, findings } of report.maps) {
      const alone = JSON.parse((await run(folder, 'check', file, '--format', 'json')).out) as {
        counts: object;
        findings: object[];
      };
      expect(counts).toEqual(alone.counts);
      expect(findings).toEqual(alone.findings);
    }
    const table = await run(folder, 'check', 'two');
    // One to fix: the links to the platforms changed, so the sign-off is stale.
    expect(table.out).toMatch(/a\.map\.json +C +0 +1 +0 +2\n/);
    expect(table.out).toContain('2 maps checked');
  });

  it('names a map that cannot be used, checks the others, and exits with 2', async () => {
    mkdirSync(join(folder, 'broken'), { recursive: true });
    writeFileSync(join(folder, 'broken/good.map.json'), text(sample).replaceAll('"platform": "', '"platform": "../'));
    writeFileSync(join(folder, 'broken/cut.map.json'), text(sample).slice(0, 5000));
    const { code, out } = await run(folder, 'check', 'broken');
    expect(code).toBe(2);
    expect(out).toContain('cut.map.json cannot be used');
    expect(out).toContain('1 maps checked, 1 cannot be used');
    const sarif = await run(folder, 'check', 'broken', '--format', 'sarif');
    expect(sarif.err).toContain(join('broken', 'cut.map.json'));
    expect((JSON.parse(sarif.out) as { version: string }).version).toBe('2.1.0');
  });

  it('says the same on all cores as on one', async () => {
    const serial = JSON.parse((await run(folder, 'check', 'faulty/state', '--format', 'json')).out) as object;
    const program = spawnSync(
      process.execPath,
      [join(root, 'src/cli/bin.mjs'), 'check', 'faulty/state', '--format', 'json'],
      { cwd: folder, encoding: 'utf8', maxBuffer: 1 << 28 },
    );
    expect(program.stderr).toBe('');
    expect(JSON.parse(program.stdout)).toEqual(serial);
  });
});

describe('compare', () => {
  it('prints HTML with every planted mistake of review-me, and a PDF', async () => {
    const { code, out } = await run(folder, 'compare', sample, faulty, '--format', 'html');
    expect(code).toBe(0);
    const words = out.replaceAll(/<wbr ?\/?>/g, '');
    for (const row of planted()) {
      const names = [...row.matchAll(/`([^`]+)`/g)].map(([, name]) => name!.replace(/^(route|function|transmit):/, ''));
      expect(
        names.some((name) => words.includes(name)),
        row,
      ).toBe(true);
    }
    expect(planted()).toHaveLength(15);
    const pdf = await run(folder, 'compare', sample, faulty, '--format', 'pdf', '--out', 'compared.pdf');
    expect(pdf.err).toBe('wrote compared.pdf\n');
    expect(readFileSync(join(folder, 'compared.pdf')).subarray(0, 5).toString()).toBe('%PDF-');
  });

  it('escapes what the documents say', async () => {
    writeFileSync(
      join(folder, 'hostile.map.json'),
      text(sample).replace('"revision": "C"', '"revision": "<img src=x onerror=alert(1)>"'),
    );
    const { out } = await run(folder, 'compare', sample, 'hostile.map.json', '--format', 'html');
    expect(out).not.toContain('<img src=x');
    expect(out).toContain('&lt;img src=x');
  });

  it('gives the edits that lead from the old documents to the new ones', async () => {
    const { out } = await run(folder, 'compare', sample, faulty, '--format', 'json');
    const { edits } = JSON.parse(out) as { edits: Edit[] };
    const read = (name: string) => {
      const result = readMap(text(name));
      if (!result.ok) throw new Error(name);
      return result.document;
    };
    const platform = readPlatform(text('halden-ft6.platform.json'));
    if (!platform.ok) throw new Error('platform');
    const { document } = platform;
    const documents = applyEdits({ map: read(sample), host: document, donor: document }, edits);
    expect(writeMap(documents.map)).toBe(text(faulty));
  });

  it('compares platforms, and a map whose platform changed underneath it', async () => {
    const donor = 'orrin-32.platform.json';
    const changed = text(donor).replace('"factor": 0.125', '"factor": 0.25');
    expect(changed).not.toBe(text(donor));
    writeFileSync(join(folder, 'old-donor.platform.json'), changed);
    const platforms = await run(folder, 'compare', 'old-donor.platform.json', donor);
    expect(platforms.out).toContain('factor: 0.25 → 0.125');
    expect(platforms.out).toContain('1 changes');
    const map = await run(folder, 'compare', sample, sample, '--old-donor', 'old-donor.platform.json');
    expect(map.out).toContain('route:engine-speed');
    expect(map.out).toContain('its arithmetic changes');
  });

  it('works as a version control’s diff and merge driver', () => {
    const work = mkdtempSync(join(tmpdir(), 'crossloom-git-'));
    const program = `${process.execPath} ${join(root, 'src/cli/bin.mjs')}`;
    const git = (...args: string[]) =>
      spawnSync('git', ['-c', 'user.name=t', '-c', 'user.email=t@example.invalid', ...args], {
        cwd: work,
        encoding: 'utf8',
      });
    try {
      git('init', '-q', '-b', 'main');
      git('config', 'diff.crossloom.command', `${program} compare --driver`);
      git('config', 'merge.crossloom.driver', `${program} merge %O %A %B`);
      writeFileSync(join(work, '.gitattributes'), '*.map.json diff=crossloom merge=crossloom\n');
      for (const name of [sample, 'halden-ft6.platform.json', 'orrin-32.platform.json'])
        writeFileSync(join(work, name), text(name));
      git('add', '.');
      git('commit', '-qm', 'base');
      const edit = (from: string, to: string): void => {
        const old = readFileSync(join(work, sample), 'utf8');
        expect(old).toContain(from);
        writeFileSync(join(work, sample), old.replace(from, to));
      };
      git('checkout', '-qb', 'other');
      edit('"revision": "C"', '"revision": "D"');
      const diff = git('diff', '--ext-diff');
      expect(diff.stdout).toContain('revision: C → D');
      git('commit', '-qam', 'revision');
      git('checkout', '-q', 'main');
      // On the next line of the file: line by line the two would collide.
      edit('"title": "', '"title": "The same: ');
      git('commit', '-qam', 'title');
      const merge = git('merge', '-q', '-m', 'both', 'other');
      expect(`${merge.stdout}${merge.stderr}`).not.toContain('CONFLICT');
      const merged = readFileSync(join(work, sample), 'utf8');
      expect(merged).toContain('"revision": "D"');
      expect(merged).toContain('"title": "The same: ');
    } finally {
      rmSync(work, { recursive: true, force: true });
    }
  });
});

describe('variants', () => {
  it('lists every build, and what differs between two', async () => {
    const { out } = await run(folder, 'variants', 'family.map.json', '--format', 'json');
    const { builds } = JSON.parse(out) as {
      builds: { choices: Record<string, string>; needs: number; needsMet: number }[];
    };
    expect(builds).toHaveLength(64);
    expect(new Set(builds.map(({ choices }) => JSON.stringify(choices))).size).toBe(64);
    expect(builds.every(({ needs, needsMet }) => needs > 0 && needs === needsMet)).toBe(true);
    const between = await run(
      folder,
      ...['variants', sample, '--between', 'drivetrain=2wd,year=2021', '--between', 'drivetrain=4wd,year=2021'],
    );
    expect(between.out).toContain('second  route:transfer-range');
    expect(between.out).not.toMatch(/^ {2}first /m);
  });

  it.each([
    [['--between', 'drivetrain=2wd'], 'two builds are compared'],
    [['--between', 'drivetrain=2wd', '--between', 'drivetrain=4wd'], 'leaves 2 builds open: choose year'],
    [['--between', 'drivetrain=6wd', '--between', 'drivetrain=4wd'], 'no build of the map is drivetrain=6wd'],
    [['--between', 'colour=red', '--between', 'drivetrain=4wd'], 'there is no option "colour"'],
    [['--between', 'drivetrain', '--between', 'drivetrain=4wd'], 'write option=choice'],
  ])('%j: exit code 2 and what to write instead', async (options, words) => {
    const { code, err } = await run(folder, 'variants', sample, ...options);
    expect(code).toBe(2);
    expect(err).toContain(words);
  });
});

describe('impact', () => {
  it('shows what a newer DBC does to every map that stands on the platform, and writes nothing', async () => {
    const dbc = text('dbc/powertrain-can.dbc');
    const newer = dbc.replace(/(SG_ EngineSpeed : 0\|16@1\+ )\(0\.125,/, '$1(0.25,');
    expect(newer).not.toBe(dbc);
    writeFileSync(join(folder, 'newer.dbc'), newer);
    const before = text('orrin-32.platform.json');
    const options = ['--into', 'orrin-32.platform.json', '--bus', 'powertrain-can'];
    const { out } = await run(folder, 'impact', '.', '--dbc', 'newer.dbc', ...options, '--format', 'json');
    const { maps } = JSON.parse(out) as {
      maps: { file: string; changes: { subject: string; consequences: string[] }[] }[];
    };
    const own = maps.find(({ file }) => file === sample)!;
    expect(own.changes.map(({ subject }) => subject)).toEqual(
      expect.arrayContaining(['route:engine-speed', 'route:tachometer']),
    );
    expect(own.changes[0]!.consequences.join(' ')).toContain('0.125 · raw(EngineSpeed)');
    expect(text('orrin-32.platform.json')).toBe(before);
  });

  it.each([
    [['impact', '.'], 'name what would change'],
    [['impact', 'pictures', '--platform', 'orrin-32.platform.json'], 'there is no *.map.json'],
    [
      ['impact', '.', '--dbc', sample, '--into', 'orrin-32.platform.json', '--bus', 'powertrain-can'],
      'does not look like',
    ],
  ])('%j: exit code 2 and why', async (args, words) => {
    const { code, err } = await run(folder, ...args);
    expect(code).toBe(2);
    expect(err).toContain(words);
  });
});

describe('review', () => {
  it('leads through the planted mistakes, worst first, and exits with 1 while an objection stands', async () => {
    const walk = await run(folder, 'review', faulty, '--base', sample, '--format', 'json');
    expect(walk.code).toBe(0);
    const { steps, counts } = JSON.parse(walk.out) as {
      steps: { id: string; harm: string; digest: string }[];
      counts: Record<string, number>;
    };
    expect(steps[0]!.harm).toBe('interlock');
    expect(counts['open']).toBe(steps.length);
    const map = JSON.parse(text(faulty)) as Record<string, unknown>;
    map['review'] = [
      { step: steps[0]!.id, answers: steps[0]!.digest, verdict: 'objection', text: 'No.', by: 'A', on: '2026-01-30' },
    ];
    writeFileSync(join(folder, 'faulty/answered.map.json'), JSON.stringify(map));
    const answered = await run(folder, 'review', 'faulty/answered.map.json', '--base', sample);
    expect(answered.code).toBe(1);
    expect(answered.out).toContain('objection, A, 2026-01-30: No.');
    expect(answered.out).toContain('1 objection');
    const page = await run(folder, 'review', faulty, '--format', 'html', '--out', 'record.html');
    expect(page.code).toBe(0);
    expect(text('record.html')).toContain('Interlock paths, element by element');
  });
});
