import { diffDocuments, type Change, type Comparison } from '../../compare/index.ts';
import { mapDigest, type Pairing } from '../../model/index.ts';
import { fold } from '../formats.ts';
import type { Terminal } from '../terminal.ts';
import { findingJson } from './json.ts';

function shown(value: unknown): string {
  if (value === undefined) return 'nothing';
  const text = typeof value === 'string' ? value : JSON.stringify(value);
  return text.length > 70 ? `${text.slice(0, 67)}…` : text;
}

/** One change for people, over several lines. */
export function changeText({ kind, what, subject, was, fields, consequences }: Change, width: number): string {
  const lines = [`${kind.padEnd(8)} ${what}  ${was === null ? subject : `${was} → ${subject}`}`];
  for (const { path, from, to } of fields) lines.push(`    ${path}: ${shown(from)} → ${shown(to)}`);
  for (const consequence of consequences) lines.push(fold(`  ⇒ ${consequence}`, width, '    ').replace(/^/, '  '));
  return `${lines.join('\n')}\n`;
}

/** The width that texts are folded to. */
export function textWidth(terminal: Terminal): number {
  return Math.max(60, Math.min(terminal.columns, 120));
}

/** A title and its lines, indented; nothing when there are none. */
export function titled(title: string, lines: readonly string[]): string {
  return lines.length === 0 ? '' : `\n${title}\n${lines.map((line) => `  ${line}\n`).join('')}`;
}

function revisionWords({ map }: Pairing): string {
  return `${map.title}, revision ${map.revision} (${mapDigest(map).slice(0, 12)})`;
}

/** A comparison for people. */
export function comparisonText(comparison: Comparison, terminal: Terminal): string {
  const { before, after, changes, needsNew, needsGone, findingsNew, findingsGone, findingsStill, waiversLapsed } =
    comparison;
  const width = textWidth(terminal);
  return [
    `${revisionWords(before)}\n→ ${revisionWords(after)}\n\n`,
    changes.length === 0 ? 'nothing differs in meaning\n' : changes.map((change) => changeText(change, width)).join(''),
    titled('Needs new', needsNew),
    titled('Needs gone', needsGone),
    titled(
      'Findings new',
      findingsNew.map(({ severity, rule, subject, message }) => `${severity}  ${rule}  ${subject}: ${message}`),
    ),
    titled(
      'Findings gone',
      findingsGone.map(({ severity, rule, subject }) => `${severity}  ${rule}  ${subject}`),
    ),
    titled('Waivers that answer nothing any more', waiversLapsed),
    `\n${changes.length} changes; findings: ${findingsNew.length} new, ${findingsGone.length} gone, ${findingsStill.length} still there\n`,
  ].join('');
}

/** A change for programs; the whole of a thing stands in the documents. */
export function changeJson({ kind, what, subject, was, fields, consequences }: Change): object {
  return { kind, what, subject, was, fields, consequences };
}

/** A comparison for programs. `edits` lead from the earlier documents to the later ones when they are done in their order. */
export function comparisonJson(comparison: Comparison): object {
  const { before, after, changes, needsNew, needsGone, findingsNew, findingsGone, findingsStill, waiversLapsed } =
    comparison;
  const name = ({ map }: Pairing): object => ({ map: map.id, revision: map.revision, digest: mapDigest(map) });
  return {
    before: name(before),
    after: name(after),
    changes: changes.map(changeJson),
    edits: [
      ...diffDocuments('map', before.map, after.map),
      ...diffDocuments('host', before.host.platform, after.host.platform),
      ...diffDocuments('donor', before.donor.platform, after.donor.platform),
    ],
    needs: { new: needsNew, gone: needsGone },
    findings: { new: findingsNew.map(findingJson), gone: findingsGone.map(findingJson), still: findingsStill.length },
    waiversLapsed,
  };
}
