import { check, recheck } from '../../src/checks/index.ts';
import {
  indexSide,
  pair,
  readMap,
  readPlatform,
  writeMap,
  writePlatform,
  type CrossloomMap,
  type Platform,
  type ReadResult,
} from '../../src/model/index.ts';
import { generateMap } from './generate-map.ts';
import { medians, type BenchRow } from './measure.ts';

const SIGNALS = 10_000;
const ROUTES = 2_000;

function must<T>(result: ReadResult<T>): T {
  if (!result.ok) throw new Error(result.faults[0]!.message);
  return result.document;
}

/** Design page 3: parse and all checks of a large map against JSON.parse of its files; a re-check against the full check. */
export async function rows(): Promise<BenchRow[]> {
  const generated = generateMap(SIGNALS, ROUTES);
  const texts = {
    map: writeMap(generated.map),
    host: writePlatform(generated.host),
    donor: writePlatform(generated.donor),
  };
  const read = (): { map: CrossloomMap; host: Platform; donor: Platform } => ({
    map: must(readMap(texts.map)),
    host: must(readPlatform(texts.host)),
    donor: must(readPlatform(texts.donor)),
  });
  const documents = read();
  const [host, donor] = [indexSide('host', documents.host), indexSide('donor', documents.donor)];
  const run = check(pair(documents.map, host, donor));
  let edits = 0;
  const edited = (): CrossloomMap => {
    edits += 1;
    const at = edits % ROUTES;
    return {
      ...documents.map,
      routes: documents.map.routes.with(at, { ...documents.map.routes[at]!, staleAfterMs: 400 + edits }),
    };
  };
  const [full, parse, reading, checking, again] = medians(9, [
    () => {
      const { map, host: h, donor: d } = read();
      return check(pair(map, h, d));
    },
    () => [JSON.parse(texts.map), JSON.parse(texts.host), JSON.parse(texts.donor)] as unknown,
    () => read(),
    () => check(pair(documents.map, host, donor)),
    () => recheck(run, pair(edited(), host, donor)),
  ]);
  const size = `${SIGNALS} signals a side, ${ROUTES} routes, ${run.rules.length} rules, ${run.findings.length} findings`;
  return [
    {
      work: `read and check a map (${size})`,
      against: 'JSON.parse of the same files',
      ratio: full! / parse!,
      target: 5,
      better: 'lower',
      note: `reading alone ${(reading! / parse!).toFixed(2)}`,
    },
    {
      work: 're-check after one edit of that map',
      against: 'the full check',
      ratio: again! / checking!,
      target: 1 / 20,
      better: 'lower',
    },
  ];
}
