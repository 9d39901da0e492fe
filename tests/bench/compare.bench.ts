import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { check } from '../../src/checks/index.ts';
import { comparePairings } from '../../src/compare/index.ts';
import {
  pair,
  readMap,
  readPlatform,
  writeMap,
  writePlatform,
  type CrossloomMap,
  type ReadResult,
} from '../../src/model/index.ts';
import { generateMap } from './generate-map.ts';
import { medians, type BenchRow } from './measure.ts';

const SIGNALS = 10_000;
const ROUTES = 2_000;
const EDITS = 60;

function must<T>(result: ReadResult<T>): T {
  if (!result.ok) throw new Error(result.faults[0]!.message);
  return result.document;
}

/** Design page 3: two revisions compared against JSON.parse of both. Issue 6: the checks of 64 builds against those of one. */
export async function rows(): Promise<BenchRow[]> {
  return [compareRow(), ...buildRows()];
}

function compareRow(): BenchRow {
  const { map, host, donor } = generateMap(SIGNALS, ROUTES);
  const later: CrossloomMap = {
    ...map,
    revision: 'B',
    routes: map.routes.map((route, at) =>
      at % Math.floor(ROUTES / EDITS) === 0 ? { ...route, staleAfterMs: 321 } : route,
    ),
  };
  const texts = [map, later].map((each) => [writeMap(each), writePlatform(host), writePlatform(donor)]);
  // Two revisions as they come from the files: nothing shared between them.
  const [before, after] = texts.map(([mapText, hostText, donorText]) =>
    pair(must(readMap(mapText!)), must(readPlatform(hostText!)), must(readPlatform(donorText!))),
  );
  const [comparing, parsing] = medians(7, [
    () => comparePairings(before!, after!),
    () => texts.flat().map((text) => JSON.parse(text) as unknown),
  ]);
  const { changes } = comparePairings(before!, after!);
  return {
    work: `compare two revisions with their findings (${SIGNALS} signals a side, ${ROUTES} routes, ${changes.length} changes)`,
    against: 'JSON.parse of both',
    ratio: comparing! / parsing!,
    target: 3,
    better: 'lower',
  };
}

function buildRows(): BenchRow[] {
  const folder = resolve(import.meta.dirname, '../../sample-maps');
  const read = (name: string): string => readFileSync(resolve(folder, name), 'utf8');
  const map = must(readMap(read('family.map.json')));
  const [host, donor] = [must(readPlatform(read(map.host.platform))), must(readPlatform(read(map.donor.platform)))];
  const all = pair(map, host, donor);
  const [first] = all.options.combinations;
  const one = pair(
    {
      ...map,
      impossible: (map.options ?? []).map(({ id, choices }) => ({
        [id]: choices.filter((choice) => choice !== first!.get(id)),
      })),
    },
    host,
    donor,
  );
  if (one.options.combinations.length !== 1) throw new Error('one build was meant');
  const [many, single] = medians(15, [() => check(all), () => check(one)]);
  return [
    {
      work: `check a map of ${all.options.combinations.length} builds`,
      against: 'the same map with all builds but one declared impossible',
      ratio: many! / single!,
      target: 4,
      better: 'lower',
    },
  ];
}
