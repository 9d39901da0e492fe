import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { run } from './memory-terminal.ts';

const folder = mkdtempSync(join(tmpdir(), 'crossloom-capture-'));
const map = 'ft6-orrin32.map.json';
const inputs = ['--log', 'in.log', '--wires', 'logs/drive-wires.csv'];
const all = [...inputs, '--log', 'out.log', '--wires', 'out.csv'];

beforeAll(async () => {
  cpSync(resolve(import.meta.dirname, '../../sample-maps'), folder, {
    recursive: true,
    filter: (path) => !/faulty|pictures/.test(path),
  });
  const drive = readFileSync(join(folder, 'logs/drive.log'), 'utf8').split('\n');
  writeFileSync(join(folder, 'in.log'), drive.filter((line) => /^\(000000000[0-7]\./.test(line)).join('\n'));
  const { code } = await run(folder, 'replay', map, ...inputs, '--out', 'out.log', '--out-wires', 'out.csv');
  expect(code).toBe(0);
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

interface Report {
  readonly agrees: boolean;
  readonly totals: Record<string, number>;
  readonly mismatches: readonly { readonly kind: string; readonly subject: string }[];
}

describe('crossloom verify-capture', () => {
  it('agrees with what the map makes of the sample drive', async () => {
    const { code, out } = await run(folder, 'verify-capture', map, ...all);
    expect(code).toBe(0);
    expect(out).toContain('what came out is what the map says');
    expect(out).toMatch(/values of \d+ of \d+ routes judged/);
  });
  it('names what is missing, exit 1', async () => {
    const out = readFileSync(join(folder, 'out.log'), 'utf8').split('\n');
    const gauges = out.flatMap((line, at) => (/ 120#/.test(line) || / 3[0-9A-F]{2}#/.test(line) ? [at] : []));
    const gone = gauges[Math.floor(gauges.length / 2)]!;
    writeFileSync(join(folder, 'less.log'), out.filter((_, at) => at !== gone).join('\n'));
    const text = await run(folder, 'verify-capture', map, ...inputs, '--log', 'less.log', '--wires', 'out.csv');
    expect(text.code).toBe(1);
    expect(text.out).toMatch(/missing/);
    const json = await run(
      folder,
      'verify-capture',
      map,
      ...inputs,
      '--log',
      'less.log',
      '--wires',
      'out.csv',
      '--format',
      'json',
    );
    const report = JSON.parse(json.out) as Report;
    expect(report.agrees).toBe(false);
    expect(report.totals).toMatchObject({ missing: 1, wrong: 0, extra: 0, late: 0, counter: 0, checksum: 0 });
    expect(report.mismatches).toHaveLength(1);
  });
  it('bad input, exit 2', async () => {
    for (const [args, word] of [
      [[], '--log FILE'],
      [['--log', 'nothing.log'], 'cannot read nothing.log'],
      [['--log', map], 'can be compared'],
      [['--log', 'in.log', '--map', 'can0=host:none'], 'there is no bus "host:none"'],
      [['--log', 'in.log', '--build', 'drivetrain=6wd'], 'has no choice "6wd"'],
      [['--log', 'in.log', '--bus-ms', 'x'], 'write a number'],
    ] as const) {
      const { code, err } = await run(folder, 'verify-capture', map, ...args);
      expect([code, err]).toEqual([2, expect.stringContaining(word)]);
    }
  });
});
