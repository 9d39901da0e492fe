import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readMap, readPlatform, writePlatform } from '../../src/model/index.ts';
import { run } from './memory-terminal.ts';

const root = resolve(import.meta.dirname, '../..');
const folder = mkdtempSync(join(tmpdir(), 'crossloom-cli-'));
const sample = 'ft6-orrin32.map.json';

beforeAll(() => cpSync(join(root, 'sample-maps'), folder, { recursive: true }));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('the terminal', () => {
  it('helps a newcomer, with exit code 0', async () => {
    const { code, out } = await run(folder, '--help');
    expect(code).toBe(0);
    for (const command of [
      'new',
      'check',
      'needs',
      'propose',
      'import-dbc',
      'export-dbc',
      'decode',
      'replay',
      'convert',
      'export',
      'explain',
    ]) {
      expect(out).toMatch(new RegExp(`^  ${command}\\b`, 'm'));
      const help = await run(folder, command, '--help');
      expect(help.code, command).toBe(0);
      expect(help.out).toContain(`Usage: crossloom ${command}`);
    }
  });

  it.each([
    [['chek'], 'unknown command'],
    [['check'], 'missing required argument'],
    [['check', sample, '--no-such'], 'unknown option'],
    [['check', 'absent.map.json'], 'there is no such file'],
    [['needs', '.'], 'is a folder'],
    [['check', 'pictures'], 'there is no *.map.json'],
    [['compare', sample], 'missing required argument'],
    [['compare', sample, sample, sample], 'two files are compared'],
    [['compare', '--driver', sample, sample], 'seven arguments'],
    [['check', sample, '--fail-on', 'sometimes'], 'Allowed choices'],
    [['check', sample, '--rule', 'no/rule'], 'there is no rule'],
    [['explain', 'routing/nothing'], 'there is no rule'],
    [['convert', 'many', 'km/h', 'mph'], 'not a number'],
    [['convert', '1', 'km/h', 'Cel'], 'cannot become'],
    [['convert', '1', 'smoot', 'm'], 'not known'],
    [['needs', 'halden-ft6.platform.json'], 'this is not a map'],
    [['decode', 'dbc/chassis-can.dbc', 'absent.log'], 'there is no such file'],
  ])('%j: exit code 2 and one clear line', async (args, words) => {
    const { code, out, err } = await run(folder, ...args);
    expect(code).toBe(2);
    expect(out).toBe('');
    expect(err).toContain(words);
    expect(err).not.toContain('    at ');
  });
});

describe('convert', () => {
  // NIST SP 811 B.8: 1 mi/h = 1.609344 km/h (exact); 1 psi = 6.894757 kPa; (t/°F − 32)/1.8 °C.
  it.each([
    ['60', 'mph', 'km/h', 96.56064],
    ['100', 'psi', 'kPa', 689.4757],
    ['-40', 'degF', 'degC', -40],
    ['40', '[degF]', 'Cel', 4.444444],
  ])('%s %s is %s', async (value, from, to, expected) => {
    const { code, out } = await run(folder, 'convert', '--format', 'json', '--', value, from, to);
    expect(code).toBe(0);
    expect((JSON.parse(out) as { result: number }).result).toBeCloseTo(expected, 4);
  });
});

