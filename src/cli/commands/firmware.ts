import type { Command } from 'commander';
import { mkdir } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { check } from '../../checks/index.ts';
import { UnknownBuildError, firmwareSources, type FirmwareExport } from '../../export/index.ts';
import { UnusableInput, loadPairing, writeAtomically } from '../../host/index.ts';
import { mapDigest } from '../../model/index.ts';
import { choicesOf } from '../build-choice.ts';
import { formatOption, jsonText } from '../formats.ts';
import type { Terminal } from '../terminal.ts';
import { VERSION } from '../version.ts';

interface Options {
  readonly out: string;
  readonly module?: string;
  readonly build?: Readonly<Record<string, string>>;
  readonly format: string;
}

async function run(file: string, options: Options, terminal: Terminal): Promise<void> {
  const { pairing } = await loadPairing(resolve(terminal.cwd, file));
  const { map } = pairing;
  const known = map.interfaceModules.map(({ id }) => id);
  if (known.length === 0)
    throw new UnusableInput(`${file} has no interface module: there is nothing to write firmware for`);
  if (options.module !== undefined && !known.includes(options.module))
    throw new UnusableInput(`there is no interface module "${options.module}"; there are: ${known.join(', ')}`);
  const { findings, counts } = check(pairing);
  const result = sourcesOf(options, () =>
    firmwareSources(
      pairing,
      findings,
      {
        today: terminal.today,
        version: VERSION,
        digest: mapDigest(map),
        ...(options.build ? { build: options.build } : {}),
      },
      options.module,
    ),
  );
  const build = [...result.combination].map(([axis, choice]) => `${axis}=${choice}`).join(',');
  if (result.modules.length === 0)
    throw new UnusableInput(`${options.module ?? 'no interface module'} is not there in the build ${build}`);
  const written: string[] = [];
  for (const { folder, files } of result.modules) {
    const own = result.modules.length === 1 ? options.out : join(options.out, folder);
    await mkdir(resolve(terminal.cwd, own), { recursive: true });
    for (const { name, text } of files) {
      await writeAtomically(resolve(terminal.cwd, own, name), text);
      written.push(join(own, name));
    }
  }
  if (options.format === 'json')
    terminal.out(
      jsonText({
        map: map.id,
        revision: map.revision,
        build: Object.fromEntries(result.combination),
        written,
        refused: result.modules.flatMap(({ module, refused }) => refused.map((each) => ({ module, ...each }))),
        notForBuild: counts.stop > 0,
      }),
    );
  else for (const name of written) terminal.out(`wrote ${name}\n`);
  for (const { module, refused } of result.modules)
    for (const { what, id, why } of refused) terminal.err(`not in the source of ${module}: ${what} ${id}: ${why}\n`);
  if (result.builds > 1)
    terminal.err(`firmware is for one build; this one is for ${build}. Name another with --build\n`);
  if (counts.stop > 0)
    terminal.err(
      `NOT FOR BUILD: ${counts.stop === 1 ? 'one finding of severity stop is' : `${counts.stop} findings of severity stop are`} open; every file says so. See: crossloom check ${file}\n`,
    );
}

function sourcesOf({ build }: Options, make: () => FirmwareExport): FirmwareExport {
  try {
    return make();
  } catch (error) {
    if (error instanceof UnknownBuildError && build !== undefined) throw new UnusableInput(error.message);
    throw error;
  }
}

/** `crossloom firmware MAP --out DIR`: C source of the interface modules. */
export function addFirmware(program: Command, terminal: Terminal): void {
  program
    .command('firmware')
    .description('write the firmware of the interface modules as portable C99, with a test harness for this machine')
    .argument('<map>', 'a *.map.json file')
    .option('--out <folder>', 'where to write; a folder for each module when there are several', 'firmware')
    .option('--module <id>', 'one interface module only')
    .option(
      '--build <choices>',
      'the build: option=choice, several with commas; the first that fits when absent',
      choicesOf,
    )
    .addOption(formatOption())
    .action((file: string, options: Options) => run(file, options, terminal));
}
