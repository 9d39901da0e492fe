import type { Command } from 'commander';
import { resolve } from 'node:path';
import { check } from '../../checks/index.ts';
import {
  HARMS,
  HARM_TITLES,
  STEP_STATUSES,
  comparePairings,
  reviewWalk,
  walkStanding,
  type StandingStep,
  type WalkStanding,
} from '../../compare/index.ts';
import { reviewRecord } from '../../export/index.ts';
import { loadPairing } from '../../host/index.ts';
import { mapDigest, type Pairing } from '../../model/index.ts';
import { putDocument } from '../document-output.ts';
import { fold, formatOption, jsonText } from '../formats.ts';
import { changeJson, textWidth } from '../reporters/comparison.ts';
import { findingJson } from '../reporters/json.ts';
import type { Terminal } from '../terminal.ts';
import { VERSION } from '../version.ts';

interface Options {
  readonly base?: string;
  readonly all?: boolean;
  readonly format: 'text' | 'json' | 'html' | 'pdf';
  readonly out?: string;
}

function stepText({ step, status, answers }: StandingStep, width: number): string {
  const lines = [`${status.padEnd(9)}  ${step.title}  ${step.id}`];
  for (const say of step.says) lines.push(fold(say, width - 4, '  ').replace(/^/, '    '));
  for (const { how, effect, standing } of step.elements.flatMap(({ failures }) => failures))
    if (standing === 'against')
      lines.push(fold(`against the safe state: ${how}: ${effect}`, width - 4, '      ').replace(/^/, '    '));
  for (const { answer, stale } of answers)
    lines.push(
      `    ${answer.verdict}, ${answer.by}, ${answer.on}${stale ? ' (to earlier facts)' : ''}${answer.text === undefined ? '' : `: ${answer.text}`}`,
    );
  return `${lines.join('\n')}\n`;
}

function walkText(
  { map }: Pairing,
  { steps, counts, elsewhere }: WalkStanding,
  all: boolean,
  terminal: Terminal,
): string {
  const shown = all ? steps : steps.filter(({ status }) => status !== 'agreed');
  const width = textWidth(terminal);
  return [
    `${map.title}, revision ${map.revision}, digest ${mapDigest(map).slice(0, 16)}\n\n`,
    ...HARMS.map((harm) => {
      const of = shown.filter(({ step }) => step.harm === harm);
      return of.length === 0 ? '' : `${HARM_TITLES[harm]}\n\n${of.map((step) => stepText(step, width)).join('\n')}\n`;
    }),
    `${steps.length} steps: ${STEP_STATUSES.map((status) => `${counts[status]} ${status}`).join(', ')}`,
    elsewhere.length === 0 ? '\n' : `; ${elsewhere.length} answers to steps that are not in this walk\n`,
    'The walk shows what the documents state. That every step is agreed does not make a vehicle fit for the road.\n',
  ].join('');
}

function walkJson({ map }: Pairing, { steps, counts, elsewhere }: WalkStanding): object {
  return {
    map: map.id,
    revision: map.revision,
    digest: mapDigest(map),
    counts,
    steps: steps.map(({ step, status, answers }) => ({
      ...step,
      changes: step.changes.map(changeJson),
      findings: step.findings.map(findingJson),
      status,
      answers,
    })),
    elsewhere,
  };
}

async function run(file: string, options: Options, terminal: Terminal): Promise<void> {
  const { pairing } = await loadPairing(resolve(terminal.cwd, file));
  const base = options.base === undefined ? null : (await loadPairing(resolve(terminal.cwd, options.base))).pairing;
  const { findings } = check(pairing);
  const comparison = base === null ? undefined : comparePairings(base, pairing);
  const standing = walkStanding(reviewWalk(pairing, findings, comparison), pairing.map.review ?? []);
  switch (options.format) {
    case 'text':
      terminal.out(walkText(pairing, standing, options.all === true, terminal));
      break;
    case 'json':
      terminal.out(jsonText(walkJson(pairing, standing)));
      break;
    case 'html':
    case 'pdf': {
      const issue = { today: terminal.today, version: VERSION, digest: mapDigest(pairing.map) };
      await putDocument(reviewRecord(pairing, findings, issue, comparison), options.format, options.out, terminal);
    }
  }
  if (standing.counts.objection > 0) terminal.setExitCode(1);
}

/** `crossloom review MAP`: what a reviewer is led through, what was answered, and the record of it. */
export function addReview(program: Command, terminal: Terminal): void {
  program
    .command('review')
    .description(
      'list what a reviewer must look at, worst first, and what was answered to it, or write the record of the review. Exit code 1 while an objection stands',
    )
    .argument('<map>', 'a *.map.json file')
    .option('--base <file>', 'the revision that was passed before: what changed since is led through too')
    .option('--all', 'show what is agreed too')
    .addOption(formatOption(['text', 'json', 'html', 'pdf']))
    .option('--out <file>', 'where to write html or pdf; standard output when absent')
    .action((file: string, options: Options) => run(file, options, terminal));
}
