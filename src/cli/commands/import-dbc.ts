import type { Command } from 'commander';
import { existsSync } from 'node:fs';
import { resolve } from 'node:path';
import type { DbcFault, MergedImport } from '../../can/index.ts';
import { UnusableInput, loadPlatform, writeAtomically } from '../../host/index.ts';
import { writePlatform } from '../../model/index.ts';
import { LISTED_FAULTS, dbcFaultLine, readDbcInto, withBus } from '../dbc-into-platform.ts';
import { formatOption, jsonText, wholeNumber } from '../formats.ts';
import type { Terminal } from '../terminal.ts';

interface Options {
  readonly into: string;
  readonly bus: string;
  readonly bitRate?: number;
  readonly dryRun?: boolean;
  readonly removeGone?: boolean;
  readonly format: string;
}

async function importDbc(file: string, options: Options, terminal: Terminal): Promise<void> {
  const into = resolve(terminal.cwd, options.into);
  if (!existsSync(into))
    throw new UnusableInput(
      `there is no platform ${options.into}; start one with: crossloom new platform ${options.into}`,
    );
  const platform = withBus(await loadPlatform(into), options.bus, options.bitRate);
  const merged = await readDbcInto(platform, options.bus, file, resolve(terminal.cwd, file), {
    today: terminal.today,
    gone: options.removeGone ? 'remove' : 'keep',
  });
  const { faults, moreFaults } = merged;
  if (!options.dryRun) await writeAtomically(into, writePlatform(merged.platform));
  if (options.format === 'json') {
    terminal.out(
      jsonText({
        file,
        platform: options.into,
        written: !options.dryRun,
        changes: merged.changes,
        notes: merged.notes,
        faults,
        moreFaults,
      }),
    );
  } else report(file, options, merged, faults, moreFaults, terminal);
}

function report(
  file: string,
  options: Options,
  merged: MergedImport,
  faults: readonly DbcFault[],
  moreFaults: number,
  terminal: Terminal,
): void {
  for (const fault of faults.slice(0, LISTED_FAULTS)) terminal.err(`${dbcFaultLine(file, fault)}\n`);
  const unlisted = faults.length - LISTED_FAULTS + moreFaults;
  if (unlisted > 0) terminal.err(`and ${unlisted} more faults (--format json lists them)\n`);
  for (const note of merged.notes.slice(0, LISTED_FAULTS)) terminal.out(`note: ${note}\n`);
  if (merged.notes.length > LISTED_FAULTS)
    terminal.out(`and ${merged.notes.length - LISTED_FAULTS} more notes (--format json lists them)\n`);
  const of = (kind: string): number => merged.changes.filter((change) => change.kind === kind).length;
  for (const { kind, subject, what } of merged.changes
    .filter((change) => change.kind !== 'added')
    .slice(0, LISTED_FAULTS)) {
    terminal.out(`${kind}: ${subject}${what.length > 0 ? `: ${what.join('; ')}` : ''}\n`);
  }
  const messages = merged.platform.messages.filter(({ bus }) => bus === options.bus);
  const signals = messages.reduce((sum, message) => sum + message.signals.length, 0);
  terminal.out(
    `${options.dryRun ? 'would write' : 'wrote'} ${options.into}: bus ${options.bus} has ${messages.length} messages, ${signals} signals ` +
      `(${of('added')} added, ${of('changed')} changed, ${of('renamed')} renamed, ${of('gone')} gone)\n`,
  );
}

/** `crossloom import-dbc FILE --into PLATFORM --bus ID`: a DBC file into one bus of a platform, merged by meaning. */
export function addImportDbc(program: Command, terminal: Terminal): void {
  program
    .command('import-dbc')
    .description(
      'read a DBC file into one bus of a platform; a later import merges by meaning and keeps what people added',
    )
    .argument('<file>', 'the DBC file')
    .requiredOption('--into <platform>', 'the *.platform.json to read it into')
    .requiredOption('--bus <id>', 'the bus it describes')
    .option('--bit-rate <rate>', 'bit/s, when the bus is to be created', wholeNumber(1000, 20_000_000))
    .option('--remove-gone', 'take out messages of this bus which the file no longer has')
    .option('--dry-run', 'show what would change and write nothing')
    .addOption(formatOption())
    .action((file: string, options: Options) => importDbc(file, options, terminal));
}
