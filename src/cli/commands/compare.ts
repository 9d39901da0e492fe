import type { Command } from 'commander';
import { dirname, resolve } from 'node:path';
import { comparePairings, diffDocuments, platformChanges } from '../../compare/index.ts';
import { comparisonDocument } from '../../export/index.ts';
import { UnusableInput, loadPairing, loadPlatform, readText, type LoadedPairing } from '../../host/index.ts';
import { mapDigest, pair, platformDigest } from '../../model/index.ts';
import { putDocument } from '../document-output.ts';
import { formatOption, jsonText } from '../formats.ts';
import { changeJson, changeText, comparisonJson, comparisonText, textWidth } from '../reporters/comparison.ts';
import type { Terminal } from '../terminal.ts';
import { VERSION } from '../version.ts';

interface Options {
  readonly format: 'text' | 'json' | 'html' | 'pdf';
  readonly out?: string;
  readonly oldHost?: string;
  readonly oldDonor?: string;
  readonly driver?: boolean;
}

/** What a version control hands to an external diff: path, old file, old hash, old mode, new file, new hash, new mode. */
interface DriverFiles {
  readonly path: string;
  readonly old: string;
  readonly now: string;
}

function driverFiles(args: readonly string[]): DriverFiles {
  if (args.length < 7)
    throw new UnusableInput(
      'with --driver the version control gives seven arguments: path, old file, its hash and mode, new file, its hash and mode',
    );
  return { path: args[0]!, old: args[1]!, now: args[4]! };
}

async function isPlatform(path: string): Promise<boolean> {
  return /"format"\s*:\s*"crossloom-platform"/.test((await readText(path)).slice(0, 2000));
}

async function comparePlatformFiles(old: string, now: string, options: Options, terminal: Terminal): Promise<void> {
  const [before, after] = [await loadPlatform(old), await loadPlatform(now)];
  const changes = platformChanges(before, after, null);
  if (options.format === 'json') {
    terminal.out(
      jsonText({
        before: { platform: before.id, digest: platformDigest(before) },
        after: { platform: after.id, digest: platformDigest(after) },
        changes: changes.map(changeJson),
        edits: diffDocuments('host', before, after).map(({ in: _side, ...edit }) => edit),
      }),
    );
    return;
  }
  if (options.format !== 'text')
    throw new UnusableInput(
      'two platforms are compared as text or json; what follows from the change for a map shows "crossloom impact"',
    );
  const body = changes.map((change) => changeText(change, textWidth(terminal))).join('');
  terminal.out(
    `${before.title} (${platformDigest(before).slice(0, 12)})\n→ ${after.title} (${platformDigest(after).slice(0, 12)})\n\n${body === '' ? 'nothing differs in meaning\n' : body}\n${changes.length} changes\n`,
  );
}

/** The earlier revision on the platforms it stood on: those named, else what its own links lead to. */
async function onOldPlatforms({ pairing }: LoadedPairing, options: Options, terminal: Terminal) {
  if (options.oldHost === undefined && options.oldDonor === undefined) return pairing;
  const platform = (path: string | undefined) =>
    path === undefined ? null : loadPlatform(resolve(terminal.cwd, path));
  const [host, donor] = [await platform(options.oldHost), await platform(options.oldDonor)];
  return pair(pairing.map, host ?? pairing.host, donor ?? pairing.donor);
}

async function run(old: string, now: string, beside: string | null, options: Options, terminal: Terminal) {
  const at = (file: string): string => resolve(terminal.cwd, file);
  if ((await isPlatform(at(old))) && (await isPlatform(at(now))))
    return comparePlatformFiles(at(old), at(now), options, terminal);
  const load = (file: string): Promise<LoadedPairing> =>
    loadPairing(at(file), beside === null ? undefined : dirname(at(beside)));
  const [before, after] = [await load(old), await load(now)];
  const comparison = comparePairings(await onOldPlatforms(before, options, terminal), after.pairing);
  switch (options.format) {
    case 'text':
      return terminal.out(comparisonText(comparison, terminal));
    case 'json':
      return terminal.out(jsonText(comparisonJson(comparison)));
    case 'html':
    case 'pdf':
      return putDocument(
        comparisonDocument(comparison, {
          today: terminal.today,
          version: VERSION,
          digest: mapDigest(after.map),
        }),
        options.format,
        options.out,
        terminal,
      );
  }
}

async function runAsDriver(args: readonly string[], options: Options, terminal: Terminal): Promise<void> {
  const { path, old, now } = driverFiles(args);
  const empty = (file: string): boolean => file === '/dev/null' || file === 'nul';
  if (empty(old) || empty(now)) {
    terminal.out(`${empty(old) ? 'added' : 'removed'} ${path}\n`);
    return;
  }
  terminal.out(`${path}\n`);
  try {
    await run(old, now, path, options, terminal);
  } catch (error) {
    // One file that cannot be read must not stop the differences of all the others from being shown.
    if (!(error instanceof UnusableInput)) throw error;
    terminal.out(`  cannot be compared by meaning: ${error.message}\n`);
    for (const fault of error.faults) terminal.out(`  ${fault}\n`);
  }
}

/** `crossloom compare OLD NEW`: what differs between two revisions by meaning, and what follows from it. */
export function addCompare(program: Command, terminal: Terminal): void {
  program
    .command('compare')
    .description(
      'compare two revisions of a map (or of a platform) by meaning: what was added, removed, changed, renamed, and what follows from it',
    )
    .argument('<old>', 'a *.map.json or *.platform.json file')
    .argument('<new>', 'its later revision')
    .argument('[more...]', 'with --driver: what the version control gives')
    .addOption(formatOption(['text', 'json', 'html', 'pdf']))
    .option('--out <file>', 'where to write html or pdf; standard output when absent')
    .option('--old-host <file>', 'the host platform as it was, when the map stayed and the platform changed')
    .option('--old-donor <file>', 'the donor platform as it was')
    .option('--driver', 'take the seven arguments of a version control’s external diff')
    .action(async (old: string, now: string, more: readonly string[], options: Options) => {
      if (options.driver === true) return runAsDriver([old, now, ...more], options, terminal);
      if (more.length > 0) throw new UnusableInput(`two files are compared; there is a third: ${more[0]}`);
      return run(old, now, null, options, terminal);
    });
}
