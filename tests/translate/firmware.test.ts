import { readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { loadPairing } from '../../src/host/index.ts';
import type { Pairing } from '../../src/model/index.ts';
import { busNames, firmwareOf, logReader } from '../../src/translate/index.ts';
import { findCompilers, findSanitizers, hasMake } from './c-compilers.mjs';
import { benchPairing, message, signal, wire } from './bench-pairing.ts';
import {
  SANITIZED,
  STRICT,
  buildBatch,
  call,
  difference,
  engineLines,
  scratch,
  writeFirmware,
} from './firmware-rig.ts';
import { type LogEvent, randomLog } from './random-log.ts';

const compilers = findCompilers();
const sanitizers = findSanitizers();
const SAMPLE = resolve(import.meta.dirname, '../../sample-maps/ft6-orrin32.map.json');

async function sample(): Promise<Pairing> {
  return (await loadPairing(SAMPLE)).pairing;
}

const first = (pairing: Pairing) =>
  firmwareOf(pairing, pairing.map.interfaceModules[0]!, pairing.options.combinations[0]!);

/** What C source may not hold: heap, jumps, extensions. */
const FORBIDDEN =
  /\b(malloc|calloc|realloc|free|alloca|goto|setjmp|asm|typeof)\b|__[a-z]\w*|#\s*pragma|\b0b[01]|\b__int128\b/;

/** Code without comments and strings. */
function bare(text: string): string {
  return text.replaceAll(/\/\*[\s\S]*?\*\//g, ' ').replaceAll(/"(\\.|[^"\\])*"/g, '""');
}

/** Function → functions it calls, over all files. */
function callsOf(files: readonly { name: string; text: string }[]): ReadonlyMap<string, ReadonlySet<string>> {
  const calls = new Map<string, Set<string>>();
  for (const { name, text } of files) {
    if (!/\.[ch]$/.test(name)) continue;
    for (const [, own, body] of bare(text).matchAll(/^[a-z][^;{}#=]*?\b(\w+)\([^;{}]*\)\n\{\n([\s\S]*?)^\}/gm))
      calls.set(own!, new Set([...body!.matchAll(/\b(\w+)\(/g)].map(([, called]) => called!)));
  }
  return calls;
}

describe('the source of the sample map', () => {
  it('is whole: nothing refused, the same text every time, one unit a side', async () => {
    const pairing = await sample();
    const { files, refused, prefix } = first(pairing);
    expect(refused).toEqual([]);
    expect(prefix).toBe('xm');
    expect(files.map(({ name }) => name).filter((name) => name.endsWith('.c'))).toEqual(
      expect.arrayContaining(['xm.c', 'xm_host.c', 'xm_donor.c', 'xlc_core.c']),
    );
    expect(first(await sample()).files).toEqual(files);
    // A comment for every route that is carried.
    const routes = pairing.map.routes.filter(({ carrier, when }) => carrier === 'interface' && when === undefined);
    const all = files.map(({ text }) => text).join('\n');
    for (const { id, to } of routes) if (/\./.test(to)) expect(all).toContain(`/* Route ${id}.`);
  });

  it('holds no heap, no recursion, no extension, no jump', async () => {
    const { files } = first(await sample());
    const target = files.filter(({ name }) => /\.[ch]$/.test(name) && !/harness|main/.test(name));
    for (const { name, text } of target) expect(bare(text).match(FORBIDDEN)?.[0], name).toBeUndefined();
    const calls = callsOf(target);
    expect(calls.size).toBeGreaterThan(100);
    expect(calls.get('xm_tick')?.has('xm_turn_0')).toBe(true);
    const depth = (name: string, above: readonly string[]): void => {
      expect(above, 'recursion').not.toContain(name);
      for (const called of calls.get(name) ?? []) if (calls.has(called)) depth(called, [...above, name]);
    };
    for (const entry of ['xm_init', 'xm_on_frame', 'xm_on_pin', 'xm_tick']) depth(entry, []);
  });

  it('has floating point only where a signal is a float', () => {
    const plain = oneRoute({ id: 'S', bits: { start: 0, length: 16, order: 'little' } });
    for (const { name, text } of first(plain).files)
      if (/\.[ch]$/.test(name)) expect(bare(text), name).not.toMatch(/\b(float|double)\b|\d\.\d/);
    const float = oneRoute({ id: 'S', bits: { start: 0, length: 32, order: 'little' }, number: 'float32' });
    expect(first(float).files.map(({ name }) => name)).toContain('xlc_float.c');
  });

  describe.each(['gcc', 'clang'] as const)('under %s', (compiler) => {
    it.skipIf(!compilers.includes(compiler))(
      'compiles clean in every build of the map',
      async () => {
        const pairing = await sample();
        const folder = scratch();
        for (const combination of pairing.options.combinations) {
          const firmware = firmwareOf(pairing, pairing.map.interfaceModules[0]!, combination);
          writeFirmware(folder, firmware);
          const sources = firmware.files.map(({ name }) => name).filter((name) => name.endsWith('.c'));
          call(compiler, [...STRICT, '-O2', '-o', 'xm_run', ...sources], folder);
        }
      },
      240_000,
    );

    it.skipIf(!sanitizers.includes(compiler))(
      'sends frame for frame what the engine sends, under the sanitizers',
      async () => {
        const pairing = await sample();
        const { run } = buildBatch(scratch(), compiler, [...SANITIZED, '-O1'], [pairing]);
        for (const seed of [1, 2, 3]) {
          const log = { log: randomLog(pairing, seed, 3000, ['host', 'donor']), untilUs: 4_000_000 };
          const wanted = engineLines({ pairing, ...log });
          expect(difference(wanted, run([log])[0])).toBeNull();
          expect(wanted.length).toBeGreaterThan(2_000);
        }
      },
      240_000,
    );
  });
});

function oneRoute(source: Parameters<typeof signal>[0], more: Partial<Pairing['map']['routes'][number]> = {}): Pairing {
  return benchPairing({
    donor: { messages: [message({ id: 'M', frameId: '0x100' }, [signal({ unit: 'V', ...source })])] },
    host: {
      messages: [
        message({ id: 'T', frameId: '0x200', length: 8 }, [
          signal({ id: 'V', bits: { start: 0, length: 16, order: 'little' }, unit: 'V' }),
        ]),
      ],
    },
    transmits: [{ message: 'host:T', by: 'xm', port: 'A', cycleMs: 20 }],
    routes: [{ id: 'r', from: ['donor:M.S'], to: 'host:T.V', carrier: 'interface', by: 'xm', ...more }],
  });
}

describe.skipIf(!compilers.includes('gcc'))('the sample drive', () => {
  const LOGS = resolve(SAMPLE, '../logs');

  it('comes out of the C source as it comes out of the engine: frames and levels', async () => {
    const pairing = await sample();
    const buses = busNames(pairing, ['can0=host:chassis-can', 'can1=donor:powertrain-can', 'can2=host:body-can']);
    const events = ['drive.log', 'drive-wires.csv'].flatMap((name) => {
      const reader = logReader(pairing, buses);
      return [...reader.push(readFileSync(join(LOGS, name))), ...reader.end()];
    });
    const log = events
      .map((event, at) => ({ event, at }))
      .sort((a, b) => a.event.timeUs - b.event.timeUs || a.at - b.at)
      .flatMap(({ event }): LogEvent[] => {
        if (event.kind === 'frame') return [event];
        return event.level.kind === 'open' ? [] : [{ ...event, level: event.level }];
      });
    const untilUs = log.at(-1)!.timeUs;
    const { run } = buildBatch(scratch(), 'gcc', ['-O2'], [pairing]);
    const wanted = engineLines({ pairing, log, untilUs });
    expect(wanted.length).toBeGreaterThan(60_000);
    expect(difference(wanted, run([{ log, untilUs }])[0])).toBeNull();
  }, 120_000);

  it.skipIf(!hasMake())(
    'is read by the harness with the names of the log',
    async () => {
      const folder = scratch();
      writeFirmware(folder, first(await sample()));
      call('make', ['CC=gcc'], folder);
      const head = readFileSync(join(LOGS, 'drive.log'), 'utf8').split('\n').slice(0, 500).join('\n');
      const out = call(join(folder, 'xm_run'), ['can0=A', 'can1=donor:powertrain-can', 'can2=C'], folder, head);
      const buses = new Set(
        out
          .trim()
          .split('\n')
          .map((line) => line.split(' ')[1]),
      );
      expect([...buses].sort()).toEqual(['can0', 'can1', 'can2', 'wire']);
      expect(() => call(join(folder, 'xm_run'), ['can0=nowhere'], folder)).toThrow(
        /exit 2\n.*write NAME=BUS; the buses are host:chassis-can A/,
      );
      expect(() => call(join(folder, 'xm_run'), [], folder, '(1.0) A 123#0\nnonsense\n')).toThrow(
        /exit 1\nline 1 cannot be read\nline 2 cannot be read/,
      );
    },
    120_000,
  );
});

describe('what stands in the source', () => {
  it.skipIf(!compilers.includes('gcc'))('is right by the worked example of the standard', () => {
    // SAE J1939-71, SPN 190 (engine speed): raw 6400 at 1/8 rev/min is 800 rev/min; at 1/4 that is raw 3200, 0x0C80.
    const rpm = { unit: '{rev}/min', notAvailable: [65535] };
    const pairing = benchPairing({
      donor: {
        messages: [
          message({ id: 'M', frameId: '0xCF00400', idFormat: 'extended' }, [
            signal({ id: 'S', bits: { start: 24, length: 16, order: 'little' }, factor: 0.125, ...rpm }),
          ]),
        ],
      },
      host: {
        messages: [
          message({ id: 'T', frameId: '0x200', length: 2 }, [
            signal({ id: 'V', bits: { start: 0, length: 16, order: 'little' }, factor: 0.25, ...rpm }),
          ]),
        ],
      },
      transmits: [{ message: 'host:T', by: 'xm', port: 'A', cycleMs: 20 }],
      routes: [{ id: 'r', from: ['donor:M.S'], to: 'host:T.V', carrier: 'interface', by: 'xm', staleAfterMs: 30 }],
    });
    const { run } = buildBatch(scratch(), 'gcc', [], [pairing]);
    const data = Uint8Array.of(0xff, 0xff, 0xff, 0x00, 0x19, 0xff, 0xff, 0xff);
    const frame = { kind: 'frame', timeUs: 0, bus: 'donor:bus', frameId: 0xcf00400, extended: true, data } as const;
    expect(run([{ log: [frame], untilUs: 20_000 }])[0]).toEqual([
      '(0000000000.000000) host:bus 200#800C',
      '(0000000000.020000) host:bus 200#800C',
    ]);
  });

  it('names a route that needs more than the source can do, and leaves the rest as it is', () => {
    const pairing = oneRoute(
      { id: 'S', bits: { start: 0, length: 64, order: 'little' } },
      { steps: [{ do: 'debounce', forMs: 20 }] },
    );
    const { refused, files } = first(pairing);
    expect(refused).toEqual([{ what: 'route', id: 'r', why: expect.stringMatching(/over 64 bits/) as string }]);
    expect(files.find(({ name }) => name === 'README.md')?.text).toContain('- route r: ');
    expect(files.find(({ name }) => name === 'xm_host.c')?.text).toContain('xm_turn_0');
  });

  it.skipIf(!compilers.includes('gcc'))('cannot be broken out of by names in the map', () => {
    const bad = '*/ #error out /* " \\" ??/\n%s \u2028 ${x} `';
    const pairing = benchPairing({
      donor: { messages: [message({ id: 'M', frameId: '0x100' }, [signal({ id: 'S', unit: bad })])] },
      host: {
        messages: [message({ id: 'T', frameId: '0x200', length: 1 }, [signal({ id: 'V', unit: bad })])],
        wires: [wire({ id: `lamp"); }${bad.replaceAll(/[.:]/g, '')}`, title: bad })],
      },
      interfaceModules: [
        {
          id: 'int',
          title: bad,
          periodMs: 10,
          latencyMs: 0,
          ports: [
            { id: `A${bad}`, bus: 'host:bus' },
            { id: '9', bus: 'donor:bus' },
          ],
          pins: [],
        },
      ],
      transmits: [{ message: 'host:T', by: 'int', port: `A${bad}`, cycleMs: 20 }],
      routes: [
        { id: bad, from: ['donor:M.S'], to: 'host:T.V', carrier: 'interface', by: 'int' },
        {
          id: 'wire',
          from: ['donor:M.S'],
          to: `host:lamp"); }${bad.replaceAll(/[.:]/g, '')}`,
          carrier: 'interface',
          by: 'int',
          steps: [{ do: 'bands', at: [5], states: ['inactive', 'active'], unit: bad }],
        },
      ],
    });
    const { run, firmware } = buildBatch(scratch(), 'gcc', [], [pairing]);
    expect(firmware[0]!.files.map(({ name }) => name)).toContain('int_host.c');
    for (const { name, text } of firmware[0]!.files)
      if (/\.[ch]$/.test(name)) expect(bare(text), name).not.toMatch(/error out|\?\?\/|[^\x20-\x7e\n]/);
    const frame = {
      kind: 'frame',
      timeUs: 0,
      bus: 'donor:bus',
      frameId: 0x100,
      extended: false,
      data: new Uint8Array(8).fill(7),
    } as const;
    expect(run([{ log: [frame], untilUs: 0 }])[0]![0]).toBe('(0000000000.000000) host:bus 200#07');
  });
});
