// Builds generated firmware for many maps into one program and runs it beside the replay engine. Not a test itself.
import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Pairing, pair } from '../../src/model/index.ts';
import { type Firmware, type ReplayOutput, createReplay, firmwareOf } from '../../src/translate/index.ts';
import type { LogEvent } from './random-log.ts';

/** What the issue asks the source to compile under. */
export const STRICT = ['-std=c99', '-Wall', '-Wextra', '-Wpedantic', '-Wconversion', '-Werror'];
export const SANITIZED = ['-g', '-fsanitize=undefined,address', '-fno-sanitize-recover=all'];

/** A log for a map. */
export interface Run {
  readonly pairing: Pairing;
  readonly log: readonly LogEvent[];
  readonly untilUs: number;
}

/** The same pairing with its interface module under another id, so that several fit one program. */
export function renamed(pairing: Pairing, id: string): Pairing {
  const { map } = pairing;
  const [module] = map.interfaceModules;
  return pair(
    {
      ...map,
      interfaceModules: [{ ...module!, id }],
      routes: map.routes.map((route) => (route.by === module!.id ? { ...route, by: id } : route)),
      transmits: map.transmits.map((transmit) => (transmit.by === module!.id ? { ...transmit, by: id } : transmit)),
    },
    pairing.host.platform,
    pairing.donor.platform,
  );
}

/** The same pairing with host and donor exchanged: what was routed into the host is routed into the donor. */
export function exchanged({ map, host, donor }: Pairing): Pairing {
  const text = JSON.stringify(map).replaceAll(
    /"(host|donor):/g,
    (_, side) => `"${side === 'host' ? 'donor' : 'host'}:`,
  );
  return pair(JSON.parse(text) as Pairing['map'], donor.platform, host.platform);
}

/** The same pairing with a module that takes its time to start. */
export function startingLate(pairing: Pairing, startMs: number): Pairing {
  const { map } = pairing;
  return pair(
    { ...map, interfaceModules: map.interfaceModules.map((module) => ({ ...module, startMs })) },
    pairing.host.platform,
    pairing.donor.platform,
  );
}

