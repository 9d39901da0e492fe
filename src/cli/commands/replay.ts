import type { Command } from 'commander';
import { relative, resolve } from 'node:path';
import { beginFile, type FileInWork, loadPairing, UnusableInput } from '../../host/index.ts';
import type { Pairing } from '../../model/index.ts';
import {
  createReplay,
  frameLogWriter,
  LogClockError,
  type LogPlayer,
  playLog,
  type ReplayOutput,
  tallySamples,
  WIRE_LOG_HEADER,
  wireLogWriter,
} from '../../translate/index.ts';
import { choicesOf, firstBuild } from '../build-choice.ts';
import { formatOption } from '../formats.ts';
import { nothingRead, openLogs, type OpenLogs, progress, tellOfInferred, tellOfLogs } from '../log-files.ts';
import { replayJson, type ReplayRun, replayText } from '../reporters/replay.ts';
import type { Terminal } from '../terminal.ts';

interface Options {
  readonly log: readonly string[];
  readonly wires: readonly string[];
  readonly map: readonly string[];
  readonly out?: string;
  readonly outWires?: string;
  readonly module?: string;
  readonly build?: Readonly<Record<string, string>>;
  readonly format: string;
}

/** Where what comes out is written: a file in work, standard output, or nowhere. */
interface Sink {
  write(text: string): Promise<void>;
  readonly file: FileInWork | null;
}

async function sinkFor(path: string | undefined, terminal: Terminal): Promise<Sink | null> {
  if (path === undefined) return null;
  if (path === '-') {
    const write = (text: string): Promise<void> => {
      terminal.out(text);
      return terminal.drained();
    };
    return { write, file: null };
  }
  const file = await beginFile(resolve(terminal.cwd, path));
  return { write: (text) => file.write(text), file };
}

/** Refuses what would destroy a log that is being read, or mix two outputs. */
function checkPaths({ log, wires, out, outWires }: Options, { cwd }: Terminal): void {
  if (log.length + wires.length === 0)
    throw new UnusableInput(
      'there is nothing to replay: name a log with --log FILE, or a table of levels with --wires FILE',
    );
  const outputs = [out, outWires].filter((path) => path !== undefined);
  if (outputs.length === 2 && (out === outWires || resolve(cwd, out!) === resolve(cwd, outWires!)))
    throw new UnusableInput('--out and --out-wires need two different places');
  for (const path of outputs) {
    if (path === '-') continue;
    const input = [...log, ...wires].find((name) => name !== '-' && resolve(cwd, name) === resolve(cwd, path));
    if (input !== undefined) throw new UnusableInput(`${path} would replace a log that is read: name another file`);
  }
}

async function run(mapFile: string, options: Options, terminal: Terminal): Promise<void> {
  checkPaths(options, terminal);
  const { pairing } = await loadPairing(resolve(terminal.cwd, mapFile));
  const module = options.module;
  if (module !== undefined && !pairing.interfaceModules.has(module))
    throw new UnusableInput(
      `the map has no interface module "${module}"; it has: ${[...pairing.interfaceModules.keys()].join(', ')}`,
    );
  const build = firstBuild(pairing, options.build);
  const logs = await openLogs(pairing, options, false, terminal);
  tellOfInferred(logs, terminal);
  const sinks: Sink[] = [];
  let outcome: Outcome;
  try {
    const frames = await sinkFor(options.out, terminal);
    if (frames !== null) sinks.push(frames);
    const levels = await sinkFor(options.outWires, terminal);
    if (levels !== null) sinks.push(levels);
    outcome = await play(pairing, build, logs, module, frames, levels, terminal);
    if (outcome.run.endUs === null) throw nothingRead(logs, 'replayed');
  } catch (error) {
    for (const { file } of sinks) await file?.discard();
    if (error instanceof LogClockError) throw new UnusableInput(error.message);
    throw error;
  }
  const partial: string[] = [];
  for (const { file } of sinks) {
    if (outcome.stopped) partial.push(...(file === null ? [] : [relative(terminal.cwd, await file.keepPartial())]));
    else await file?.commit();
  }
  const bad = tellOfLogs(logs, terminal);
  const text = options.format === 'json' ? replayJson(outcome.run) : replayText(outcome.run);
  if (options.out === '-' || options.outWires === '-') terminal.err(text);
  else terminal.out(text);
  if (outcome.stopped)
    terminal.err(
      `stopped: ${partial.length === 0 ? 'the log was replayed in part' : `what came out until then is in ${partial.join(' and ')}`}\n`,
    );
  terminal.setExitCode(outcome.stopped ? 130 : bad || outcome.run.refused.length > 0 ? 1 : 0);
}

