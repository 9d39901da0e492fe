import { mergeImport, type ImportChange } from '../../../../can/index.ts';
import {
  isId,
  type Bus,
  type CrossloomMap,
  type Fate,
  type PairingDocuments,
  type Platform,
  type SideName,
} from '../../../../model/index.ts';
import { likelyProtections, withLikelyProtection } from '../../../parts/frame-fields.ts';
import { interfaceModuleEdit } from '../../../parts/interface-module.ts';
import { linkFrom } from '../../../parts/link.ts';
import type { DbcReading } from '../../../worker/dbc-protocol.ts';

/** A DBC file read for one bus of a side. */
export interface DbcSource {
  readonly key: number;
  readonly file: string;
  readonly bus: string;
  /** In bit/s. A DBC file rarely says it. */
  readonly bitRate: number;
  readonly reading: DbcReading;
}

/** A platform document as it was read. */
export interface PlatformFile {
  readonly path: string;
  /** Null: it is not on disk yet where it will be saved. */
  readonly sha256: string | null;
  readonly platform: Platform;
}

/** What one side is made of: a platform file, DBC files, or both. */
export interface SideDraft {
  readonly file: PlatformFile | null;
  /** Title of a platform that is made here. */
  readonly title: string;
  readonly sources: readonly DbcSource[];
}

/** A pairing that is being put together and is not saved yet. */
export interface PairingDraft {
  readonly host: SideDraft;
  readonly donor: SideDraft;
  readonly fates: Readonly<Record<string, Fate>>;
  /** '' for the one made of the platforms' titles. */
  readonly title: string;
  readonly withInterface: boolean;
}

const EMPTY_SIDE: SideDraft = { file: null, title: '', sources: [] };

export const EMPTY_DRAFT: PairingDraft = {
  host: EMPTY_SIDE,
  donor: EMPTY_SIDE,
  fates: {},
  title: '',
  withInterface: true,
};

export const USUAL_BIT_RATES = [125_000, 250_000, 500_000, 1_000_000] as const;

/** Text as an id: what an id may not have becomes a hyphen. */
export function idFromText(text: string, otherwise: string): string {
  const id = text
    .normalize('NFKD')
    .replaceAll(/[^A-Za-z0-9_+/-]+/g, '-')
    .replaceAll('/', '-')
    .replaceAll(/^[-+]+|-+$/g, '')
    .toLowerCase()
    .slice(0, 64);
  return isId(id) ? id : otherwise;
}

/** A file's name without its ending, as an id of a bus. */
export function busFromFile(file: string): string {
  return idFromText(file.replace(/\.[^.]*$/, ''), 'can');
}

/** What a side's files say together. Counters and checksums are taken by name, which a DBC file has no other word for. */
export interface SideContent {
  readonly platform: Platform;
  readonly changes: readonly ImportChange[];
  readonly notes: readonly string[];
}

const TITLES: Readonly<Record<SideName, string>> = { host: 'Host platform', donor: 'Donor platform' };

function begun(side: SideName, { file, title }: SideDraft): Platform {
  if (file) return file.platform;
  const name = title.trim() === '' ? TITLES[side] : title.trim();
  return {
    $schema: '../schemas/platform.schema.json',
    format: 'crossloom-platform',
    version: 1,
    id: idFromText(name, side),
    title: name,
    documents: [],
    buses: [],
    modules: [],
    messages: [],
    wires: [],
    connectors: [],
    feeds: [],
    grounds: [],
  };
}

