import { readFileSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import {
  pair,
  readMap,
  readPlatform,
  type CrossloomMap,
  type Pairing,
  type Platform,
  type ReadResult,
} from '../../src/model/index.ts';

export const SAMPLE_FOLDER = resolve(import.meta.dirname, '../../sample-maps');

function must<T>(result: ReadResult<T>): T {
  if (!result.ok) throw new Error(result.faults[0]!.message);
  return result.document;
}

/** A map of the samples with its platforms. */
export function loadDocuments(name: string): { map: CrossloomMap; host: Platform; donor: Platform } {
  const path = join(SAMPLE_FOLDER, name);
  const map = must(readMap(readFileSync(path, 'utf8')));
  const platform = (link: string): Platform => must(readPlatform(readFileSync(join(dirname(path), link), 'utf8')));
  return { map, host: platform(map.host.platform), donor: platform(map.donor.platform) };
}

export function loadPairing(name: string, change: (map: CrossloomMap) => CrossloomMap = (map) => map): Pairing {
  const { map, host, donor } = loadDocuments(name);
  return pair(change(map), host, donor);
}

/** The planted mistakes of `review-me`: what they are about, and the rule that finds each. */
export function plantedMistakes(): readonly { readonly subject: string; readonly rule: string }[] {
  const text = readFileSync(join(SAMPLE_FOLDER, 'faulty/review-me.md'), 'utf8');
  return [...text.matchAll(/^\| *\d+ *\|[^|]*\| *`([^`]+)` *\| *`([^`]+)`/gm)].map(([, subject, rule]) => ({
    subject: subject!,
    rule: rule!,
  }));
}
