import { basename } from 'node:path';
import { contentOfDbc, mergeImport, readDbc, type DbcFault, type MergedImport } from '../can/index.ts';
import { UnusableInput, readBytes } from '../host/index.ts';
import { sha256Hex, type Bus, type Platform } from '../model/index.ts';

/** Faults above this many are counted, not listed, in text. */
export const LISTED_FAULTS = 40;

/** `file.dbc:12:5: error: …`, with how to mend it. */
export function dbcFaultLine(file: string, { line, column, severity, message, mend }: DbcFault): string {
  return `${file}:${line}:${column}: ${severity}: ${message} ${mend}`;
}

export interface ReadInto extends MergedImport {
  readonly faults: readonly DbcFault[];
  readonly moreFaults: number;
}

/** The platform with a bus of that id, made where it is absent and a bit rate is given. @throws UnusableInput. */
export function withBus(platform: Platform, busId: string, bitRate: number | undefined): Platform {
  if (platform.buses.some(({ id }) => id === busId)) return platform;
  if (bitRate === undefined) {
    const known = platform.buses.map(({ id }) => id).join(', ') || 'none yet';
    throw new UnusableInput(
      `the platform has no bus "${busId}" (it has: ${known}); add --bit-rate 500000 to create it`,
    );
  }
  const bus: Bus = { id: busId, kind: 'can', bitRate };
  return { ...platform, buses: [...platform.buses, bus] };
}

/** A DBC file read into one bus of a platform, merged by meaning. @throws UnusableInput when it holds nothing of a DBC file. */
export async function readDbcInto(
  platform: Platform,
  bus: string,
  file: string,
  path: string,
  { today, gone }: { readonly today: string; readonly gone: 'keep' | 'remove' },
): Promise<ReadInto> {
  const bytes = await readBytes(path);
  const { database, faults, moreFaults } = readDbc(bytes);
  if (database.messages.length === 0 && database.nodes.length === 0) {
    throw new UnusableInput(
      `${file} holds no message and no node: it does not look like a DBC file; the platform is as it was`,
      faults.slice(0, LISTED_FAULTS).map((fault) => dbcFaultLine(file, fault)),
    );
  }
  const record = { bus, file: basename(file), sha256: sha256Hex(bytes), on: today };
  return { ...mergeImport(platform, contentOfDbc(database, bus), { record, gone }), faults, moreFaults };
}
