import type { Command } from 'commander';
import { InvalidArgumentError } from 'commander';
import { resolve } from 'node:path';
import { loadPairing, UnusableInput } from '../../host/index.ts';
import { createCapture, LogClockError } from '../../translate/index.ts';
import { choicesOf, firstBuild } from '../build-choice.ts';
import { formatOption } from '../formats.ts';
import { nothingRead, openLogs, progress, tellOfInferred, tellOfLogs } from '../log-files.ts';
import { captureJson, captureText, judgedIn, mismatchesIn } from '../reporters/capture.ts';
import type { Terminal } from '../terminal.ts';

interface Options {
  readonly log: readonly string[];
  readonly wires: readonly string[];
  readonly map: readonly string[];
  readonly build?: Readonly<Record<string, string>>;
  readonly busMs?: number;
  readonly steps?: number;
  readonly format: string;
}

async function run(mapFile: string, options: Options, terminal: Terminal): Promise<void> {
  if (options.log.length + options.wires.length === 0)
    throw new UnusableInput('there is nothing to compare: name a recording with --log FILE');
  const { pairing } = await loadPairing(resolve(terminal.cwd, mapFile));
  if (pairing.map.interfaceModules.length === 0)
    throw new UnusableInput('the map has no interface module: nothing comes out that could be compared');
  const build = firstBuild(pairing, options.build);
  const logs = await openLogs(pairing, options, true, terminal);
  tellOfInferred(logs, terminal);
  const capture = createCapture(pairing, {
    ...(build === undefined ? {} : { combination: build }),
    ...(options.busMs === undefined ? {} : { busUs: Math.round(options.busMs * 1000) }),
    ...(options.steps === undefined ? {} : { steps: options.steps }),
  });
  let stopped = false;
  let nowUs: number | null = null;
  const letGo = terminal.onInterrupt(() => (stopped = true));
  const status = progress(logs, 'compared', terminal);
  try {
    for await (const events of logs.events) {
      for (const event of events) {
        nowUs = event.timeUs;
        if (event.kind === 'frame') capture.onFrame(event);
        else capture.onWire(event.wire, event.level, event.timeUs);
      }
      await status(nowUs);
      if (stopped) break;
    }
  } catch (error) {
    if (error instanceof LogClockError) throw new UnusableInput(error.message);
    throw error;
  } finally {
    terminal.status('');
    letGo();
  }
  if (nowUs === null) throw nothingRead(logs, 'compared');
  tellOfLogs(logs, terminal);
  const report = capture.report(!stopped);
  const result = { pairing, logs, report, stopped };
  terminal.out(options.format === 'json' ? captureJson(result) : captureText(result));
  if (stopped) terminal.err('stopped: the recording was compared in part\n');
  const differs = mismatchesIn(report) > 0;
  const blind = judgedIn(report) === 0;
  if (blind && !differs)
    terminal.err(
      'nothing could be judged: the recording needs both what the interface module reads and what it sends\n',
    );
  terminal.setExitCode(stopped ? 130 : differs ? 1 : blind ? 2 : 0);
}

const gather = (value: string, before: readonly string[]): readonly string[] => [...before, value];

function numberUpTo(most: number): (text: string) => number {
  return (text) => {
    const value = Number(text);
    if (text.trim() === '' || !Number.isFinite(value) || value < 0 || value > most)
      throw new InvalidArgumentError(`write a number from 0 to ${most}.`);
    return value;
  };
}

/** `crossloom verify-capture MAP --log FILE`: a recording of a real vehicle or bench held against the map. */
export function addVerifyCapture(program: Command, terminal: Terminal): void {
  program
    .command('verify-capture')
    .description('hold a recording of all buses and wires against the map: late, missing, wrong and extra')
    .argument('<map>', 'a *.map.json file')
    .option(
      '--log <file>',
      'frames of all buses in candump format; - for standard input; may be given again',
      gather,
      [],
    )
    .option('--wires <file>', 'wire levels as CSV: time_s,wire,value; may be given again', gather, [])
    .option(
      '--map <name=bus>',
      'which bus an interface of the log is, e.g. can0=host:chassis-can; may be given again',
      gather,
      [],
    )
    .option('--build <choices>', 'the build, or the first that fits: option=choice, several with commas', choicesOf)
    .option('--bus-ms <ms>', 'what the buses may add to the way of a frame; 5 when absent', numberUpTo(1000))
    .option(
      '--steps <n>',
      'raw steps by which a converted value may be rounded otherwise; 0 when absent',
      numberUpTo(1000),
    )
    .addOption(formatOption())
    .addHelpText(
      'after',
      `
A value is right when a sample of its sources within the worst-case age before it explains it: period and latency of the interface
module, and the buses. What is not judged, and why, is said: values before all sources were seen, steps in time that have not settled,
and moments at which a cyclic source is overdue, where the log may lack a frame.

Exit codes: 0 agrees, 1 a mismatch, 2 unusable input or nothing that could be judged, 130 stopped by Ctrl-C.

Example:
  crossloom verify-capture sample-maps/ft6-orrin32.map.json --log bench.log --wires bench-wires.csv`,
    )
    .action((file: string, options: Options) => run(file, options, terminal));
}
