import { mkdir, readdir, stat } from 'node:fs/promises';
import { basename, dirname, join, relative, sep } from 'node:path';
import { ExportCancelled, type ExportWatch } from '../../export/index.ts';
import { sha256Hex } from '../../model/index.ts';
import { writeAtomically } from '../files/atomic-write.ts';
import { confine } from '../files/confine.ts';
import { readBytes, readPart, readText } from '../files/read-file.ts';
import { UnusableInput } from '../files/unusable-input.ts';
import {
  hostContract,
  type FileKind,
  type FilePurpose,
  type FolderEntry,
  type HostEvent,
  type HostInput,
  type HostMethod,
  type HostOutput,
  type Session,
  type SpecRequest,
} from '../interface/contract.ts';
import { Journal } from './journal.ts';
import { RecentFiles } from './recent.ts';
import { FileWatch } from './watch.ts';

export interface HostOptions {
  readonly shell: Session['shell'];
  readonly version: string;
  /** The folder the page may reach; null for a shell whose user chooses files in native dialogs. */
  readonly root: string | null;
  /** The map to open at once; asked each time a page begins. */
  readonly opens: string | null | (() => string | null);
  readonly sample: string | null;
  /** Where journals and the list of recent files are kept. */
  readonly stateFolder: string;
  readonly today: () => string;
  readonly nowMs: () => number;
  readonly emit: (event: HostEvent) => void;
  readonly chooseFile?: (purpose: FilePurpose, suggested: string | undefined) => Promise<string | null>;
  readonly showState?: (state: { title: string; dirty: boolean }) => void;
  readonly renderSpec: (
    request: SpecRequest,
    today: string,
    watch: ExportWatch,
  ) => Promise<readonly { name: string; bytes: Uint8Array }[]>;
}

/** Carries out what the page asks. Every input is checked by the contract first; every path is confined. */
export interface HostService {
  call(method: string, input: unknown): Promise<unknown>;
  close(): void;
}

type Handlers = { [M in HostMethod]: (input: HostInput<M>) => Promise<HostOutput<M>> };

