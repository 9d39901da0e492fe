import { Option, type Command } from 'commander';
import { relative, resolve } from 'node:path';
import { check, type Finding, type Run } from '../../checks/index.ts';
import { UnusableInput, loadPairing, readText, type LoadedPairing } from '../../host/index.ts';
import { linesOfPaths, pathOfSubject, type DocumentName } from '../../model/index.ts';
import { formatOption, jsonText } from '../formats.ts';
import { checkReport } from '../reporters/json.ts';
import { sarifReport, type FindingPlace } from '../reporters/sarif.ts';
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

/** Whether a run has an unwaived finding at or over a severity. */
export function fails({ counts }: Pick<Run, 'counts'>, level: Level): boolean {
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

/** File, line and column of every finding: the three texts are read once. */
export async function placesOf(
  loaded: LoadedPairing,
  findings: readonly Finding[],
  cwd: string,
): Promise<(finding: Finding) => FindingPlace> {
  const documents = { map: loaded.map, host: loaded.pairing.host.platform, donor: loaded.pairing.donor.platform };
  const files: Record<DocumentName, string> = { map: loaded.mapPath, ...loaded.platformPaths };
  const paths = findings.map(({ subject }) => pathOfSubject(documents, subject));
  const places = new Map<Finding, FindingPlace>();
  for (const name of ['map', 'host', 'donor'] as const) {
    const own = findings.filter((_, at) => paths[at]!.document === name);
    if (own.length === 0) continue;
    const lines = linesOfPaths(
      await readText(files[name]),
      paths.filter(({ document }) => document === name).map(({ path }) => path),
    );
    own.forEach((finding, at) =>
      places.set(finding, { file: relative(cwd, files[name]) || files[name], ...lines[at]! }),
    );
  }
  return (finding) => places.get(finding) ?? { file: relative(cwd, loaded.mapPath), line: 1, column: 1 };
}

function only(run: Run, rules: readonly string[]): Run {
  if (rules.length === 0) return run;
  const known = new Set(run.rules.map(({ id }) => id));
  for (const rule of rules)
    if (!known.has(rule)) throw new UnusableInput(`there is no rule "${rule}"; crossloom explain lists them`);
  const findings = run.findings.filter(({ rule }) => rules.includes(rule));
  const counts = { stop: 0, fix: 0, look: 0, waived: 0 };
  for (const { severity, waived } of findings) counts[waived ? 'waived' : severity] += 1;
  return { ...run, findings, counts };
}

async function run(file: string, options: Options, terminal: Terminal): Promise<void> {
  const loaded = await loadPairing(resolve(terminal.cwd, file));
  const result = only(check(loaded.pairing), options.rule);
  switch (options.format) {
    case 'json':
      terminal.out(jsonText(checkReport(result)));
      break;
    case 'sarif':
      terminal.out(
        jsonText(sarifReport([{ run: result, placeOf: await placesOf(loaded, result.findings, terminal.cwd) }])),
      );
      break;
    case 'text':
      terminal.out(textReport(result, terminal, options.waived === true));
      break;
  }
  if (fails(result, options.failOn)) terminal.setExitCode(1);
}

/** `crossloom check MAP`: every finding with its reason and source. */
export function addCheck(program: Command, terminal: Terminal): void {
  program
    .command('check')
    .description(
      'check a map: routing of safety-critical functions, units, ranges, states, timing, orphans, bus, records',
    )
    .argument('<map>', 'a *.map.json file')
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
