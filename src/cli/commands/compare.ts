import type { Command } from 'commander';
import { resolve } from 'node:path';
import { comparePairings, type Change, type Comparison } from '../../compare/index.ts';
import { loadPairing } from '../../host/index.ts';
import { mapDigest } from '../../model/index.ts';
import { findingJson } from '../reporters/json.ts';
import { fold, formatOption, jsonText } from '../formats.ts';
import type { Terminal } from '../terminal.ts';

function shown(value: unknown): string {
  if (value === undefined) return 'nothing';
  const text = typeof value === 'string' ? value : JSON.stringify(value);
  return text.length > 70 ? `${text.slice(0, 67)}…` : text;
}

function changeText({ kind, what, subject, was, fields, consequences }: Change, width: number): string {
  const lines = [`${kind.padEnd(8)} ${what}  ${was === null ? subject : `${was} → ${subject}`}`];
  for (const { path, from, to } of fields) lines.push(`    ${path}: ${shown(from)} → ${shown(to)}`);
  for (const consequence of consequences) lines.push(fold(`  ⇒ ${consequence}`, width, '    ').replace(/^/, '  '));
  return `${lines.join('\n')}\n`;
}

function asText(comparison: Comparison, terminal: Terminal): string {
  const { before, after, changes, needsNew, needsGone, findingsNew, findingsGone, findingsStill, waiversLapsed } =
    comparison;
  const width = Math.max(60, Math.min(terminal.columns, 120));
  const name = ({ map }: typeof before): string =>
    `${map.title}, revision ${map.revision} (${mapDigest(map).slice(0, 12)})`;
  const list = (title: string, lines: readonly string[]): string =>
    lines.length === 0 ? '' : `\n${title}\n${lines.map((line) => `  ${line}\n`).join('')}`;
  return [
    `${name(before)}\n→ ${name(after)}\n\n`,
    changes.length === 0 ? 'nothing differs in meaning\n' : changes.map((change) => changeText(change, width)).join(''),
    list('Needs new', needsNew),
    list('Needs gone', needsGone),
    list(
      'Findings new',
      findingsNew.map(({ severity, rule, subject, message }) => `${severity}  ${rule}  ${subject}: ${message}`),
    ),
    list(
      'Findings gone',
      findingsGone.map(({ severity, rule, subject }) => `${severity}  ${rule}  ${subject}`),
    ),
    list('Waivers that answer nothing any more', waiversLapsed),
    `\n${changes.length} changes; findings: ${findingsNew.length} new, ${findingsGone.length} gone, ${findingsStill.length} still there\n`,
  ].join('');
}

function asJson({
  before,
  after,
  changes,
  needsNew,
  needsGone,
  findingsNew,
  findingsGone,
  findingsStill,
  waiversLapsed,
}: Comparison): object {
  const name = ({ map }: typeof before): object => ({ map: map.id, revision: map.revision, digest: mapDigest(map) });
  return {
    before: name(before),
    after: name(after),
    changes,
    needs: { new: needsNew, gone: needsGone },
    findings: { new: findingsNew.map(findingJson), gone: findingsGone.map(findingJson), still: findingsStill.length },
    waiversLapsed,
  };
}

/** `crossloom compare OLD NEW`: what differs between two revisions by meaning, and what follows from it. */
export function addCompare(program: Command, terminal: Terminal): void {
  program
    .command('compare')
    .description(
      'compare two revisions of a map by meaning: what was added, removed, changed, renamed, and what follows from it',
    )
    .argument('<old>', 'a *.map.json file')
    .argument('<new>', 'a *.map.json file')
    .addOption(formatOption())
    .action(async (old: string, now: string, options: { format: string }) => {
      const [before, after] = [
        await loadPairing(resolve(terminal.cwd, old)),
        await loadPairing(resolve(terminal.cwd, now)),
      ];
      const comparison = comparePairings(before.pairing, after.pairing);
      terminal.out(options.format === 'json' ? jsonText(asJson(comparison)) : asText(comparison, terminal));
    });
}
