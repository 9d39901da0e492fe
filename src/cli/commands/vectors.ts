import type { Command } from 'commander';
import { mkdir } from 'node:fs/promises';
import { dirname, resolve } from 'node:path';
import { check } from '../../checks/index.ts';
import {
  UnknownBuildError,
  buildScope,
  fileNamePart,
  freeName,
  renderDocument,
  vectorsDocument,
} from '../../export/index.ts';
import { UnusableInput, confine, loadPairing, loadPdfFonts, reasonOf, writeAtomically } from '../../host/index.ts';
import { mapDigest, type Combination, type Pairing } from '../../model/index.ts';
import {
  WIRE_LOG_HEADER,
  busNames,
  combinationOf,
  createEngineCheck,
  createVectorMaker,
  frameLogWriter,
  stimulusOf,
  wireLogWriter,
  type RouteVectors,
  type UnmetVector,
  type Vector,
} from '../../translate/index.ts';
import { choicesOf } from '../build-choice.ts';
import { formatOption, jsonText } from '../formats.ts';
import type { Terminal } from '../terminal.ts';
import { VERSION } from '../version.ts';

interface Options {
  readonly out: string;
  readonly module?: string;
  readonly route: readonly string[];
  readonly build?: Readonly<Record<string, string>>;
  readonly format: string;
}

/** Names of the logs of one vector, from the folder of `vectors.json`. */
interface LogNames {
  readonly frames: string | null;
  readonly wires: string | null;
}

async function run(mapFile: string, options: Options, terminal: Terminal): Promise<void> {
  const { pairing } = await loadPairing(resolve(terminal.cwd, mapFile));
  const maker = createVectorMaker(pairing, {
    combinations: buildsFor(pairing, options),
    ...wanted(pairing, options),
  });
  if (maker.routes.length === 0) throw new UnusableInput('no route of the map is asked for');
  const made = maker.routes.map((route) => maker.make(route));
  const unmet = playedOnEngine(pairing, made);
  const file = maker.file(made);
  const names = logNames(made);
  const out = await folderAt(resolve(terminal.cwd, options.out));
  const written: string[] = [];
  const write = async (name: string, content: string | Uint8Array): Promise<void> => {
    const path = await confine(out, name);
    await mkdir(dirname(path), { recursive: true });
    await writeAtomically(path, content);
    written.push(name);
  };
  for (const { route, vectors } of made) {
    for (const vector of vectors) await writeLogs(pairing, vector, names.get(keyOf(route, vector.id))!, write);
  }
  const issue = {
    today: terminal.today,
    version: VERSION,
    digest: mapDigest(pairing.map),
    ...(options.build ? { build: options.build } : {}),
  };
  const { findings } = check(pairing);
  const document = vectorsDocument(
    pairing,
    findings,
    file,
    issue,
    (route, vector) => names.get(keyOf(route, vector))!.frames,
  );
  const { files } = await renderDocument(document, 'html', { pdfFonts: loadPdfFonts });
  for (const { bytes } of files) await write('vectors.html', bytes);
  await write('vectors.json', `${JSON.stringify(file)}\n`);
  report(made, unmet, written, options, terminal);
}

/** The builds that `--build` leaves. */
function buildsFor(pairing: Pairing, { build }: Options): readonly Combination[] {
  try {
    buildScope(pairing, build);
  } catch (error) {
    if (error instanceof UnknownBuildError) throw new UnusableInput(error.message);
    throw error;
  }
  const choices = Object.entries(build ?? {});
  return pairing.options.combinations.filter((combination) =>
    choices.every(([axis, choice]) => combination.get(axis) === choice),
  );
}

function wanted(pairing: Pairing, { route, module }: Options): { routes?: readonly string[]; module?: string } {
  const unknown = route.find((id) => !pairing.routes.has(id));
  if (unknown !== undefined)
    throw new UnusableInput(`the map has no route "${unknown}"; crossloom needs lists what is met by which`);
  if (module !== undefined && !pairing.interfaceModules.has(module))
    throw new UnusableInput(
      `the map has no interface module "${module}"; it has: ${[...pairing.interfaceModules.keys()].join(', ') || 'none'}`,
    );
  return { ...(route.length === 0 ? {} : { routes: route }), ...(module === undefined ? {} : { module }) };
}

/** Plays every vector through the replay engine before anybody builds on it. */
function playedOnEngine(pairing: Pairing, made: readonly RouteVectors[]): readonly UnmetVector[] {
  const engines = new Map<string, ReturnType<typeof createEngineCheck>>();
  return made.flatMap((route) => {
    const key = JSON.stringify(route.build);
    const engine =
      engines.get(key) ??
      createEngineCheck(pairing, combinationOf(route), (parameters, body) => new Function(...parameters, body));
    engines.set(key, engine);
    return route.vectors.flatMap((vector) => engine.play(route.route, vector));
  });
}

