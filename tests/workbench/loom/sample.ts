import { readFileSync } from 'node:fs';
import {
  deriveNeedsAndOffers,
  pair,
  type CrossloomMap,
  type Pairing,
  type Platform,
} from '../../../src/model/index.ts';
import { layLoom, type LoomGroup } from '../../../src/workbench/places/loom/layout.ts';
import { progressOf } from '../../../src/workbench/state/progress.ts';

function document<T>(name: string): T {
  return JSON.parse(readFileSync(new URL(`../../../sample-maps/${name}`, import.meta.url), 'utf8')) as T;
}

/** The sample pairing, its map changed by `edit` first. */
export function samplePairing(edit: (map: CrossloomMap) => CrossloomMap = (map) => map): Pairing {
  return pair(
    edit(document<CrossloomMap>('ft6-orrin32.map.json')),
    document<Platform>('halden-ft6.platform.json'),
    document<Platform>('orrin-32.platform.json'),
  );
}

/** The loom of a pairing, without findings. */
export function loomOf(pairing: Pairing): readonly LoomGroup[] {
  return layLoom(pairing, progressOf(pairing, deriveNeedsAndOffers(pairing)).open, []);
}