describe('check', () => {
  it('prints the machine-readable report, and JSON alone on standard output', async () => {
    const { code, out, err } = await run(folder, 'check', sample, '--format', 'json');
    expect(err).toBe('');
    const report = JSON.parse(out) as Record<string, unknown> & {
      counts: Record<string, number>;
      findings: Record<string, unknown>[];
    };
    expect(Object.keys(report)).toEqual(['map', 'revision', 'digest', 'counts', 'findings']);
    expect(Object.keys(report.counts)).toEqual(['stop', 'fix', 'look', 'waived']);
    for (const finding of report.findings) {
      expect(Object.keys(finding)).toEqual([
        'rule',
        'severity',
        'subject',
        'message',
        'why',
        'values',
        'options',
        'mend',
        'waived',
      ]);
    }
    expect(code).toBe(report.counts['stop']! > 0 ? 1 : 0);
  });

  it('fails on what it is told to fail on', async () => {
    const map = readMap(readFileSync(join(folder, sample), 'utf8'));
    if (!map.ok) throw new Error('the sample cannot be read');
    const speed = map.document.routes.find(({ steps }) => steps?.some(({ do: kind }) => kind === 'convert'))!;
    const { onLoss: _onLoss, staleAfterMs: _stale, ...bare } = speed;
    writeFileSync(
      join(folder, 'broken.map.json'),
      JSON.stringify({ ...map.document, routes: map.document.routes.map((route) => (route === speed ? bare : route)) }),
    );
    expect((await run(folder, 'check', 'broken.map.json', '--fail-on', 'look')).code).toBe(1);
    expect((await run(folder, 'check', 'broken.map.json', '--fail-on', 'never')).code).toBe(0);
  });
});

describe('new, import-dbc, export-dbc, needs, propose', () => {
  it('go from two DBC files to a checked draft', async () => {
    const dir = mkdtempSync(join(tmpdir(), 'crossloom-new-'));
    cpSync(join(root, 'sample-maps/dbc'), join(dir, 'dbc'), { recursive: true });
    expect((await run(dir, 'new', 'platform', 'chassis', '--title', 'Chassis')).code).toBe(0);
    expect((await run(dir, 'new', 'platform', 'chassis')).code).toBe(2);
    expect((await run(dir, 'new', 'platform', 'power.platform.json')).code).toBe(0);
    const refused = await run(
      dir,
      'import-dbc',
      'dbc/chassis-can.dbc',
      '--into',
      'chassis.platform.json',
      '--bus',
      'can1',
    );
    expect(refused.code).toBe(2);
    expect(refused.err).toContain('--bit-rate');
    const imported = await run(
      dir,
      'import-dbc',
      'dbc/chassis-can.dbc',
      '--into',
      'chassis.platform.json',
      '--bus',
      'can1',
      '--bit-rate',
      '500000',
    );
    expect(imported.code).toBe(0);
    expect(imported.out).toMatch(/bus can1 has \d\d messages, \d\d\d signals/);
    await run(
      dir,
      'import-dbc',
      'dbc/powertrain-can.dbc',
      '--into',
      'power.platform.json',
      '--bus',
      'can2',
      '--bit-rate',
      '250000',
    );
    const again = await run(
      dir,
      'import-dbc',
      'dbc/chassis-can.dbc',
      '--into',
      'chassis.platform.json',
      '--bus',
      'can1',
      '--format',
      'json',
    );
    expect((JSON.parse(again.out) as { changes: unknown[] }).changes).toEqual([]);
    expect(
      (await run(dir, 'new', 'map', 'pairing', '--host', 'chassis.platform.json', '--donor', 'power.platform.json'))
        .code,
    ).toBe(0);
    const map = JSON.parse(readFileSync(join(dir, 'pairing.map.json'), 'utf8')) as { fates: Record<string, string> };
    map.fates['host:ecm'] = 'removed';
    writeFileSync(join(dir, 'pairing.map.json'), JSON.stringify(map));
    const needs = JSON.parse((await run(dir, 'needs', 'pairing.map.json', '--format', 'json')).out) as {
      needs: number;
      met: number;
    };
    expect(needs.needs).toBeGreaterThan(10);
    expect(needs.met).toBe(0);
    const proposed = JSON.parse((await run(dir, 'propose', 'pairing.map.json', '--format', 'json')).out) as {
      needs: { proposals: unknown[] }[];
    };
    expect(proposed.needs).toHaveLength(needs.needs);
    expect(proposed.needs.some(({ proposals }) => proposals.length > 0)).toBe(true);
    const back = await run(dir, 'export-dbc', 'chassis.platform.json');
    expect(back.out).toMatch(/^VERSION/);
    rmSync(dir, { recursive: true, force: true });
  });

  it('harm no file when the input is garbage, however much of it', async () => {
    const platform = join(folder, 'halden-ft6.platform.json');
    const before = readFileSync(platform, 'utf8');
    const line = 'SG_ x : 0|8@1+ (1,0) [0|0] "" Y\u0000\u0001 garbage BO_ ;;; """ \n';
    writeFileSync(join(folder, 'garbage.dbc'), line.repeat(Math.ceil((100 * 1024 * 1024) / line.length)));
    const started = Date.now();
    const { code, err } = await run(
      folder,
      'import-dbc',
      'garbage.dbc',
      '--into',
      'halden-ft6.platform.json',
      '--bus',
      'chassis-can',
    );
    expect(code).toBe(2);
    expect(err).toContain('does not look like a DBC file');
    expect(err).toMatch(/garbage\.dbc:\d+:\d+: /);
    // "Within seconds" is what the user is promised; the bound only catches growth that is not linear.
    expect(Date.now() - started).toBeLessThan(120_000);
    expect(readFileSync(platform, 'utf8')).toBe(before);
    rmSync(join(folder, 'garbage.dbc'));
  }, 150_000);
});

