import { basename, dirname, isAbsolute, join, resolve } from 'node:path';
import {
  pair,
  readMap,
  readPlatform,
  type CrossloomMap,
  type Pairing,
  type Platform,
  type ReadResult,
  type SideName,
} from '../../model/index.ts';
import { readText } from './read-file.ts';
import { UnusableInput, faultLine } from './unusable-input.ts';

async function loadDocument<T>(path: string, read: (text: string) => ReadResult<T>): Promise<T> {
  const result = read(await readText(path));
  if (result.ok) return result.document;
  const count = result.faults.length;
  throw new UnusableInput(
    `${path} cannot be used: ${count} ${count === 1 ? 'fault' : 'faults'}`,
    result.faults.map((fault) => faultLine(path, fault)),
  );
}

/** Reads a platform file. Throws UnusableInput with every fault. */
export function loadPlatform(path: string): Promise<Platform> {
  return loadDocument(path, readPlatform);
}

export interface LoadedPairing {
  readonly pairing: Pairing;
  readonly map: CrossloomMap;
  readonly mapPath: string;
  readonly platformPaths: Readonly<Record<SideName, string>>;
}

/** Where a map's platform lies: relative to the map, never an absolute path or an address. */
export function platformPath(mapPath: string, link: string): string {
  if (isAbsolute(link) || /^[a-z][a-z0-9+.-]*:/i.test(link) || link.includes('\0')) {
    throw new UnusableInput(`${mapPath}: the platform "${link.slice(0, 200)}" must be a path relative to the map`);
  }
  return resolve(dirname(mapPath), link);
}

/**
 * Reads a map and both of its platforms, which lie relative to the map, or to `folder` where the map is a copy put elsewhere. Faults
 * of all three files are gathered before it gives up.
 */
export async function loadPairing(mapPath: string, folder = dirname(mapPath)): Promise<LoadedPairing> {
  const map = await loadDocument(mapPath, readMap);
  const beside = join(folder, basename(mapPath));
  const platformPaths = {
    host: platformPath(beside, map.host.platform),
    donor: platformPath(beside, map.donor.platform),
  };
  const [host, donor] = await Promise.allSettled([loadPlatform(platformPaths.host), loadPlatform(platformPaths.donor)]);
  const failed = [host, donor].flatMap((result) => (result.status === 'rejected' ? [result.reason as unknown] : []));
  if (failed.length > 0) {
    const unusable = failed.map((reason) => {
      if (reason instanceof UnusableInput) return reason;
      throw reason;
    });
    throw new UnusableInput(
      unusable.map(({ message }) => message).join('; '),
      unusable.flatMap(({ faults }) => faults),
    );
  }
  const [hostPlatform, donorPlatform] = [host, donor].map(
    (result) => (result as PromiseFulfilledResult<Platform>).value,
  );
  return { pairing: pair(map, hostPlatform!, donorPlatform!), map, mapPath, platformPaths };
}