const keyOf = (route: string, vector: string): string => `${route}\n${vector}`;

function logNames(made: readonly RouteVectors[]): ReadonlyMap<string, LogNames> {
  const folders = new Map<string, number>();
  const names = new Map<string, LogNames>();
  for (const { route, vectors } of made) {
    const folder = freeName(fileNamePart(route), folders);
    for (const { id, send, levels } of vectors) {
      names.set(keyOf(route, id), {
        frames: send.length === 0 ? null : `logs/${folder}/${id}.log`,
        wires: levels.length === 0 ? null : `logs/${folder}/${id}-wires.csv`,
      });
    }
  }
  return names;
}

async function folderAt(path: string): Promise<string> {
  try {
    await mkdir(path, { recursive: true });
  } catch (error) {
    throw new UnusableInput(`cannot make the folder ${path}: ${reasonOf(error)}`);
  }
  return path;
}

async function writeLogs(
  pairing: Pairing,
  vector: Vector,
  { frames, wires }: LogNames,
  write: (name: string, content: string) => Promise<void>,
): Promise<void> {
  const frameLine = frameLogWriter(busNames(pairing));
  const levelLine = wireLogWriter(pairing);
  let log = '';
  let levels = WIRE_LOG_HEADER;
  for (const event of stimulusOf(vector)) {
    if (event.kind === 'frame') log += frameLine(event.frame);
    else levels += levelLine(event);
  }
  if (frames !== null) await write(frames, log);
  if (wires !== null) await write(wires, levels);
}

const MOST_LISTED = 20;

function report(
  made: readonly RouteVectors[],
  unmet: readonly UnmetVector[],
  written: readonly string[],
  options: Options,
  terminal: Terminal,
): void {
  const vectors = made.reduce((sum, route) => sum + route.vectors.length, 0);
  const shown = made.filter((route) => route.vectors.length > 0).length;
  const leftOut = made.flatMap(({ route, leftOut: list }) => list.map((entry) => ({ route, ...entry })));
  if (options.format === 'json') {
    terminal.out(
      jsonText({ folder: options.out, routes: made.length, shown, vectors, files: written.length, unmet, leftOut }),
    );
  } else {
    terminal.out(
      `${vectors} vectors of ${shown} ${shown === 1 ? 'route' : 'routes'} in ${options.out}: vectors.html to read, vectors.json and ${written.length - 2} logs to play\n`,
    );
    terminal.out(
      unmet.length === 0
        ? `all ${vectors} are met by the replay engine\n`
        : `${unmet.length} expectations are NOT met by the replay engine: do not use these\n`,
    );
    const whole = new Set(leftOut.filter(({ what }) => what === 'all').map(({ route }) => route));
    if (leftOut.length > 0)
      terminal.out(
        `not shown: ${whole.size} ${whole.size === 1 ? 'route' : 'routes'} and ${leftOut.length - whole.size} single cases; vectors.html says why\n`,
      );
  }
  for (const { route, vector, seen } of unmet.slice(0, MOST_LISTED)) terminal.err(`${route} ${vector}: ${seen}\n`);
  if (unmet.length > MOST_LISTED) terminal.err(`and ${unmet.length - MOST_LISTED} more\n`);
  terminal.setExitCode(unmet.length === 0 ? 0 : 1);
}

const gather = (value: string, before: readonly string[]): readonly string[] => [...before, value];

/** `crossloom vectors MAP`: what a bench sends to an interface module, and what must come of it. */
export function addVectors(program: Command, terminal: Terminal): void {
  program
    .command('vectors')
    .description('write test vectors: frames in and frames out for every route, to read and for a bench to play')
    .argument('<map>', 'a *.map.json file')
    .option('--out <folder>', 'where to write', 'vectors')
    .option('--module <id>', 'only routes that this interface module carries')
    .option('--route <id>', 'only this route; may be given again', gather, [])
    .option('--build <choices>', 'builds that fit: option=choice, several with commas', choicesOf)
    .addOption(formatOption())
    .addHelpText(
      'after',
      `
Every vector is whole in itself: it makes all sources of the message valid, then shows the case. vectors.json is described by
schemas/vectors.schema.json; the logs are in candump format, wire levels beside them as CSV. Before anything is written, every
vector is played through the replay engine.

Exit codes: 0 written, 1 written but some are not met by the replay engine, 2 unusable input.

Example:
  crossloom vectors sample-maps/ft6-orrin32.map.json --out vectors --route engine-speed`,
    )
    .action((file: string, options: Options) => run(file, options, terminal));
}