describe('decode', () => {
  it('prints one JSON line a frame, with exact raw values', async () => {
    writeFileSync(
      join(folder, 'wide.dbc'),
      'VERSION ""\nBU_: N\nBO_ 256 Wide: 8 N\n SG_ Big : 0|64@1+ (1,0) [0|0] "" N\nBO_ 512 Speed: 8 N\n SG_ V : 0|16@1+ (0.01,-100) [0|0] "km/h" N\n SG_ S : 16|2@1+ (1,0) [0|0] "" N\nVAL_ 512 S 0 "Off" 1 "On" ;\n',
    );
    writeFileSync(
      join(folder, 'wide.log'),
      '(1436509052.249713) can0 100#FFFFFFFFFFFFFFFF\n(1436509052.250000) can0 200#1027010000000000\n(1436509052.250001) can0 7FF#01\n',
    );
    const { code, out } = await run(folder, 'decode', 'wide.dbc', 'wide.log', '--format', 'json');
    expect(code).toBe(0);
    expect(
      out
        .trim()
        .split('\n')
        .map((line) => JSON.parse(line) as unknown),
    ).toEqual([
      {
        t: 1436509052.249713,
        bus: 'can0',
        id: '0x100',
        message: 'Wide',
        signals: { Big: { raw: '18446744073709551615', value: '18446744073709551615', unit: '', state: null } },
      },
      {
        t: 1436509052.25,
        bus: 'can0',
        id: '0x200',
        message: 'Speed',
        signals: {
          V: { raw: 10000, value: 0, unit: 'km/h', state: null },
          S: { raw: 1, value: 1, unit: '', state: 'On' },
        },
      },
      { t: 1436509052.250001, bus: 'can0', id: '0x7FF', message: null, signals: {}, data: '01' },
    ]);
  });

  it('names lines that are no frames and decodes the rest', async () => {
    writeFileSync(join(folder, 'torn.log'), 'nonsense\n(1.000000) can0 200#1027\n');
    const { code, out, err } = await run(folder, 'decode', 'wide.dbc', 'torn.log');
    expect(code).toBe(0);
    expect(err).toContain('torn.log:1:');
    expect(out).toContain('Speed');
  });
});

describe('documents of the terminal', () => {
  it('are canonical: reading and writing changes no byte', async () => {
    await run(folder, 'import-dbc', 'wide.dbc', '--into', 'halden-ft6.platform.json', '--bus', 'body-can');
    const text = readFileSync(join(folder, 'halden-ft6.platform.json'), 'utf8');
    const read = readPlatform(text);
    expect(read.ok && writePlatform(read.document)).toBe(text);
  });
});
