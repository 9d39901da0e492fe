import { mkdir, readFile } from 'node:fs/promises';
import { dirname } from 'node:path';
import { z } from 'zod';
import { writeAtomically } from '../files/atomic-write.ts';
import { RecentFile } from '../interface/contract.ts';

const MAX_RECENT = 20;

/** The maps opened last, newest first. A list that cannot be read counts as empty: it is a convenience. */
export class RecentFiles {
  constructor(
    private readonly file: string,
    private readonly nowMs: () => number,
  ) {}

  async list(): Promise<RecentFile[]> {
    try {
      const parsed = z.array(RecentFile).safeParse(JSON.parse(await readFile(this.file, 'utf8')));
      return parsed.success ? parsed.data : [];
    } catch {
      return [];
    }
  }

  async remember(path: string, title: string): Promise<RecentFile[]> {
    const others = (await this.list()).filter((entry) => entry.path !== path);
    const recent = [{ path, title, openedMs: this.nowMs() }, ...others].slice(0, MAX_RECENT);
    await mkdir(dirname(this.file), { recursive: true, mode: 0o700 });
    await writeAtomically(this.file, `${JSON.stringify(recent, null, 2)}\n`);
    return recent;
  }
}
