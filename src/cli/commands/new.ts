import type { Command } from 'commander';
import { existsSync } from 'node:fs';
import { dirname, relative, resolve, sep } from 'node:path';
import { UnusableInput, loadPlatform, writeAtomically } from '../../host/index.ts';
import { isId, writeMap, writePlatform, type CrossloomMap, type Platform } from '../../model/index.ts';
import type { Terminal } from '../terminal.ts';

function idFrom(path: string, ending: string): string {
  const name = path.split(/[\\/]/).pop() ?? '';
  const id = name.endsWith(ending) ? name.slice(0, -ending.length) : name;
  if (!isId(id))
    throw new UnusableInput(
      `"${name}" gives no id; name the file with letters, digits, "-" or "_", e.g. my-chassis${ending}`,
    );
  return id;
}

function refuseExisting(path: string): void {
  if (existsSync(path)) throw new UnusableInput(`${path} exists already; nothing was written`);
}

function ending(path: string, wanted: string): string {
  return path.endsWith(wanted) ? path : `${path}${wanted}`;
}

function emptyPlatform(id: string, title: string): Platform {
  return {
    $schema: '../schemas/platform.schema.json',
    format: 'crossloom-platform',
    version: 1,
    id,
    title,
    documents: [],
    buses: [],
    modules: [],
    messages: [],
    wires: [],
    connectors: [],
    feeds: [],
    grounds: [],
  };
}

async function newPlatform(file: string, options: { title?: string }, terminal: Terminal): Promise<void> {
  const path = resolve(terminal.cwd, ending(file, '.platform.json'));
  refuseExisting(path);
  const id = idFrom(path, '.platform.json');
  await writeAtomically(path, writePlatform(emptyPlatform(id, options.title ?? id)));
  terminal.out(
    `wrote ${path}\nnext: crossloom import-dbc FILE.dbc --into ${ending(file, '.platform.json')} --bus BUS\n`,
  );
}

interface NewMapOptions {
  readonly host: string;
  readonly donor: string;
  readonly title?: string;
}

async function newMap(file: string, options: NewMapOptions, terminal: Terminal): Promise<void> {
  const path = resolve(terminal.cwd, ending(file, '.map.json'));
  refuseExisting(path);
  const id = idFrom(path, '.map.json');
  const link = (platform: string): string =>
    relative(dirname(path), resolve(terminal.cwd, platform)).split(sep).join('/');
  const [host, donor] = [
    await loadPlatform(resolve(terminal.cwd, options.host)),
    await loadPlatform(resolve(terminal.cwd, options.donor)),
  ];
  const map: CrossloomMap = {
    $schema: '../schemas/map.schema.json',
    format: 'crossloom-map',
    version: 1,
    id,
    title: options.title ?? `${donor.title} in ${host.title}`,
    revision: 'A',
    host: { platform: link(options.host) },
    donor: { platform: link(options.donor) },
    fates: {},
    interfaceModules: [],
    transmits: [],
    routes: [],
  };
  await writeAtomically(path, writeMap(map));
  terminal.out(
    `wrote ${path}\nnext: mark the fates of removed modules in it ("fates": { "host:ecm": "removed" }), then crossloom needs ${ending(file, '.map.json')}\n`,
  );
}

/** `crossloom new platform FILE` and `crossloom new map FILE --host … --donor …`. */
export function addNew(program: Command, terminal: Terminal): void {
  const command = program.command('new').description('start a platform or a map document');
  command
    .command('platform')
    .description('start an empty platform document')
    .argument('<file>', 'where to write it: NAME.platform.json')
    .option('--title <title>', 'what people call it')
    .action((file: string, options: { title?: string }) => newPlatform(file, options, terminal));
  command
    .command('map')
    .description('start a map which joins two platforms')
    .argument('<file>', 'where to write it: NAME.map.json')
    .requiredOption('--host <file>', 'platform of the chassis that stays')
    .requiredOption('--donor <file>', 'platform that the powertrain comes from')
    .option('--title <title>', 'what people call the pairing')
    .action((file: string, options: NewMapOptions) => newMap(file, options, terminal));
}
