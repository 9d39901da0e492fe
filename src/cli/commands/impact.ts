import type { Command } from 'commander';
import { relative, resolve } from 'node:path';
import { comparePairings, platformChanges, type Change, type Comparison } from '../../compare/index.ts';
import { UnusableInput, findMaps, loadPairing, loadPlatform, type LoadedPairing } from '../../host/index.ts';
import { pair, type Platform, type SideName } from '../../model/index.ts';
import { LISTED_FAULTS, dbcFaultLine, readDbcInto, withBus } from '../dbc-into-platform.ts';
import { formatOption, jsonText } from '../formats.ts';
import { changeJson, changeText, comparisonJson, textWidth, titled } from '../reporters/comparison.ts';
import type { Terminal } from '../terminal.ts';

interface Options {
  readonly platform?: string;
  readonly dbc?: string;
  readonly into?: string;
  readonly bus?: string;
  readonly removeGone?: boolean;
  readonly format: 'text' | 'json';
}

/** A platform as it would be, and which platform files it would take the place of. */
interface Successor {
  readonly platform: Platform;
  readonly replaces: (file: string, platform: Platform) => boolean;
}

/** What a new platform does to one map. */
interface MapImpact {
  readonly file: string;
  readonly side: SideName;
  readonly comparison: Comparison;
}

async function successorOf(options: Options, terminal: Terminal): Promise<Successor> {
  if (options.platform !== undefined) {
    const platform = await loadPlatform(resolve(terminal.cwd, options.platform));
    return { platform, replaces: (_file, { id }) => id === platform.id };
  }
  if (options.dbc === undefined || options.into === undefined || options.bus === undefined)
    throw new UnusableInput('name what would change: --platform FILE, or --dbc FILE --into PLATFORM --bus ID');
  const into = resolve(terminal.cwd, options.into);
  const before = withBus(await loadPlatform(into), options.bus, undefined);
  const read = await readDbcInto(before, options.bus, options.dbc, resolve(terminal.cwd, options.dbc), {
    today: terminal.today,
    gone: options.removeGone ? 'remove' : 'keep',
  });
  for (const fault of read.faults.slice(0, LISTED_FAULTS)) terminal.err(`${dbcFaultLine(options.dbc, fault)}\n`);
  return { platform: read.platform, replaces: (file) => file === into };
}

function impactsOn({ pairing, mapPath, platformPaths }: LoadedPairing, successor: Successor, cwd: string): MapImpact[] {
  return (['host', 'donor'] as const).flatMap((side): MapImpact[] => {
    if (!successor.replaces(platformPaths[side], pairing[side].platform)) return [];
    const after =
      side === 'host'
        ? pair(pairing.map, successor.platform, pairing.donor)
        : pair(pairing.map, pairing.host, successor.platform);
    return [{ file: relative(cwd, mapPath), side, comparison: comparePairings(pairing, after) }];
  });
}

/** What follows for a map, without the platform's own changes, which are told once. */
function followsFor({ changes }: Comparison): readonly Change[] {
  return changes.filter(({ what }) => what === 'route' || what === 'conductor');
}

function impactText({ file, side, comparison }: MapImpact, width: number): string {
  const { needsNew, needsGone, findingsNew, findingsGone, waiversLapsed } = comparison;
  const follows = followsFor(comparison);
  const lines = [
    ...follows.map((change) => changeText(change, width).trimEnd().replaceAll('\n', '\n  ')),
    ...needsNew.map((need) => `need new: ${need}`),
    ...needsGone.map((need) => `need gone: ${need}`),
    ...findingsNew.map(({ severity, rule, subject, message }) => `new: ${severity}  ${rule}  ${subject}: ${message}`),
    ...findingsGone.map(({ severity, rule, subject }) => `gone: ${severity}  ${rule}  ${subject}`),
    ...waiversLapsed.map((waiver) => `waiver lapsed: ${waiver}`),
  ];
  return titled(`${file} (${side})`, lines.length === 0 ? ['nothing follows for this map'] : lines);
}

async function run(folder: string, options: Options, terminal: Terminal): Promise<void> {
  const successor = await successorOf(options, terminal);
  const impacts: MapImpact[] = [];
  const unusable: string[] = [];
  let replaced: Platform | null = null;
  const paths = await findMaps(resolve(terminal.cwd, folder));
  for (const path of paths) {
    try {
      const loaded = await loadPairing(path);
      const found = impactsOn(loaded, successor, terminal.cwd);
      if (found.length > 0) replaced ??= loaded.pairing[found[0]!.side].platform;
      impacts.push(...found);
    } catch (error) {
      if (!(error instanceof UnusableInput)) throw error;
      unusable.push(`${relative(terminal.cwd, path)}: ${error.message}`);
    }
  }
  if (replaced === null)
    throw new UnusableInput(
      `no map in ${folder} stands on the platform ${successor.platform.id} (${paths.length} maps were read)`,
      unusable,
    );
  const changes = platformChanges(replaced, successor.platform, null);
  const isWorse = impacts.some(({ comparison }) => comparison.findingsNew.some(({ severity }) => severity === 'stop'));
  if (options.format === 'json') {
    terminal.out(
      jsonText({
        platform: successor.platform.id,
        changes: changes.map(changeJson),
        maps: impacts.map(({ file, side, comparison }) => {
          const { edits: _edits, ...said } = comparisonJson(comparison) as { edits: unknown };
          return { file, side, ...said, changes: followsFor(comparison).map(changeJson) };
        }),
        unusable,
      }),
    );
  } else {
    const width = textWidth(terminal);
    terminal.out(
      [
        `${successor.platform.title} (${successor.platform.id})\n\n`,
        changes.length === 0
          ? 'nothing differs in meaning\n'
          : changes.map((change) => changeText(change, width)).join(''),
        ...impacts.map((impact) => impactText(impact, width)),
        titled('Maps that cannot be used', unusable),
        `\n${changes.length} changes of the platform; ${impacts.length} of ${paths.length} maps stand on it\n`,
      ].join(''),
    );
  }
  if (unusable.length > 0) terminal.setExitCode(2);
  else if (isWorse) terminal.setExitCode(1);
}

/** `crossloom impact FOLDER`: what a newer platform, or a newer DBC, would do to every map that stands on it. */
export function addImpact(program: Command, terminal: Terminal): void {
  program
    .command('impact')
    .description(
      'show what a newer platform or DBC file would do to every map of a folder; nothing is written. Exit code 1 when a finding of severity stop is new',
    )
    .argument('<folder>', 'where the maps are')
    .option('--platform <file>', 'the newer *.platform.json; it stands in for the one with its id')
    .option('--dbc <file>', 'a newer DBC file')
    .option('--into <platform>', 'with --dbc: the *.platform.json it would be read into')
    .option('--bus <id>', 'with --dbc: the bus it describes')
    .option('--remove-gone', 'with --dbc: messages which the file no longer has go')
    .addOption(formatOption())
    .action((folder: string, options: Options) => run(folder, options, terminal));
}
