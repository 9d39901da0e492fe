import { realpath } from 'node:fs/promises';
import { dirname, isAbsolute, relative, resolve, sep } from 'node:path';
import { UnusableInput } from './unusable-input.ts';

/** Resolves a path the page names; with a root, nothing outside of it is reachable, not through `..` and not through links. */
export async function confine(root: string | null, path: string): Promise<string> {
  if (path.includes('\0')) throw new UnusableInput('a path cannot hold a null character');
  if (root === null) {
    if (!isAbsolute(path)) throw new UnusableInput(`"${path.slice(0, 200)}" is not a full path`);
    return resolve(path);
  }
  const realRoot = await realpath(root);
  const wanted = resolve(realRoot, path);
  const real = await realOfExisting(wanted);
  const inside = relative(realRoot, real);
  if (inside === '..' || inside.startsWith(`..${sep}`) || isAbsolute(inside)) {
    throw new UnusableInput(`"${path.slice(0, 200)}" lies outside the opened folder`);
  }
  return real;
}

/** The real path of the nearest ancestor that exists, with the rest appended. */
async function realOfExisting(path: string): Promise<string> {
  try {
    return await realpath(path);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'ENOENT') throw error;
    const parent = dirname(path);
    if (parent === path) return path;
    return resolve(await realOfExisting(parent), relative(parent, path));
  }
}