export function createHostService(options: HostOptions): HostService {
  const recent = new RecentFiles(join(options.stateFolder, 'recent.json'), options.nowMs);
  const journal = new Journal(join(options.stateFolder, 'journal'), options.nowMs);
  const watch = new FileWatch((event) => options.emit(shown(event)));
  const { root } = options;
  const real = (path: string): Promise<string> => confine(root, path);
  /** With a root the page sees paths relative to it, with forward slashes. */
  const show = (path: string): string => (root === null ? path : relative(root, path).split(sep).join('/') || '.');
  const shown = (event: HostEvent): HostEvent => ('path' in event ? { ...event, path: show(event.path) } : event);

  const jobs = new Map<string, { isCancelled: boolean }>();
  /** Tells the page how far a document is, and lets its other calls through: one of them may call the document off. */
  const watchOf = (job: string | undefined): ExportWatch => {
    const breathe = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));
    if (job === undefined) return { breathe };
    const own = { isCancelled: false };
    jobs.set(job, own);
    return {
      breathe,
      isCancelled: () => own.isCancelled,
      onProgress: ({ doing, done, total }) => options.emit({ kind: 'render-progress', job, doing, done, total }),
    };
  };

  const handlers: Handlers = {
    session: async () => ({
      shell: options.shell,
      version: options.version,
      today: options.today(),
      folder: root === null ? null : '.',
      opens: typeof options.opens === 'function' ? options.opens() : options.opens,
      sample: options.sample,
      recent: await recent.list(),
    }),
    listFolder: async ({ folder }) => {
      const path = await real(folder);
      const entries = await Promise.all(
        (await readdir(path, { withFileTypes: true }))
          .filter(({ name }) => !name.startsWith('.'))
          .slice(0, 5000)
          .map(async (entry) => {
            const full = join(path, entry.name);
            const found = await stat(full).catch(() => null);
            return (
              found &&
              ({
                name: entry.name,
                path: show(full),
                kind: found.isDirectory() ? 'folder' : kindOf(entry.name),
                bytes: found.size,
                modifiedMs: found.mtimeMs,
              } satisfies FolderEntry)
            );
          }),
      );
      const atTop = root !== null && path === (await real('.'));
      const parent = dirname(path);
      return {
        folder: show(path),
        parent: atTop || parent === path ? null : show(parent),
        entries: entries.filter((entry) => entry !== null).sort(byFolderThenName),
      };
    },
    readText: async ({ path }) => {
      const text = await readText(await real(path));
      return { path, text, sha256: sha256Hex(text) };
    },
    readBytes: async ({ path }) => {
      const bytes = await readBytes(await real(path));
      return { path, base64: Buffer.from(bytes).toString('base64'), sha256: sha256Hex(bytes) };
    },
    readPart: async ({ path, from, most }) => {
      const { part, bytes } = await readPart(await real(path), from, most);
      return { path, base64: Buffer.from(part).toString('base64'), bytes };
    },
    writeText: async ({ path, text, expects }) => {
      const target = await real(path);
      if (!/\.(map|platform)\.json$/.test(target))
        throw new UnusableInput('a document is saved as NAME.map.json or NAME.platform.json');
      const there = await readText(target).catch((error: unknown) => {
        if (error instanceof UnusableInput && error.message.includes('no such file')) return null;
        throw error;
      });
      if (there !== null && expects !== 'anything' && sha256Hex(there) !== expects) {
        return { saved: false, text: there, sha256: sha256Hex(there) };
      }
      const sha256 = sha256Hex(text);
      watch.expect(target, sha256);
      await writeAtomically(target, text);
      return { saved: true, sha256 };
    },
    chooseFile: async ({ purpose, suggested }) =>
      options.chooseFile ? { native: true, path: await options.chooseFile(purpose, suggested) } : { native: false },
    writeFiles: async ({ folder, files }) => {
      const target = await real(folder);
      await mkdir(target, { recursive: true });
      const written: string[] = [];
      for (const { name, base64 } of files) {
        if (name !== basename(name) || name.startsWith('.')) throw new UnusableInput(`"${name}" is not a file name`);
        const path = join(target, name);
        await writeAtomically(path, new Uint8Array(Buffer.from(base64, 'base64')));
        written.push(show(path));
      }
      return { written };
    },
    renderSpec: async (request) => {
      const { job } = request;
      try {
        const files = await options.renderSpec(request, options.today(), watchOf(job));
        return { files: files.map(({ name, bytes }) => ({ name, base64: Buffer.from(bytes).toString('base64') })) };
      } catch (error) {
        if (error instanceof ExportCancelled) return { files: [], cancelled: true };
        throw error;
      } finally {
        if (job !== undefined) jobs.delete(job);
      }
    },
    cancelRender: async ({ job }) => {
      const known = jobs.get(job);
      if (known) known.isCancelled = true;
      return {};
    },
    watch: async ({ paths, seen = [] }) => {
      await watch.replace(await Promise.all(paths.map(real)), seen);
      return {};
    },
    writeJournal: async (entry) => {
      await journal.write(entry);
      return {};
    },
    readJournals: async () => ({ entries: await journal.readAll() }),
    dropJournal: async ({ path }) => {
      await journal.drop(path);
      return {};
    },
    rememberRecent: async ({ path, title }) => ({ recent: await recent.remember(path, title) }),
    showState: async (state) => {
      options.showState?.(state);
      return {};
    },
  };

  return {
    async call(method, input) {
      if (!Object.hasOwn(hostContract, method))
        throw new UnusableInput(`there is no call "${String(method).slice(0, 60)}"`);
      const name = method as HostMethod;
      const checked = hostContract[name].input.safeParse(input);
      if (!checked.success) throw new UnusableInput(`the call ${name} was given something else than it takes`);
      const handler = handlers[name] as (value: unknown) => Promise<unknown>;
      return handler(checked.data);
    },
    close: () => watch.close(),
  };
}

function kindOf(name: string): FileKind {
  if (name.endsWith('.map.json')) return 'map';
  if (name.endsWith('.platform.json')) return 'platform';
  if (/\.dbc$/i.test(name)) return 'dbc';
  return /\.(log|candump|csv|txt)$/i.test(name) ? 'log' : 'other';
}

function byFolderThenName(a: FolderEntry, b: FolderEntry): number {
  if ((a.kind === 'folder') !== (b.kind === 'folder')) return a.kind === 'folder' ? -1 : 1;
  return a.name < b.name ? -1 : a.name > b.name ? 1 : 0;
}