/** The platform that a side's files make; null when nothing was chosen. */
export function contentOfSide(side: SideName, draft: SideDraft, today: string): SideContent | null {
  if (draft.file === null && draft.sources.length === 0) return null;
  let platform = begun(side, draft);
  const changes: ImportChange[] = [];
  const notes: string[] = [];
  for (const { file, bus, bitRate, reading } of draft.sources) {
    if (!platform.buses.some(({ id }) => id === bus)) {
      const added: Bus = { id: bus, kind: 'can', bitRate };
      platform = { ...platform, buses: [...platform.buses, added] };
    }
    const content = {
      ...reading.content,
      modules: reading.content.modules.map((module) => ({ ...module, buses: [bus] })),
      messages: reading.content.messages.map((message) => ({ ...message, bus })),
    };
    const merged = mergeImport(platform, content, {
      record: { bus, file, sha256: reading.sha256, on: today },
      gone: 'keep',
    });
    platform = merged.platform;
    changes.push(...merged.changes);
    notes.push(...merged.notes.map((note) => `${file}: ${note}`));
  }
  if (draft.sources.length === 0) return { platform, changes, notes };
  const protections = likelyProtections(platform);
  for (const [id, { counter, checksum }] of protections) {
    const fields = [
      counter === undefined ? '' : `counter ${counter}`,
      checksum === undefined ? '' : `checksum ${checksum}`,
    ];
    notes.push(
      `${id}: ${fields.filter(Boolean).join(' and ')}, taken by name: they are made afresh by whoever sends the frame, so they are no needs`,
    );
  }
  return { platform: withLikelyProtection(platform, protections), changes, notes };
}

/** The title of the pairing: the one typed, else one made of the platforms. */
export function titleOf(draft: PairingDraft, host: Platform, donor: Platform): string {
  return draft.title.trim() === '' ? `${donor.title} in ${host.title}` : draft.title.trim();
}

/** Fates as the map holds them: only of modules that are there, and only those that are not retained. */
function fatesOf(draft: PairingDraft, host: Platform, donor: Platform): Record<string, Fate> {
  const known = [...host.modules.map(({ id }) => `host:${id}`), ...donor.modules.map(({ id }) => `donor:${id}`)].sort();
  return Object.fromEntries(
    known.flatMap((ref) => {
      const fate = draft.fates[ref];
      return fate === undefined || fate === 'retained' ? [] : [[ref, fate]];
    }),
  );
}

/** Where the documents of a new pairing are saved: platforms made here lie beside the map. */
export interface DraftPaths {
  readonly map: string;
  readonly host: string;
  readonly donor: string;
}

export function pathsOf(draft: PairingDraft, mapPath: string, host: Platform, donor: Platform): DraftPaths {
  const cut = Math.max(mapPath.lastIndexOf('/'), mapPath.lastIndexOf('\\')) + 1;
  const folder = mapPath.slice(0, cut);
  const beside = (id: string): string => `${folder}${id}.platform.json`;
  const hostPath = draft.host.file?.path ?? beside(host.id);
  const donorPath = draft.donor.file?.path ?? beside(donor.id);
  return { map: mapPath, host: hostPath, donor: donorPath === hostPath ? beside(`${donor.id}-donor`) : donorPath };
}

/** The three documents which a draft stands for. */
export function documentsOf(draft: PairingDraft, host: Platform, donor: Platform, paths: DraftPaths): PairingDocuments {
  const title = titleOf(draft, host, donor);
  const name = paths.map
    .split(/[\\/]/)
    .at(-1)!
    .replace(/\.map\.json$/, '');
  const map: CrossloomMap = {
    $schema: '../schemas/map.schema.json',
    format: 'crossloom-map',
    version: 1,
    id: idFromText(name, 'pairing'),
    title,
    revision: 'A',
    host: { platform: linkFrom(paths.map, paths.host) },
    donor: { platform: linkFrom(paths.map, paths.donor) },
    fates: fatesOf(draft, host, donor),
    interfaceModules: [],
    transmits: [],
    routes: [],
  };
  if (!draft.withInterface) return { map, host, donor };
  const edit = interfaceModuleEdit({ map, host, donor });
  if (edit.do !== 'insert') return { map, host, donor };
  return { map: { ...map, interfaceModules: [edit.value as never] }, host, donor };
}
