import { type Zippable, zipSync } from 'fflate';
import type { Finding } from '../../checks/index.ts';
import type { Pairing } from '../../model/index.ts';
import { type SpecIssue, buildParts, fileIdOf } from '../record/index.ts';
import type { RenderedFile } from '../writers/index.ts';
import { firmwareSources } from './firmware-sources.ts';

/**
 * The firmware of all interface modules as one zip archive, a folder for each; no file for a map without any. The same bytes for the
 * same pairing and issue. @throws UnknownBuildError.
 */
export function firmwareArchive(
  pairing: Pairing,
  findings: readonly Finding[],
  issue: SpecIssue,
): readonly RenderedFile[] {
  const { modules } = firmwareSources(pairing, findings, issue);
  if (modules.length === 0) return [];
  const encoder = new TextEncoder();
  // A zip entry has the local time of a clock on the wall; noon of a fixed day reads the same everywhere.
  const mtime = new Date(2000, 0, 1, 12, 0, 0);
  const entries: Zippable = Object.fromEntries(
    modules.flatMap(({ folder, files }) =>
      files.map(({ name, text }) => [`${folder}/${name}`, [encoder.encode(text), { mtime }]] as const),
    ),
  );
  const name = `${fileIdOf(pairing.map.id, 'firmware', ...buildParts(issue))}.zip`;
  return [{ name, bytes: zipSync(entries, { level: 6 }) }];
}
