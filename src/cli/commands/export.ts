import { Option, type Command } from 'commander';
import { mkdir } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { check } from '../../checks/index.ts';
import {
  ExportCancelled,
  SPECS,
  SPEC_FORMATS,
  SPEC_IDS,
  UnknownBuildError,
  writeSpec,
  type ExportProgress,
  type ExportWatch,
  type RenderedFile,
  type SpecFormat,
  type SpecId,
} from '../../export/index.ts';
import { UnusableInput, loadPairing, loadPdfFonts, writeAtomically } from '../../host/index.ts';
import { mapDigest } from '../../model/index.ts';
import { choicesOf } from '../build-choice.ts';
import { formatOption, jsonText } from '../formats.ts';
import type { Terminal } from '../terminal.ts';
import { VERSION } from '../version.ts';

interface Options {
  readonly spec: readonly SpecId[];
  readonly as: readonly SpecFormat[];
  readonly out: string;
  readonly build?: Readonly<Record<string, string>>;
  readonly format: string;
}

const gather = <T>(value: T, before: readonly T[] | undefined): readonly T[] => [...(before ?? []), value];

async function run(file: string, options: Options, terminal: Terminal): Promise<void> {
  const { pairing } = await loadPairing(resolve(terminal.cwd, file));
  const { findings, counts } = check(pairing);
  const issue = {
    today: terminal.today,
    version: VERSION,
    digest: mapDigest(pairing.map),
    ...(options.build ? { build: options.build } : {}),
  };
  const out = resolve(terminal.cwd, options.out);
  let stopped = false;
  const letGo = terminal.onInterrupt(() => (stopped = true));
  const files: RenderedFile[] = [];
  try {
    for (const { id, title, formats } of SPECS.filter((spec) => options.spec.includes(spec.id))) {
      // What has one form only is written in it.
      for (const format of formats.length === 1 ? formats : options.as.filter((each) => formats.includes(each))) {
        const watch = watchOf(terminal, `${title}, ${format}`, () => stopped);
        files.push(...(await writeSpec(id, format, pairing, findings, issue, { pdfFonts: loadPdfFonts, watch })));
      }
    }
  } catch (error) {
    if (error instanceof UnknownBuildError) throw new UnusableInput(error.message);
    if (!(error instanceof ExportCancelled)) throw error;
    terminal.status('');
    terminal.err('stopped; nothing was written\n');
    terminal.setExitCode(130);
    return;
  } finally {
    terminal.status('');
    letGo();
  }
  // All of them or none: what was called off leaves no half of a hand-over behind.
  await mkdir(out, { recursive: true });
  for (const { name, bytes } of files) await writeAtomically(join(out, name), bytes);
  const written = files.map(({ name }) => name);
  if (options.format === 'json')
    terminal.out(
      jsonText({
        map: pairing.map.id,
        revision: pairing.map.revision,
        folder: options.out,
        written,
        notForBuild: counts.stop > 0,
        counts,
      }),
    );
  else for (const name of written) terminal.out(`wrote ${join(options.out, name)}\n`);
  if (counts.stop > 0) {
    terminal.err(
      `NOT FOR BUILD: ${counts.stop === 1 ? 'one finding of severity stop is' : `${counts.stop} findings of severity stop are`} open; every page says so. See: crossloom check ${file}\n`,
    );
  }
}

const STATUS_EVERY_MS = 100;

/** Tells how far an export is, now and then, and lets Ctrl-C through. */
function watchOf(terminal: Terminal, what: string, isCancelled: () => boolean): ExportWatch {
  let toldMs = -Infinity;
  return {
    isCancelled,
    breathe: () => new Promise((resolve) => setImmediate(resolve)),
    onProgress: (progress) => {
      const ms = performance.now();
      if (ms - toldMs < STATUS_EVERY_MS) return;
      toldMs = ms;
      terminal.status(`${what}: ${progressText(progress)}; Ctrl-C stops`);
    },
  };
}

function progressText({ doing, done, total }: ExportProgress): string {
  return doing === 'sections' ? `section ${done} of ${total} set` : `page ${done} of ${total} written`;
}

/** `crossloom export MAP`: the specs for those who build. */
export function addExport(program: Command, terminal: Terminal): void {
  program
    .command('export')
    .description(
      'write the wiring spec, the translation spec, the firmware and the DBC of what the interface modules send',
    )
    .argument('<map>', 'a *.map.json file')
    .addOption(
      new Option('--spec <spec>', 'which one; may be given again; all when absent')
        .choices([...SPEC_IDS])
        .argParser((value: string, before: readonly SpecId[] | undefined) => gather(value as SpecId, before)),
    )
    .addOption(
      new Option('--as <form>', 'in which form; may be given again; html, pdf and xlsx when absent')
        .choices([...SPEC_FORMATS])
        .argParser((value: string, before: readonly SpecFormat[] | undefined) => gather(value as SpecFormat, before)),
    )
    .option('--out <folder>', 'where to write', 'handover')
    .option('--build <choices>', 'one build only: option=choice, several with commas', choicesOf)
    .addOption(formatOption())
    .action((file: string, options: Partial<Options> & Pick<Options, 'out' | 'format'>) => {
      const { spec = SPEC_IDS, as = ['html', 'pdf', 'xlsx'] } = options;
      for (const id of spec)
        if (!SPEC_IDS.includes(id))
          throw new UnusableInput(`there is no spec "${id}"; there are: ${SPEC_IDS.join(', ')}`);
      for (const form of as)
        if (!SPEC_FORMATS.includes(form))
          throw new UnusableInput(`there is no form "${form}"; there are: ${SPEC_FORMATS.join(', ')}`);
      return run(file, { ...options, spec, as }, terminal);
    });
}
