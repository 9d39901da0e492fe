import { open, readFile, stat } from 'node:fs/promises';
import { reasonOf } from './atomic-write.ts';
import { UnusableInput } from './unusable-input.ts';

/** Larger files are refused unread, unless the caller streams. */
export const MAX_FILE_BYTES = 512 * 1024 * 1024;

/** Reads a whole file, bounded; throws UnusableInput in one line. */
export async function readBytes(path: string): Promise<Uint8Array> {
  try {
    const found = await stat(path);
    if (found.isDirectory()) throw new UnusableInput(`${path} is a folder; name a file`);
    if (found.size > MAX_FILE_BYTES)
      throw new UnusableInput(`${path} has ${found.size} bytes; at most ${MAX_FILE_BYTES} are read`);
    return new Uint8Array(await readFile(path));
  } catch (error) {
    if (error instanceof UnusableInput) throw error;
    throw new UnusableInput(`cannot read ${path}: ${reasonOf(error)}`);
  }
}

/** Reads at most so many bytes from a place in a file of any size, and tells its size; throws UnusableInput in one line. */
export async function readPart(
  path: string,
  from: number,
  most: number,
): Promise<{ readonly part: Uint8Array; readonly bytes: number }> {
  try {
    const file = await open(path, 'r');
    try {
      const found = await file.stat();
      if (found.isDirectory()) throw new UnusableInput(`${path} is a folder; name a file`);
      const part = new Uint8Array(Math.max(0, Math.min(most, found.size - from)));
      const { bytesRead } = await file.read(part, 0, part.length, from);
      return { part: part.subarray(0, bytesRead), bytes: found.size };
    } finally {
      await file.close();
    }
  } catch (error) {
    if (error instanceof UnusableInput) throw error;
    throw new UnusableInput(`cannot read ${path}: ${reasonOf(error)}`);
  }
}

/** Reads a UTF-8 text file, bounded; refuses bytes that are not UTF-8. */
export async function readText(path: string): Promise<string> {
  const bytes = await readBytes(path);
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    throw new UnusableInput(`${path} is not UTF-8 text`);
  }
}
