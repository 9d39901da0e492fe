import { randomBytes } from 'node:crypto';
import { open, realpath, rename, stat, unlink } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { reasonOf } from './atomic-write.ts';
import { UnusableInput } from './unusable-input.ts';

/** A file being written piece by piece beside the one it will replace. */
export interface FileInWork {
  /** The next piece; resolves when it has been handed to the system. */
  write(text: string): Promise<void>;
  /** Puts the file in its place, whole and flushed to disk. */
  commit(): Promise<void>;
  /** Keeps what was written under the path with `.partial` behind it and leaves the path itself as it was; gives the name. */
  keepPartial(): Promise<string>;
  /** Removes what was written; the path is as it was. */
  discard(): Promise<void>;
}

/** Begins a file of unknown length. The path holds the old or the new file at any moment. Throws UnusableInput when it cannot be written. */
export async function beginFile(path: string): Promise<FileInWork> {
  const target = await realpath(path).catch(() => path);
  const temporary = join(dirname(target), `.${basename(target)}.${randomBytes(6).toString('hex')}.part`);
  const found = await stat(target).catch(() => null);
  if (found?.isDirectory()) throw new UnusableInput(`${path} is a folder; name a file`);
  const failed = (error: unknown): UnusableInput =>
    new UnusableInput(`cannot write ${path}: ${reasonOf(error)}; the file there is as it was`);
  const file = await open(temporary, 'wx', found === null ? 0o644 : found.mode & 0o777).catch((error: unknown) => {
    throw failed(error);
  });
  const remove = async (): Promise<void> => {
    await file.close().catch(() => undefined);
    await unlink(temporary).catch(() => undefined);
  };
  const attempt = async (work: () => Promise<void>): Promise<void> => {
    try {
      await work();
    } catch (error) {
      await remove();
      throw failed(error);
    }
  };
  const putAt = (place: string): Promise<void> =>
    attempt(async () => {
      await file.sync();
      await file.close();
      await rename(temporary, place);
    });
  return {
    write: (text) => attempt(() => file.writeFile(text)),
    commit: () => putAt(target),
    async keepPartial() {
      await putAt(`${target}.partial`);
      return `${path}.partial`;
    },
    discard: remove,
  };
}
