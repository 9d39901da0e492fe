import { mkdir, readdir, readFile, unlink } from 'node:fs/promises';
import { join } from 'node:path';
import { sha256Hex } from '../../model/index.ts';
import { writeAtomically } from '../files/atomic-write.ts';
import { JournalEntry } from '../interface/contract.ts';

/** Unsaved work, written beside the documents so that a crash loses at most the last seconds. One file a map. */
export class Journal {
  constructor(
    private readonly folder: string,
    private readonly nowMs: () => number,
  ) {}

  async write(entry: Omit<JournalEntry, 'savedMs'>): Promise<void> {
    await mkdir(this.folder, { recursive: true, mode: 0o700 });
    await writeAtomically(this.fileOf(entry.path), `${JSON.stringify({ ...entry, savedMs: this.nowMs() })}\n`);
  }

  /** Every journal that can be read, newest first; one that is cut short is passed over (it is never the only copy of a file). */
  async readAll(): Promise<JournalEntry[]> {
    const names = await readdir(this.folder).catch(() => [] as string[]);
    const entries: JournalEntry[] = [];
    for (const name of names.filter((file) => file.endsWith('.journal.json'))) {
      const entry = JournalEntry.safeParse(parseOrNull(await readFile(join(this.folder, name), 'utf8')));
      if (entry.success) entries.push(entry.data);
    }
    return entries.sort((a, b) => b.savedMs - a.savedMs);
  }

  async drop(path: string | null): Promise<void> {
    await unlink(this.fileOf(path)).catch((error: NodeJS.ErrnoException) => {
      if (error.code !== 'ENOENT') throw error;
    });
  }

  private fileOf(path: string | null): string {
    return join(this.folder, `${path === null ? 'untitled' : sha256Hex(path).slice(0, 32)}.journal.json`);
  }
}

function parseOrNull(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}
