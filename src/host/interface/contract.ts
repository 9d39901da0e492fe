import { z } from 'zod';

/**
 * What the window may ask of the machine. One table for every way to hold the page: Electron's channels and the loopback
 * server are made from it, so both check the same input and give the same answers.
 */

const Path = z.string().min(1).max(4096);
const Sha256 = z.string().regex(/^[0-9a-f]{64}$/);
const DocumentText = z.string().max(300_000_000);

export const FileKind = z.enum(['folder', 'map', 'platform', 'dbc', 'log', 'other']);
export type FileKind = z.infer<typeof FileKind>;

export const FolderEntry = z.object({
  name: z.string(),
  path: Path,
  kind: FileKind,
  bytes: z.number(),
  modifiedMs: z.number(),
});
export type FolderEntry = z.infer<typeof FolderEntry>;

export const RecentFile = z.object({ path: Path, title: z.string().max(500), openedMs: z.number() });
export type RecentFile = z.infer<typeof RecentFile>;

export const Session = z.object({
  shell: z.enum(['electron', 'loopback']),
  version: z.string(),
  /** The day documents are dated with. */
  today: z.string(),
  /** The folder the page may reach; null: wherever its user may. */
  folder: Path.nullable(),
  /** A map to open at once. */
  opens: Path.nullable(),
  sample: Path.nullable(),
  recent: z.array(RecentFile),
});
export type Session = z.infer<typeof Session>;

export const JournalEntry = z.object({
  /** The map the unsaved work belongs to; null: not saved anywhere yet. */
  path: Path.nullable(),
  savedMs: z.number(),
  map: DocumentText,
  host: DocumentText,
  donor: DocumentText,
});
export type JournalEntry = z.infer<typeof JournalEntry>;

const FilePurpose = z.enum([
  'open-map',
  'open-platform',
  'open-dbc',
  'open-log',
  'save-map',
  'save-platform',
  'save-export',
  'open-folder',
]);
export type FilePurpose = z.infer<typeof FilePurpose>;

export const SpecRequest = z.object({
  map: DocumentText,
  host: DocumentText,
  donor: DocumentText,
  spec: z.string().max(64),
  format: z.enum(['html', 'pdf', 'xlsx', 'csv', 'json', 'dbc', 'c']),
  /** Option choices for one build; absent: all of them. */
  build: z.record(z.string().max(128), z.string().max(128)).optional(),
  /** The earlier revision that a review record compares with. */
  base: z.object({ map: DocumentText, host: DocumentText, donor: DocumentText }).optional(),
  /** A name of its own for a document whose progress is told (`render-progress`) and which may be called off. */
  job: z.string().min(1).max(64).optional(),
});
export type SpecRequest = z.infer<typeof SpecRequest>;

const RenderedFile = z.object({ name: z.string().max(300), base64: z.string() });

export const hostContract = {
  session: { input: z.object({}), output: Session },
  listFolder: {
    input: z.object({ folder: Path }),
    output: z.object({ folder: Path, parent: Path.nullable(), entries: z.array(FolderEntry) }),
  },
  readText: { input: z.object({ path: Path }), output: z.object({ path: Path, text: z.string(), sha256: Sha256 }) },
  readBytes: { input: z.object({ path: Path }), output: z.object({ path: Path, base64: z.string(), sha256: Sha256 }) },
  /** A part of a file of any size, for logs that are read as a stream; past the end it is empty. `bytes`: the file's size. */
  readPart: {
    input: z.object({ path: Path, from: z.number().int().min(0), most: z.number().int().min(1).max(8_388_608) }),
    output: z.object({ path: Path, base64: z.string(), bytes: z.number() }),
  },
  /** Saves when the file is still what the page last saw (`expects`; null: absent); else gives back what is there now. */
  writeText: {
    input: z.object({ path: Path, text: DocumentText, expects: z.union([Sha256, z.null(), z.literal('anything')]) }),
    output: z.union([
      z.object({ saved: z.literal(true), sha256: Sha256 }),
      z.object({ saved: z.literal(false), text: z.string(), sha256: Sha256 }),
    ]),
  },
  /** A native dialog; `native: false` where there is none and the page shows its own. */
  chooseFile: {
    input: z.object({ purpose: FilePurpose, suggested: z.string().max(500).optional() }),
    output: z.union([
      z.object({ native: z.literal(false) }),
      z.object({ native: z.literal(true), path: Path.nullable() }),
    ]),
  },
  /** Writes finished exports into a folder. */
  writeFiles: {
    input: z.object({ folder: Path, files: z.array(RenderedFile).max(1000) }),
    output: z.object({ written: z.array(Path) }),
  },
  /** `cancelled`: it was called off, and there are no files. */
  renderSpec: {
    input: SpecRequest,
    output: z.object({ files: z.array(RenderedFile), cancelled: z.literal(true).optional() }),
  },
  /** Calls a document off; nothing happens when it is done already. */
  cancelRender: { input: z.object({ job: z.string().min(1).max(64) }), output: z.object({}) },
  /** Watches files for changes from outside; replaces what was watched before. */
  watch: {
    input: z.object({
      paths: z.array(Path).max(20),
      /** What the page holds of each path; a file that is something else by then is told at once. Null: whatever is there. */
      seen: z.array(Sha256.nullable()).max(20).optional(),
    }),
    output: z.object({}),
  },
  writeJournal: { input: JournalEntry.omit({ savedMs: true }), output: z.object({}) },
  readJournals: { input: z.object({}), output: z.object({ entries: z.array(JournalEntry) }) },
  dropJournal: { input: z.object({ path: Path.nullable() }), output: z.object({}) },
  rememberRecent: {
    input: z.object({ path: Path, title: z.string().max(500) }),
    output: z.object({ recent: z.array(RecentFile) }),
  },
  /** Tells the shell what its window shows, for its title and its close guard. */
  showState: { input: z.object({ title: z.string().max(500), dirty: z.boolean() }), output: z.object({}) },
} as const satisfies Record<string, { input: z.ZodType; output: z.ZodType }>;

export type HostMethod = keyof typeof hostContract;
export type HostInput<M extends HostMethod> = z.input<(typeof hostContract)[M]['input']>;
export type HostOutput<M extends HostMethod> = z.output<(typeof hostContract)[M]['output']>;

/** What the shell tells the page unasked. */
export const HostEvent = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('changed-outside'), path: Path, sha256: Sha256 }),
  z.object({ kind: z.literal('removed-outside'), path: Path }),
  z.object({ kind: z.literal('open'), path: Path }),
  z.object({ kind: z.literal('command'), command: z.string().max(100) }),
  z.object({
    kind: z.literal('render-progress'),
    job: z.string().max(64),
    doing: z.enum(['sections', 'pages']),
    done: z.number(),
    total: z.number(),
  }),
]);
export type HostEvent = z.infer<typeof HostEvent>;

/** What went wrong, in words for people. */
export const HostFault = z.object({ message: z.string(), faults: z.array(z.string()) });
export type HostFault = z.infer<typeof HostFault>;

/** The machine as the page sees it. A call rejects with a HostError in words. */
export interface Host {
  call<M extends HostMethod>(method: M, input: HostInput<M>): Promise<HostOutput<M>>;
  /** Gives a function that stops listening. */
  listen(onEvent: (event: HostEvent) => void): () => void;
}

/** A call which the machine refused or could not do. */
export class HostError extends Error {
  override readonly name = 'HostError';
  constructor(
    message: string,
    readonly faults: readonly string[] = [],
  ) {
    super(message);
  }
}
