import type { Command } from 'commander';
import { resolve } from 'node:path';
import { dbcOfPlatform, writeDbc } from '../../can/index.ts';
import { UnusableInput, loadPairing, loadPlatform, writeAtomically } from '../../host/index.ts';
import { interfaceDbcs } from '../../export/index.ts';
import type { Terminal } from '../terminal.ts';

interface Options {
  readonly bus?: string;
  readonly out?: string;
}

async function exportDbc(file: string, options: Options, terminal: Terminal): Promise<void> {
  const text = file.endsWith('.map.json')
    ? await ofMap(file, options, terminal)
    : await ofPlatform(file, options, terminal);
  if (options.out === undefined) {
    terminal.out(text);
    return;
  }
  await writeAtomically(resolve(terminal.cwd, options.out), text);
  terminal.err(`wrote ${options.out}\n`);
}

async function ofPlatform(file: string, { bus }: Options, terminal: Terminal): Promise<string> {
  const platform = await loadPlatform(resolve(terminal.cwd, file));
  const ids = platform.buses.map(({ id }) => id);
  const chosen = bus ?? (ids.length === 1 ? ids[0] : undefined);
  if (chosen === undefined || !ids.includes(chosen))
    throw new UnusableInput(`name one bus of ${file} with --bus: ${ids.join(', ') || 'it has none'}`);
  return writeDbc(dbcOfPlatform(platform, chosen));
}

async function ofMap(file: string, { bus }: Options, terminal: Terminal): Promise<string> {
  const { pairing } = await loadPairing(resolve(terminal.cwd, file));
  const files = interfaceDbcs(pairing);
  const chosen = bus === undefined && files.length === 1 ? files[0] : files.find((entry) => entry.bus === bus);
  if (!chosen)
    throw new UnusableInput(
      `name one bus the interface module sends on with --bus: ${files.map((entry) => entry.bus).join(', ') || 'it sends on none'}`,
    );
  return chosen.text;
}

/** `crossloom export-dbc PLATFORM|MAP --bus ID`: a bus of a platform, or what the interface module sends on it, as DBC. */
export function addExportDbc(program: Command, terminal: Terminal): void {
  program
    .command('export-dbc')
    .description('write a bus of a platform as a DBC file; of a map: what its interface modules send on a bus')
    .argument('<file>', 'a *.platform.json or *.map.json file')
    .option('--bus <id>', 'the bus; of a map as side:bus')
    .option('--out <file>', 'where to write it; standard output when absent')
    .action((file: string, options: Options) => exportDbc(file, options, terminal));
}
