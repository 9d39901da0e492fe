import type { Command } from 'commander';
import { resolve } from 'node:path';
import { check } from '../../checks/index.ts';
import { buildMatrix, compareBuilds, type BuildComparison, type BuildRow } from '../../compare/index.ts';
import { buildComparisonDocument, buildMatrixDocument } from '../../export/index.ts';
import { UnusableInput, loadPairing } from '../../host/index.ts';
import { mapDigest, type Pairing } from '../../model/index.ts';
import { buildNamed, choicesOf } from '../build-choice.ts';
import { putDocument } from '../document-output.ts';
import { columns, formatOption, jsonText } from '../formats.ts';
import { titled } from '../reporters/comparison.ts';
import type { Terminal } from '../terminal.ts';
import { VERSION } from '../version.ts';

interface Options {
  readonly between?: readonly Readonly<Record<string, string>>[];
  readonly format: 'text' | 'json' | 'html' | 'pdf';
  readonly out?: string;
}

function matrixText(pairing: Pairing, rows: readonly BuildRow[]): string {
  const axes = (pairing.map.options ?? []).map(({ id }) => id);
  const head = [...axes, 'routes', 'needs', 'not met', 'conductors', 'stop', 'fix', 'look', 'waived'];
  const body = rows.map(({ combination, routes, needs, needsMet, conductors, counts }) => [
    ...combination.values(),
    ...[routes, needs, needs - needsMet, conductors, counts.stop, counts.fix, counts.look, counts.waived].map(String),
  ]);
  return `${columns([head, ...body])}\n${rows.length} ${rows.length === 1 ? 'build' : 'builds'}\n`;
}

function matrixJson(pairing: Pairing, rows: readonly BuildRow[]): object {
  return {
    map: pairing.map.id,
    revision: pairing.map.revision,
    builds: rows.map(({ combination, mask: _mask, ...row }) => ({ choices: Object.fromEntries(combination), ...row })),
  };
}

function comparisonText({ first, second, differences, metDifferently }: BuildComparison): string {
  const kinds = [...new Set(differences.map(({ what }) => what))];
  return [
    `first:  ${first.name}\nsecond: ${second.name}\n`,
    titled(
      'Needs of both that other routes meet',
      metDifferently.map(
        (met) => `${met.need}: ${met.first.join(', ') || 'nothing'} → ${met.second.join(', ') || 'nothing'}`,
      ),
    ),
    ...kinds.map((what) =>
      titled(
        `Each ${what} of one build only`,
        differences
          .filter((entry) => entry.what === what)
          .map((entry) => `${entry.in.padEnd(6)}  ${entry.subject}  ${entry.words}`),
      ),
    ),
    `\n${differences.length} differences\n`,
  ].join('');
}

function comparisonJson({ first, second, differences, metDifferently }: BuildComparison): object {
  return { first: first.name, second: second.name, differences, metDifferently };
}

async function run(file: string, options: Options, terminal: Terminal): Promise<void> {
  const { pairing } = await loadPairing(resolve(terminal.cwd, file));
  const { findings } = check(pairing);
  const rows = buildMatrix(pairing, findings);
  const issue = { today: terminal.today, version: VERSION, digest: mapDigest(pairing.map) };
  if (options.between === undefined) {
    if (options.format === 'text') return terminal.out(matrixText(pairing, rows));
    if (options.format === 'json') return terminal.out(jsonText(matrixJson(pairing, rows)));
    return putDocument(buildMatrixDocument(pairing, rows, issue), options.format, options.out, terminal);
  }
  if (options.between.length !== 2)
    throw new UnusableInput('two builds are compared: --between drivetrain=2wd --between drivetrain=4wd');
  const [first, second] = options.between.map((choices) => buildNamed(rows, choices));
  const comparison = compareBuilds(pairing, findings, first!, second!);
  if (options.format === 'text') return terminal.out(comparisonText(comparison));
  if (options.format === 'json') return terminal.out(jsonText(comparisonJson(comparison)));
  return putDocument(buildComparisonDocument(pairing, comparison, issue), options.format, options.out, terminal);
}

/** `crossloom variants MAP`: every build with its findings, and what differs between two of them. */
export function addVariants(program: Command, terminal: Terminal): void {
  program
    .command('variants')
    .description('list every build of a map with what the checks find in it, or what differs between two builds')
    .argument('<map>', 'a *.map.json file')
    .option(
      '--between <choices>',
      'a build as option=choice, several with commas; give it twice',
      (text: string, before: readonly Record<string, string>[] | undefined) => [...(before ?? []), choicesOf(text)],
    )
    .addOption(formatOption(['text', 'json', 'html', 'pdf']))
    .option('--out <file>', 'where to write html or pdf; standard output when absent')
    .action((file: string, options: Options) => run(file, options, terminal));
}
