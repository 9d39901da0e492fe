// The generated C against the replay engine, frame for frame. CROSSLOOM_FIRMWARE_MAPS=10000 makes it a night's run.
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Pairing } from '../../src/model/index.ts';
import { findCompilers, findSanitizers } from './c-compilers.mjs';
import {
  type Batch,
  type Run,
  SANITIZED,
  buildBatch,
  difference,
  engineLines,
  exchanged,
  renamed,
  scratch,
  startingLate,
  withoutRefused,
} from './firmware-rig.ts';
import { fuzzedLog } from './fuzzed-log.ts';
import { randomLog } from './random-log.ts';
import { randomPairing } from './random-map.ts';

const compilers = findCompilers();
const sanitizers = findSanitizers();
const MAPS = Number(process.env['CROSSLOOM_FIRMWARE_MAPS'] ?? 200);
/** First seed; another one for another night. */
const FIRST = Number(process.env['CROSSLOOM_FIRMWARE_SEED'] ?? 1);
const BATCH = 50;
/** Every other batch goes through the sanitizers, and the compilers take turns. */
const WAYS = [
  { compiler: 'gcc', flags: [...SANITIZED, '-O0'] },
  { compiler: 'clang', flags: ['-O1'] },
  { compiler: 'gcc', flags: ['-O2'] },
  { compiler: 'clang', flags: [...SANITIZED, '-O0'] },
] as const;

/** Every other map runs from host to donor, every third module takes its time to start. */
const isExchanged = (seed: number): boolean => seed % 2 === 0;

function pairingOf(seed: number): Pairing {
  const pairing = renamed(randomPairing(seed), `m${seed}`);
  const turned = isExchanged(seed) ? exchanged(pairing) : pairing;
  return seed % 3 === 0 ? startingLate(turned, (seed % 50) + 0.5) : turned;
}

const pairingsOf = (seeds: readonly number[]): Pairing[] => seeds.map(pairingOf);
const seedsFrom = (first: number, count: number) => Array.from({ length: count }, (_, at) => first + at);

interface Outcome {
  readonly differences: readonly string[];
  readonly lines: number;
}

/** Runs a log of each kind through every module of a batch, and through the engine. */
function compare(batch: Batch, seeds: readonly number[], kinds: readonly ('plain' | 'fuzzed')[]): Outcome {
  const differences: string[] = [];
  let lines = 0;
  const pairings = pairingsOf(seeds);
  for (const kind of kinds) {
    const runs = seeds.map((seed, at): Run => {
      const pairing = withoutRefused(pairings[at]!, batch.firmware[at]!);
      const from = [isExchanged(seed) ? ('host' as const) : ('donor' as const)];
      return kind === 'plain'
        ? { pairing, log: randomLog(pairing, seed + 1, 1500, from), untilUs: 1_600_000 }
        : { pairing, log: fuzzedLog(pairing, seed + 2, 600, from), untilUs: 12_000_000 };
    });
    const outputs = batch.run(runs);
    runs.forEach((run, at) => {
      const wanted = engineLines(run);
      lines += wanted.length;
      const differs = difference(wanted, outputs[at]);
      if (differs !== null) differences.push(`seed ${seeds[at]}, ${kind} log, ${differs}`);
    });
  }
  return { differences, lines };
}

describe.skipIf(compilers.length === 0)('the C source against the engine', () => {
  const folder = scratch();
  const batches = Math.ceil(MAPS / BATCH);
  it.each(Array.from({ length: batches }, (_, at) => at))(
    'sends the same frames and levels at the same times: batch %i',
    (at) => {
      const ways = WAYS.filter(({ compiler, flags: [flag] }) =>
        (flag === SANITIZED[0] ? sanitizers : compilers).includes(compiler),
      );
      const { compiler, flags } = ways[at % ways.length]!;
      const seeds = seedsFrom(FIRST + at * BATCH, Math.min(BATCH, MAPS - at * BATCH));
      const batch = buildBatch(join(folder, `batch-${at}`), compiler, flags, pairingsOf(seeds));
      const { differences, lines } = compare(batch, seeds, ['plain', 'fuzzed']);
      expect(differences).toEqual([]);
      expect(lines).toBeGreaterThan(seeds.length * 50);
      // Nearly all routes of nearly all maps are there: what needs over 64 bits in a step with memory is rare.
      const left = batch.firmware.flatMap(({ refused }) => refused.filter(({ why }) => /bits/.test(why)));
      expect(left.length).toBeLessThan(seeds.length / 8);
    },
    600_000,
  );
});

/** Mistakes planted in the source, one at a time: the comparison must see each. */
const MISTAKES: readonly (readonly [what: string, file: RegExp, from: string | RegExp, to: string])[] = [
  ['a lost source comes back one sample late', /^xlc_core\.c$/, 'source->good >= rule', 'source->good > rule'],
  [
    'a source grows old 0.4 ms early',
    /^xlc_core\.c$/,
    'last_us > rules[i].stale_us',
    'last_us >= rules[i].stale_us - 400u',
  ],
  [
    'a hold does not end',
    /^xlc_core\.c$/,
    'hold->lost_since_us >= action->for_us',
    'hold->lost_since_us >= UINT64_MAX',
  ],
  ['halves are rounded down', /^xlc_core\.h$/, '(n + d / 2) / d', '(n + (d - 1) / 2) / d'],
  ['a debounce takes a tick longer', /^xlc_core\.c$/, 'memory->count >= ticks', 'memory->count > ticks'],
  ['a counter starts again too late', /_(host|donor)\.c$/, /\+ 1u >= (\d+)u \?/g, '+ 1u > $1u ?'],
  ['a cycle drifts', /^m\d+\.c$/, '/ UINT64_C(10000) + 1u)', '/ UINT64_C(10000) + 2u)'],
];

describe.skipIf(compilers.length === 0)('the comparison', () => {
  const seeds = seedsFrom(1, 25);
  it.each(MISTAKES)(
    'sees that %s',
    (_, file, from, to) => {
      let changed = 0;
      const batch = buildBatch(scratch(), compilers[0]!, ['-O0'], pairingsOf(seeds), (name, text) => {
        if (!file.test(name)) return text;
        const other = text.replaceAll(from, to);
        if (other !== text) changed += 1;
        return other;
      });
      expect(changed).toBeGreaterThan(0);
      expect(compare(batch, seeds, ['plain']).differences.length).toBeGreaterThan(0);
    },
    120_000,
  );
});
