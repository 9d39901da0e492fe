import { randomBytes } from 'node:crypto';
import { open, realpath, rename, stat, unlink } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { UnusableInput } from './unusable-input.ts';

/**
 * Writes a file so that it is either the old or the new one, whatever fails meanwhile: a new file beside it, flushed to
 * disk, then renamed over it. Keeps the file's mode; follows a link to the file it names.
 */
export async function writeAtomically(path: string, content: string | Uint8Array): Promise<void> {
  const target = await realpath(path).catch(() => path);
  const temporary = join(dirname(target), `.${basename(target)}.${randomBytes(6).toString('hex')}.part`);
  const mode = await stat(target)
    .then((found) => found.mode & 0o777)
    .catch(() => 0o644);
  try {
    const file = await open(temporary, 'wx', mode);
    try {
      await file.writeFile(content);
      await file.sync();
    } finally {
      await file.close();
    }
    await rename(temporary, target);
  } catch (error) {
    await unlink(temporary).catch(() => undefined);
    throw new UnusableInput(`cannot write ${path}: ${reasonOf(error)}; the file there is as it was`);
  }
}

/** The system's reason in words. */
export function reasonOf(error: unknown): string {
  const code = (error as NodeJS.ErrnoException).code;
  switch (code) {
    case 'ENOENT':
      return 'there is no such file or folder';
    case 'EACCES':
    case 'EPERM':
      return 'permission is denied';
    case 'EISDIR':
      return 'it is a folder';
    case 'ENOSPC':
      return 'the disk is full';
    case 'EROFS':
      return 'the disk can only be read';
    default:
      return error instanceof Error ? error.message : String(error);
  }
}
