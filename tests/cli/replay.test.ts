/** The command that plays logs through a map. What comes out of the sample drive is checked in tests/sample-maps/drive.test.ts. */
import { cpSync, existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { run, runWith } from './memory-terminal.ts';

const root = resolve(import.meta.dirname, '../..');
const folder = mkdtempSync(join(tmpdir(), 'crossloom-replay-'));
const map = 'ft6-orrin32.map.json';
const drive = ['--log', 'logs/drive.log', '--wires', 'logs/drive-wires.csv'];
const read = (name: string): string => readFileSync(join(folder, name), 'utf8');

beforeAll(() => {
  cpSync(join(root, 'sample-maps'), folder, { recursive: true, filter: (path) => !/faulty|pictures/.test(path) });
  const lines = read('logs/drive.log').split('\n');
  // Three seconds from the middle of the drive, and a line that is torn.
  writeFileSync(join(folder, 'short.log'), lines.filter((line) => /^\(000000000[345]\./.test(line)).join('\n'));
  writeFileSync(join(folder, 'torn.log'), `${read('short.log')}\n(0000000005.999999) can0 0B8#123\n\u001b[2J\n`);
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

interface Report {
  readonly in: Record<string, number>;
  readonly out: Record<string, number>;
  readonly stopped: boolean;
  readonly build: Record<string, string>;
  readonly inferred: readonly { readonly interface: string; readonly bus: string }[];
  readonly routes: readonly {
    readonly route: string;
    readonly values: number;
    readonly lost: number;
    readonly notYet: number;
  }[];
  readonly logs: readonly { readonly name: string; readonly bad: number; readonly unmapped: readonly unknown[] }[];
}

describe('replay', () => {
  it('writes what comes out, the same every time, and reports every route', async () => {
    const once = await run(
      folder,
      'replay',
      map,
      ...drive,
      '--out',
      'a.log',
      '--out-wires',
      'a.csv',
      '--format',
      'json',
    );
    expect(once.code).toBe(0);
    const told = ['--map', 'can0=host:chassis-can', '--map', 'can1=donor:powertrain-can', '--map', 'can2=body-can'];
    const twice = await run(
      folder,
      'replay',
      map,
      ...drive,
      ...told,
      '--out',
      'b.log',
      '--out-wires',
      'b.csv',
      '--format',
      'json',
    );
    expect(twice).toMatchObject({ code: 0, err: '' });
    const [report, told2] = [once.out, twice.out].map((text) => JSON.parse(text) as Report) as [Report, Report];
    expect(report.inferred).toEqual([
      { interface: 'can1', bus: 'donor:powertrain-can' },
      { interface: 'can0', bus: 'host:chassis-can' },
      { interface: 'can2', bus: 'host:body-can' },
    ]);
    expect(once.err).toContain('can1 is taken for donor:powertrain-can');
    expect(told2).toEqual({ ...report, inferred: [] });
    // Inferred names are written as those of the log; the two runs agree byte for byte.
    expect(read('a.log') === read('b.log')).toBe(true);
    expect(read('a.csv') === read('b.csv')).toBe(true);
    expect(read('a.log').trimEnd().split('\n').length).toBe(report.out['frames']);
    expect(read('a.csv').trimEnd().split('\n').length).toBe(report.out['levels']! + 1);
    expect(report.in).toMatchObject({
      frames: read('logs/drive.log').trimEnd().split('\n').length,
      levels: read('logs/drive-wires.csv').trimEnd().split('\n').length - 1,
      bad: 0,
    });
    const text = await run(folder, 'replay', map, ...drive);
    expect(text.out).toMatch(/^58\.\d{3} s replayed: 37,995 frames/);
    expect(text.out).toMatch(/^engine-speed .* 1\.480 s +–$/m);
    expect(readdirSync(folder).filter((name) => /part/.test(name))).toEqual([]);
  });

  it('replays the build and the interface module asked for', async () => {
    const { code, out } = await run(
      folder,
      'replay',
      map,
      '--log',
      'short.log',
      '--build',
      'drivetrain=4wd,year=2021',
      '--module',
      'xm',
      '--format',
      'json',
    );
    expect(code).toBe(0);
    const { build, routes } = JSON.parse(out) as Report;
    expect(build).toEqual({ drivetrain: '4wd', year: '2021' });
    expect(routes.map(({ route }) => route)).toContain('transfer-range');
    expect(routes.map(({ route }) => route)).toContain('remote-start-21');
    expect(routes.map(({ route }) => route)).not.toContain('remote-start');
  });

  it('names the lines it leaves out, replays the rest, and ends with 1', async () => {
    const whole = JSON.parse(
      (await run(folder, 'replay', map, '--log', 'short.log', '--format', 'json')).out,
    ) as Report;
    const { code, out, err } = await run(folder, 'replay', map, '--log', 'torn.log', '--format', 'json');
    expect(code).toBe(1);
    expect(err).toMatch(/^torn\.log:\d+:32: a byte expected/m);
    expect(err).toContain('2 lines were left out');
    expect(err).not.toContain('\u001b');
    expect((JSON.parse(out) as Report).routes).toEqual(whole.routes);
  });

  it('says which interfaces stand for no bus', async () => {
    writeFileSync(join(folder, 'other.log'), `${read('short.log')}\n(0000000005.999999) can9 123#00\n`);
    const { code, err } = await run(folder, 'replay', map, '--log', 'other.log');
    expect(code).toBe(0);
    expect(err).toContain('can9 stands for no bus, 1 of its frames were left out; --map can9=BUS');
  });

  it('prints frames on standard output when asked, and the report beside it', async () => {
    const { code, out, err } = await run(folder, 'replay', map, '--log', 'short.log', '--out', '-');
    expect(code).toBe(0);
    expect(out.split('\n', 1)[0]).toMatch(/^\(\d{10}\.\d{6}\) can\d [0-9A-F]{3,8}#/);
    expect(err).toContain('s replayed:');
  });

  it('stops when interrupted: what came out until then is kept beside the file, which is as it was', async () => {
    writeFileSync(join(folder, 'kept.log'), 'as it was\n');
    const { code, err } = await runWith(
      folder,
      {
        onInterrupt: (stop) => {
          stop();
          return () => undefined;
        },
      },
      'replay',
      map,
      ...drive,
      '--out',
      'kept.log',
    );
    expect(code).toBe(130);
    expect(err).toContain('kept.log.partial');
    expect(read('kept.log')).toBe('as it was\n');
    const partial = read('kept.log.partial');
    expect(partial.endsWith('\n')).toBe(true);
    expect(partial.length).toBeGreaterThan(1000);
    expect(read('a.log').startsWith(partial)).toBe(true);
  });

  it('can be interrupted in the middle of a long pause', async () => {
    // Fifty hours, an hour between two frames: far longer to replay than the test may take.
    const lines = Array.from({ length: 50 }, (_, hour) => `(${hour * 3600}.000000) can1 0CF01000#0000F4D187FF0FB8`);
    writeFileSync(join(folder, 'pauses.log'), lines.join('\n'));
    const { code, out } = await runWith(
      folder,
      {
        onInterrupt: (stop) => {
          setTimeout(stop, 300);
          return () => undefined;
        },
      },
      ...['replay', map, '--log', 'pauses.log', '--format', 'json'],
    );
    expect(code).toBe(130);
    const { stopped, lastUs } = JSON.parse(out) as { stopped: boolean; lastUs: number };
    expect(stopped).toBe(true);
    expect(lastUs).toBeGreaterThan(0);
    expect(lastUs).toBeLessThan(49 * 3600 * 1e6);
  });

  it.each([
    [[], 'there is nothing to replay'],
    [['--log', 'absent.log'], 'there is no such file'],
    [['--log', '.'], 'is a folder'],
    [['--log', 'short.log', '--map', 'can0=host:none'], 'there is no bus "host:none"'],
    [['--log', 'short.log', '--map', 'can0'], 'is no mapping'],
    [['--log', 'short.log', '--module', 'ym'], 'no interface module "ym"; it has: xm'],
    [['--log', 'short.log', '--build', 'wheels=6'], 'there is no option "wheels"'],
    [['--log', 'short.log', '--out', 'short.log'], 'would replace a log that is read'],
    [['--log', 'short.log', '--out', 'x', '--out-wires', './x'], 'two different places'],
    [['--log', 'short.log', '--out', 'absent/x.log'], 'cannot write'],
    [['--log', 'short.log', '--out', 'logs'], 'is a folder'],
    [['--log', '-', '--wires', '-'], 'standard input (-) can be read as one log only'],
    [['--log', map, '--out', 'new.log'], 'can be replayed; the buses are host:chassis-can'],
    [['--log', 'short.log', '--wires', 'late.csv', '--out', 'new.log'], 'must be recorded on one clock'],
  ])('%j: exit code 2 and one clear line, nothing written', async (args, words) => {
    writeFileSync(join(folder, 'late.csv'), 'time_s,wire,value\n1436509052.0,host:tow-button,active\n');
    const before = read('short.log');
    const { code, out, err } = await run(folder, 'replay', map, ...args);
    expect(code).toBe(2);
    expect(out).toBe('');
    expect(err).toContain(words);
    expect(err).not.toContain('    at ');
    expect(read('short.log')).toBe(before);
    expect(existsSync(join(folder, 'new.log'))).toBe(false);
    expect(readdirSync(folder).filter((name) => name.endsWith('.part'))).toEqual([]);
  });
});
