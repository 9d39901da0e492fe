import { Option, type Command } from 'commander';
import { resolve } from 'node:path';
import type { FindingCounts } from '../../checks/index.ts';
import { findMaps, isFolder } from '../../host/index.ts';
import { checkMaps } from '../folder/check-folder.ts';
import { checkMap, mustBeRules } from '../folder/checked-map.ts';
import { formatOption, jsonText } from '../formats.ts';
import { folderJson, folderText, isUsable, totalCounts } from '../reporters/folder.ts';
import { checkReport } from '../reporters/json.ts';
import { sarifReport } from '../reporters/sarif.ts';
import { textReport } from '../reporters/text.ts';
import type { Terminal } from '../terminal.ts';

const LEVELS = ['stop', 'fix', 'look', 'never'] as const;
type Level = (typeof LEVELS)[number];

interface Options {
  readonly failOn: Level;
  readonly format: 'text' | 'json' | 'sarif';
  readonly waived?: boolean;
  readonly rule: readonly string[];
}

/** Whether an unwaived finding at or over a severity was counted. */
function fails(counts: FindingCounts, level: Level): boolean {
  switch (level) {
    case 'stop':
      return counts.stop > 0;
    case 'fix':
      return counts.stop + counts.fix > 0;
    case 'look':
      return counts.stop + counts.fix + counts.look > 0;
    case 'never':
      return false;
  }
}

async function checkOne(path: string, options: Options, terminal: Terminal): Promise<void> {
  const checked = await checkMap(path, options.rule, terminal.cwd);
  switch (options.format) {
    case 'json':
      terminal.out(jsonText(checkReport(checked)));
      break;
    case 'sarif':
      terminal.out(jsonText(sarifReport(checked.findings)));
      break;
    case 'text':
      terminal.out(textReport(checked, terminal, options.waived === true));
      break;
  }
  if (fails(checked.counts, options.failOn)) terminal.setExitCode(1);
}

async function checkFolder(folder: string, options: Options, terminal: Terminal): Promise<void> {
  const paths = await findMaps(folder);
  const results = await checkMaps(paths, options.rule, terminal.cwd, (done) => {
    if (terminal.colour) terminal.err(`\r${done} of ${paths.length} maps${done === paths.length ? '\n' : ''}`);
  });
  switch (options.format) {
    case 'json':
      terminal.out(jsonText(folderJson(results)));
      break;
    case 'sarif':
      terminal.out(jsonText(sarifReport(results.filter(isUsable).flatMap(({ findings }) => findings))));
      break;
    case 'text':
      terminal.out(folderText(results));
      break;
  }
  const unusable = results.filter((result) => !isUsable(result));
  if (unusable.length > 0) {
    if (options.format !== 'text')
      for (const { file } of unusable)
        terminal.err(`crossloom: ${file} cannot be used; crossloom check ${file} says why\n`);
    terminal.setExitCode(2);
  } else if (fails(totalCounts(results), options.failOn)) terminal.setExitCode(1);
}

async function run(file: string, options: Options, terminal: Terminal): Promise<void> {
  mustBeRules(options.rule);
  const path = resolve(terminal.cwd, file);
  return (await isFolder(path)) ? checkFolder(path, options, terminal) : checkOne(path, options, terminal);
}

/** `crossloom check MAP`: every finding with its reason and source; a folder of maps gets one summary. */
export function addCheck(program: Command, terminal: Terminal): void {
  program
    .command('check')
    .description(
      'check a map, or all maps of a folder: routing of safety-critical functions, units, ranges, states, timing, orphans, bus, wiring, records',
    )
    .argument('<map>', 'a *.map.json file, or a folder of them')
    .addOption(
      new Option('--fail-on <severity>', 'exit with 1 when a finding of this severity or worse is open')
        .choices([...LEVELS])
        .default('stop'),
    )
    .option('--waived', 'show waived findings too')
    .option(
      '--rule <id>',
      'only this rule; may be given again',
      (value: string, before: readonly string[]) => [...before, value],
      [],
    )
    .addOption(formatOption(['text', 'json', 'sarif']))
    .action((file: string, options: Options) => run(file, options, terminal));
}
