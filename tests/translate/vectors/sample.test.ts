// Every vector of the sample map, played through the replay engine: exact rational arithmetic on one side, integers in time on the other.
import { describe, expect, it } from 'vitest';
import {
  type RouteVectors,
  VectorsFile,
  combinationOf,
  createEngineCheck,
  createVectorMaker,
} from '../../../src/translate/index.ts';
import { samplePairing } from '../../export/spec-tables.ts';

const sample = samplePairing();
const maker = createVectorMaker(sample);
const made: readonly RouteVectors[] = maker.routes.map((route) => maker.make(route));

describe('vectors of the sample map', () => {
  it('every one is met by the replay engine', () => {
    const builds = new Map<string, RouteVectors[]>();
    for (const route of made) {
      const key = JSON.stringify(route.build);
      builds.set(key, [...(builds.get(key) ?? []), route]);
    }
    const unmet = [...builds.values()].flatMap((routes) => {
      const check = createEngineCheck(sample, combinationOf(routes[0]!));
      return routes.flatMap(({ route, vectors }) => vectors.flatMap((vector) => check.play(route, vector)));
    });
    expect(unmet).toEqual([]);
  });
  it('makes a file that fits its schema', () => {
    expect(VectorsFile.safeParse(maker.file(made)).error?.issues).toBeUndefined();
  });
});