/** A folder that is removed at the end of the process. */
export function scratch(): string {
  const folder = mkdtempSync(join(tmpdir(), 'crossloom-firmware-'));
  process.on('exit', () => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

export function writeFirmware(folder: string, { files }: Firmware): void {
  mkdirSync(folder, { recursive: true });
  for (const { name, text } of files) writeFileSync(join(folder, name), text);
}

/** Runs a program; throws with what it said when it fails. */
export function call(program: string, args: readonly string[], cwd: string, input = ''): string {
  const { status, stdout, stderr, error } = spawnSync(program, args, {
    cwd,
    input,
    encoding: 'utf8',
    maxBuffer: 2 ** 30,
  });
  if (error) throw error;
  if (status !== 0)
    throw new Error(`${program} ${args.slice(0, 12).join(' ')}: exit ${status}\n${stderr.slice(0, 6000)}`);
  return stdout;
}

const time = (us: number): string =>
  `(${String(Math.floor(us / 1e6)).padStart(10, '0')}.${String(us % 1e6).padStart(6, '0')})`;
const hexOf = (data: Uint8Array): string => Buffer.from(data).toString('hex').toUpperCase();
const idText = (id: number, extended: boolean): string =>
  id
    .toString(16)
    .toUpperCase()
    .padStart(extended ? 8 : 3, '0');

/** A log as the harness reads it. */
export function logText({ log, untilUs }: Omit<Run, 'pairing'>): string {
  const lines = log.map((event) => {
    if (event.kind === 'frame')
      return `${time(event.timeUs)} ${event.bus} ${idText(event.frameId, event.extended)}${event.data.length > 8 ? '##0' : '#'}${hexOf(event.data)}`;
    const { level } = event;
    return `${time(event.timeUs)} wire ${event.wire} ${level.kind === 'switched' ? Number(level.active) : level.thousandths}`;
  });
  return `${time(0)} power\n${lines.join('\n')}\n${time(untilUs)} advance\n`;
}

/** What the replay engine makes of a case, as the harness prints it. */
export function engineLines({ pairing, log, untilUs }: Run): string[] {
  const lines: string[] = [];
  const replay = createReplay(pairing, {
    startUs: 0,
    output: (event: ReplayOutput) => {
      // A conductor from end to end is no firmware.
      if (event.by === null) return;
      if (event.kind === 'frame')
        lines.push(
          `${time(event.timeUs)} ${event.bus} ${idText(event.frameId, event.extended)}${event.fd ? '##0' : '#'}${hexOf(event.data)}`,
        );
      else {
        const { level } = event;
        const text =
          level.kind === 'open' ? 'open' : level.kind === 'switched' ? Number(level.active) : level.thousandths;
        lines.push(`${time(event.timeUs)} wire ${event.wire} ${text}`);
      }
    },
  });
  for (const event of log) {
    if (event.kind === 'frame') replay.onFrame(event);
    else replay.onWire(event.wire, event.level, event.timeUs);
  }
  replay.advanceTo(untilUs);
  return lines;
}

/** Many modules in one program. */
export interface Batch {
  readonly firmware: readonly Firmware[];
  /** Runs a log through each module, in order; gives what each printed. */
  run(logs: readonly Omit<Run, 'pairing'>[]): readonly (readonly string[])[];
}

/**
 * Compiles the firmware of all pairings into one program. The ids of their modules must differ. `change` may alter a file before it is
 * written: a test that the comparison sees a difference.
 */
export function buildBatch(
  folder: string,
  compiler: string,
  flags: readonly string[],
  pairings: readonly Pairing[],
  change: (name: string, text: string) => string = (_, text) => text,
): Batch {
  mkdirSync(folder, { recursive: true });
  const firmware = pairings.map((pairing) =>
    firmwareOf(pairing, pairing.map.interfaceModules[0]!, pairing.options.combinations[0]!),
  );
  const includes: string[] = [];
  const core = new Set<string>();
  for (const one of firmware) {
    writeFirmware(folder, {
      ...one,
      files: one.files.map(({ name, text }) => ({ name, text: change(name, text) })),
    });
    for (const { name } of one.files) {
      if (!name.endsWith('.c')) continue;
      if (name.startsWith('xlc_')) core.add(name);
      else if (name.endsWith('_main.c'))
        includes.push(`#define main ${one.prefix}_entry`, `#include "${name}"`, '#undef main');
      else includes.push(`#include "${name}"`);
    }
  }
  const driver = [
    ...includes,
    'static int (*const entries[])(int, char **) = {',
    ...firmware.map(({ prefix }) => `    ${prefix}_entry,`),
    '};',
    'int main(int argc, char **argv)',
    '{',
    '    int i;',
    '    for (i = 1; i < argc; i++) {',
    '        if (freopen(argv[i], "r", stdin) == NULL || entries[i - 1](1, argv) != 0) {',
    '            return 1;',
    '        }',
    '        (void)puts("==");',
    '        (void)fflush(stdout);',
    '    }',
    '    return 0;',
    '}',
  ];
  writeFileSync(join(folder, 'batch.c'), `${driver.join('\n')}\n`);
  call(compiler, [...STRICT, ...flags, '-o', 'batch', 'batch.c', ...core], folder);
  return {
    firmware,
    run(logs) {
      const names = logs.map((log, at) => {
        const name = `${at}.log`;
        writeFileSync(join(folder, name), logText(log));
        return name;
      });
      const parts = call(join(folder, 'batch'), names, folder).split('==\n');
      return parts.slice(0, -1).map((part) => part.split('\n').slice(0, -1));
    },
  };
}

/** The same pairing without the routes that its firmware names as refused. */
export function withoutRefused(pairing: Pairing, { refused }: Firmware): Pairing {
  const left = new Set(refused.filter(({ what }) => what === 'route').map(({ id }) => id));
  if (left.size === 0) return pairing;
  const map = { ...pairing.map, routes: pairing.map.routes.filter(({ id }) => !left.has(id)) };
  return pair(map, pairing.host.platform, pairing.donor.platform);
}

/** The first line in which two outputs differ, in words; null when they are the same. */
export function difference(engine: readonly string[], c: readonly string[] | undefined): string | null {
  if (c === undefined) return 'the program stopped before its turn';
  const at = engine.findIndex((line, index) => line !== c[index]);
  if (at < 0 && engine.length === c.length) return null;
  const line = at < 0 ? engine.length : at;
  return `line ${line + 1}: the engine sends ${engine[line] ?? 'nothing'}, the C source ${c[line] ?? 'nothing'}`;
}
