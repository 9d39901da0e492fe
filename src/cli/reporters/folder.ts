import type { FindingCounts } from '../../checks/index.ts';
import type { CheckedMap, UnusableMap } from '../folder/checked-map.ts';
import type { FolderResult } from '../folder/check-folder.ts';
import { columns } from '../formats.ts';
import { findingJson } from './json.ts';

export function isUsable(result: FolderResult): result is CheckedMap {
  return !('unusable' in result);
}

/** The counts of many maps added up. */
export function totalCounts(results: readonly FolderResult[]): FindingCounts {
  const total = { stop: 0, fix: 0, look: 0, waived: 0 };
  for (const { counts } of results.filter(isUsable))
    for (const key of ['stop', 'fix', 'look', 'waived'] as const) total[key] += counts[key];
  return total;
}

function unusableOf(results: readonly FolderResult[]): readonly UnusableMap[] {
  return results.filter((result): result is UnusableMap => !isUsable(result));
}

/** One line a map, what cannot be used, and the sum. */
export function folderText(results: readonly FolderResult[]): string {
  const checked = results.filter(isUsable);
  const rows = checked.map(({ file, revision, counts }) => [
    file,
    revision === '' ? '–' : revision,
    ...(['stop', 'fix', 'look', 'waived'] as const).map((key) => String(counts[key])),
  ]);
  const unusable = unusableOf(results);
  const total = totalCounts(results);
  return [
    rows.length === 0 ? '' : columns([['map', 'rev.', 'stop', 'fix', 'look', 'waived'], ...rows]),
    ...unusable.map(
      ({ file, unusable: reason, faults }) =>
        `\n${file}: ${reason}\n${faults
          .slice(0, 10)
          .map((fault) => `  ${fault}\n`)
          .join('')}${faults.length > 10 ? `  and ${faults.length - 10} more\n` : ''}`,
    ),
    `\n${checked.length} maps checked${unusable.length === 0 ? '' : `, ${unusable.length} cannot be used`}: ${total.stop} stop, ${total.fix} fix, ${total.look} look, ${total.waived} waived\n`,
    'The rules examine what the documents state; a qualified person must review, bench-test and road-test the rest.\n',
  ].join('');
}

/** The machine-readable report of many maps. */
export function folderJson(results: readonly FolderResult[]): object {
  return {
    counts: totalCounts(results),
    maps: results.map((result) =>
      isUsable(result)
        ? {
            file: result.file,
            map: result.id,
            revision: result.revision,
            digest: result.digest,
            counts: result.counts,
            findings: result.findings.map(({ finding }) => findingJson(finding)),
          }
        : result,
    ),
  };
}