interface Outcome {
  readonly run: ReplayRun;
  readonly stopped: boolean;
}

async function play(
  pairing: Pairing,
  build: ReturnType<typeof firstBuild>,
  logs: OpenLogs,
  module: string | undefined,
  frames: Sink | null,
  levels: Sink | null,
  terminal: Terminal,
): Promise<Outcome> {
  const frameLine = frameLogWriter(logs.names);
  const levelLine = wireLogWriter(pairing);
  const sent = new Map<string, number>();
  let frameText = '';
  let levelText = levels === null ? '' : WIRE_LOG_HEADER;
  const output = (event: ReplayOutput): void => {
    if (module !== undefined && event.by !== module) return;
    if (event.kind === 'frame') {
      sent.set(event.message, (sent.get(event.message) ?? 0) + 1);
      if (frames !== null) frameText += frameLine(event);
    } else {
      sent.set(event.wire, (sent.get(event.wire) ?? 0) + 1);
      if (levels !== null) levelText += levelLine(event);
    }
  };
  const putAway = async (): Promise<void> => {
    if (frameText !== '') await frames!.write(frameText);
    frameText = '';
    if (levelText !== '') await levels!.write(levelText);
    levelText = '';
  };
  const tallies = tallySamples(() => replay.plans);
  const replay = createReplay(pairing, {
    output,
    sample: tallies.sample,
    ...(build === undefined ? {} : { combination: build }),
  });
  const status = progress(logs, 'replayed', terminal);
  let stopped = false;
  const player: LogPlayer = playLog(replay, async () => {
    await putAway();
    await status(player.nowUs);
    return !stopped;
  });
  const letGo = terminal.onInterrupt(() => (stopped = true));
  try {
    for await (const events of logs.events) if (!(await player.play(events))) break;
    await player.end();
  } finally {
    terminal.status('');
    letGo();
  }
  const endUs = player.nowUs;
  return {
    stopped,
    run: {
      pairing,
      build,
      logs,
      sent,
      endUs,
      stopped,
      routes: tallies.upTo(endUs ?? 0).filter(({ by }) => module === undefined || by === module),
      refused: replay.plans
        .filter((plan) => module === undefined || plan.module.id === module)
        .flatMap(({ refused }) => refused),
    },
  };
}

const gather = (value: string, before: readonly string[]): readonly string[] => [...before, value];

/** `crossloom replay MAP --log FILE`: recorded traffic through the map's interface modules. */
export function addReplay(program: Command, terminal: Terminal): void {
  program
    .command('replay')
    .description('play recorded frames and wire levels through the interface modules of a map')
    .argument('<map>', 'a *.map.json file')
    .option('--log <file>', 'frames in candump format; - for standard input; may be given again', gather, [])
    .option('--wires <file>', 'wire levels as CSV: time_s,wire,value; may be given again', gather, [])
    .option(
      '--map <name=bus>',
      'which bus an interface of the log is, e.g. can0=host:chassis-can; may be given again',
      gather,
      [],
    )
    .option('--out <file>', 'where the frames that come out are written, in candump format; - for standard output')
    .option('--out-wires <file>', 'where the levels that come out are written, as CSV; - for standard output')
    .option('--module <id>', 'only what this interface module does')
    .option('--build <choices>', 'the build, or the first that fits: option=choice, several with commas', choicesOf)
    .addOption(formatOption())
    .addHelpText(
      'after',
      `
Logs are read together by time and must be on one clock. A level stands until the next one of its wire:
  time_s,wire,value
  12.045000,host:fuel-sender,182.5 Ohm
  12.100000,host:tow-button,active

Exit codes: 0 all was replayed, 1 lines were left out or routes cannot be run, 2 unusable input, 130 stopped by Ctrl-C.

Example:
  crossloom replay sample-maps/ft6-orrin32.map.json --log sample-maps/logs/drive.log --wires sample-maps/logs/drive-wires.csv --out out.log`,
    )
    .action((file: string, options: Options) => run(file, options, terminal));
}
