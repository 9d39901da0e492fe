import { cpSync, existsSync, mkdtempSync, readFileSync, readdirSync, rmSync, symlinkSync, mkdirSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { VectorsFile } from '../../src/translate/index.ts';
import { run } from './memory-terminal.ts';

const folder = mkdtempSync(join(tmpdir(), 'crossloom-vectors-'));
const sample = 'ft6-orrin32.map.json';
beforeAll(() => {
  for (const name of [sample, 'halden-ft6.platform.json', 'orrin-32.platform.json'])
    cpSync(resolve(import.meta.dirname, '../../sample-maps', name), join(folder, name));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('crossloom vectors', () => {
  it('writes what people read, what a bench reads, and a log a vector', async () => {
    const { code, out, err } = await run(
      folder,
      'vectors',
      sample,
      '--out',
      'a',
      '--route',
      'engine-speed',
      '--route',
      'fuel-level',
    );
    expect([code, err]).toEqual([0, '']);
    expect(out).toMatch(/^\d+ vectors of 2 routes in a: .*\nall \d+ are met by the replay engine\n/);
    expect(readdirSync(join(folder, 'a')).sort()).toEqual(['logs', 'vectors.html', 'vectors.json']);
    const file = VectorsFile.parse(JSON.parse(readFileSync(join(folder, 'a/vectors.json'), 'utf8')));
    expect(file.routes.map(({ route }) => route)).toEqual(['engine-speed', 'fuel-level']);
    for (const { route, vectors } of file.routes) {
      for (const { id, send, levels } of vectors) {
        expect(existsSync(join(folder, 'a/logs', route, `${id}.log`))).toBe(send.length > 0);
        expect(existsSync(join(folder, 'a/logs', route, `${id}-wires.csv`))).toBe(levels.length > 0);
      }
    }
    const html = readFileSync(join(folder, 'a/vectors.html'), 'utf8').replaceAll('<wbr>', '');
    expect(html).toContain('Play vectors on a bench only');
    expect(html).toContain('logs/engine-speed/01-least.log');
  });
  it('its logs are read back by the decoder, on the buses they name', async () => {
    const log = readFileSync(join(folder, 'a/logs/engine-speed/01-least.log'), 'utf8');
    const lines = log.trim().split('\n');
    // can-utils, log format: (seconds.microseconds) interface id#data
    for (const line of lines) expect(line).toMatch(/^\(\d{10}\.\d{6}\) \S+ [0-9A-F]{3,8}#[0-9A-F]*$/);
    const times = lines.map((line) => Number(line.slice(1, 18)));
    expect(times).toEqual(times.toSorted((a, b) => a - b));
    const { out } = await run(
      folder,
      'decode',
      'halden-ft6.platform.json',
      'a/logs/engine-speed/01-least.log',
      '--format',
      'json',
    );
    expect(out).not.toBe('');
  });
  it('refuses routes, modules and builds that there are not', async () => {
    for (const [args, word] of [
      [['--route', 'nothing'], 'no route "nothing"'],
      [['--module', 'ym'], 'no interface module "ym"; it has: xm'],
      [['--build', 'drivetrain=6wd'], 'has no choice "6wd"'],
    ] as const) {
      const { code, err } = await run(folder, 'vectors', sample, '--out', 'b', ...args);
      expect(code).toBe(2);
      expect(err).toContain(word);
      expect(existsSync(join(folder, 'b'))).toBe(false);
    }
  });
  it('writes nothing through a link that leads out of the folder', async () => {
    mkdirSync(join(folder, 'c'));
    mkdirSync(join(folder, 'elsewhere'));
    symlinkSync(join(folder, 'elsewhere'), join(folder, 'c/logs'));
    const { code, err } = await run(folder, 'vectors', sample, '--out', 'c', '--route', 'engine-speed');
    expect(code).toBe(2);
    expect(err).toContain('lies outside');
    expect(readdirSync(join(folder, 'elsewhere'))).toEqual([]);
  });
  it('JSON alone on standard output', async () => {
    const { out } = await run(folder, 'vectors', sample, '--out', 'd', '--route', 'transfer-range', '--format', 'json');
    expect(JSON.parse(out)).toMatchObject({ folder: 'd', routes: 1, shown: 1, unmet: [] });
  });
});
