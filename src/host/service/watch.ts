import { watch, type FSWatcher } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { basename, dirname } from 'node:path';
import { sha256Hex } from '../../model/index.ts';
import type { HostEvent } from '../interface/contract.ts';

/** Editors replace files by renaming: wait until they are done before looking. */
const SETTLE_MS = 80;

/** Tells when a watched file's content becomes another, whoever wrote it, except for content announced by `expect`. */
export class FileWatch {
  private readonly watchers = new Map<string, FSWatcher>();
  private readonly known = new Map<string, string | null>();
  private readonly timers = new Map<string, NodeJS.Timeout>();

  constructor(private readonly emit: (event: HostEvent) => void) {}

  /**
   * Watches these files instead of those before; folders are watched, so that a file replaced by renaming is seen. A file
   * that is not what its asker has `seen` was changed on the way here, and is told at once.
   */
  async replace(paths: readonly string[], seen: readonly (string | null)[] = []): Promise<void> {
    this.close();
    for (const folder of new Set(paths.map((path) => dirname(path)))) {
      const names = new Map(paths.filter((path) => dirname(path) === folder).map((path) => [basename(path), path]));
      const watcher = watch(folder, (_event, name) => {
        const path = name === null ? undefined : names.get(name.toString());
        if (path !== undefined) this.settle(path);
      });
      watcher.on('error', () => watcher.close());
      this.watchers.set(folder, watcher);
    }
    // Only now: what changes from here on is heard, what changed before differs from what was seen.
    for (const [index, path] of paths.entries()) {
      const before = seen[index] ?? (await contentDigest(path));
      this.known.set(path, before);
      await this.look(path);
    }
  }

  /** Announces content about to be written here: it is not a change from outside. */
  expect(path: string, sha256: string): void {
    if (this.known.has(path)) this.known.set(path, sha256);
  }

  close(): void {
    for (const watcher of this.watchers.values()) watcher.close();
    for (const timer of this.timers.values()) clearTimeout(timer);
    this.watchers.clear();
    this.timers.clear();
    this.known.clear();
  }

  private settle(path: string): void {
    clearTimeout(this.timers.get(path));
    this.timers.set(
      path,
      setTimeout(() => void this.look(path), SETTLE_MS),
    );
  }

  private async look(path: string): Promise<void> {
    if (!this.known.has(path)) return;
    const sha256 = await contentDigest(path);
    if (sha256 === this.known.get(path)) return;
    this.known.set(path, sha256);
    this.emit(sha256 === null ? { kind: 'removed-outside', path } : { kind: 'changed-outside', path, sha256 });
  }
}

async function contentDigest(path: string): Promise<string | null> {
  try {
    return sha256Hex(await readFile(path, 'utf8'));
  } catch {
    return null;
  }
}
