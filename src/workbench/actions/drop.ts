import { mergeImport } from '../../can/index.ts';
import { HostError } from '../../host/interface/contract.ts';
import { readPlatform, sha256Hex, type Bus, type Edit, type SideName } from '../../model/index.ts';
import { isLogName, replayFiles } from '../places/bench/logs.ts';
import { addDbc, changeSide } from '../places/start/new-pairing/adding.ts';
import { busFromFile } from '../places/start/new-pairing/draft.ts';
import type { WorkbenchStore } from '../state/store.ts';
import { ask } from './ask.ts';
import { change } from './change.ts';
import { runCommand } from './commands.ts';
import { goTo } from './navigate.ts';
import { attempt, notify } from './notices.ts';
import { documentOf, openMap } from './open.ts';
import { readDbcFile, type NamedBytes } from './read-dbc.ts';

/** Folders looked through for a dropped file at most. */
const MAX_FOLDERS = 300;

/** Takes files that were dropped on the window; `side` when they fell on one side of a new pairing. */
export async function takeDropped(store: WorkbenchStore, files: readonly File[], side: SideName | null): Promise<void> {
  const logs = store.getState().open === null ? [] : files.filter(({ name }) => isLogName(name));
  if (logs.length > 0) {
    // Logs that are dropped together were recorded together.
    goTo(store, 'bench');
    replayFiles(store, logs);
  }
  for (const file of files.filter((each) => !logs.includes(each)))
    await attempt(store, `${file.name} was not taken over`, () => takeOne(store, file, side));
}

async function takeOne(store: WorkbenchStore, file: File, side: SideName | null): Promise<void> {
  if (file.name.endsWith('.map.json')) return takeMap(store, file);
  if (file.name.endsWith('.platform.json')) return takePlatform(store, file, side);
  if (/\.dbc$/i.test(file.name)) return takeDbc(store, file, side);
  if (isLogName(file.name)) throw new HostError('open a map first: a log is replayed through it');
  throw new HostError('drop a *.map.json, a *.platform.json, a *.dbc file, or a log (*.log, *.csv)');
}

/** Where a dropped file lies: the shell knows, or a file of that name and content is found in the opened folder. */
async function locate(store: WorkbenchStore, file: File, text: string): Promise<string | null> {
  const known = window.crossloom?.pathOf?.(file);
  if (known !== undefined && known !== '') return known;
  const { host } = store.getState();
  const wanted = sha256Hex(text);
  const folders = ['.'];
  for (let looked = 0; looked < folders.length && looked < MAX_FOLDERS; looked += 1) {
    const { entries } = await host.call('listFolder', { folder: folders[looked]! });
    for (const entry of entries) {
      if (entry.kind === 'folder') folders.push(entry.path);
      else if (entry.name === file.name && (await host.call('readText', { path: entry.path })).sha256 === wanted)
        return entry.path;
    }
  }
  return null;
}

async function takeMap(store: WorkbenchStore, file: File): Promise<void> {
  const path = await locate(store, file, await file.text());
  if (path === null)
    throw new HostError(
      'it does not lie in the folder that this window may reach: start crossloom serve with its folder, or put it and its platforms there',
    );
  await openMap(store, path);
}

async function takePlatform(store: WorkbenchStore, file: File, fell: SideName | null): Promise<void> {
  const text = await file.text();
  const platform = documentOf(file.name, readPlatform(text));
  const side = fell ?? (await askSide(store, file.name));
  if (side === null) return;
  const path = await locate(store, file, text);
  await runCommand(store, 'new-pairing');
  changeSide(store, side, {
    file: path === null ? { path: file.name, sha256: null, platform } : { path, sha256: sha256Hex(text), platform },
  });
}

async function takeDbc(store: WorkbenchStore, file: File, fell: SideName | null): Promise<void> {
  const named: NamedBytes = { name: file.name, bytes: new Uint8Array(await file.arrayBuffer()) };
  const { open } = store.getState();
  if (fell === null && open !== null) {
    const { host, donor } = open.history.documents;
    const choice = await ask(store, `Read ${file.name}`, 'Which platform does it describe?', [
      { id: 'host', label: `Host: ${host.title}` },
      { id: 'donor', label: `Donor: ${donor.title}` },
      { id: 'new', label: 'A new pairing' },
    ]);
    if (choice === 'host' || choice === 'donor') return importInto(store, choice, named);
    if (choice === null) return;
  }
  const side = fell ?? (await askSide(store, file.name));
  if (side === null) return;
  await runCommand(store, 'new-pairing');
  await addDbc(store, side, named);
}

async function askSide(store: WorkbenchStore, name: string): Promise<SideName | null> {
  const choice = await ask(store, `Take ${name}`, 'Which side of the new pairing does it describe?', [
    { id: 'host', label: 'Host: the chassis that stays' },
    { id: 'donor', label: 'Donor: where the powertrain comes from' },
  ]);
  return choice === 'host' || choice === 'donor' ? choice : null;
}

/** Merges a DBC file into a platform of the open pairing, as one change. */
async function importInto(store: WorkbenchStore, side: SideName, file: NamedBytes): Promise<void> {
  const platform = store.getState().open!.history.documents[side];
  const bus = await askBus(store, side, file.name);
  if (bus === null) return;
  const reading = await readDbcFile(store, file, bus.id);
  if (reading === null) return;
  const { open, session } = store.getState();
  if (open?.history.documents[side] !== platform || session === null)
    throw new HostError('the platform changed while the file was read: drop it again');
  const isNew = !platform.buses.some(({ id }) => id === bus.id);
  const merged = mergeImport(isNew ? { ...platform, buses: [...platform.buses, bus] } : platform, reading.content, {
    record: { bus: bus.id, file: file.name, sha256: reading.sha256, on: session.today },
    gone: 'keep',
  });
  const of = (kind: string): number => merged.changes.filter((each) => each.kind === kind).length;
  const faults = reading.faults.length + reading.moreFaults;
  const what = `${of('added')} added, ${of('changed')} changed, ${of('renamed')} renamed, ${of('gone')} no longer in the file; ${faults} faults`;
  const choice = await ask(
    store,
    `Read ${file.name} into ${bus.title ?? bus.id} of the ${side}?`,
    `${what}. Platforms, Import DBC shows each change before it is made.`,
    [
      { id: 'take', label: 'Take it over', tone: 'primary' },
      { id: 'leave', label: 'Leave it' },
    ],
  );
  if (choice !== 'take') return;
  if (store.getState().open?.history.documents[side] !== platform)
    throw new HostError('the platform changed meanwhile: drop it again');
  const edit = { do: 'set', in: side, path: [], to: merged.platform } as unknown as Edit;
  if (!change(store, `read ${file.name} into ${side} ${bus.id}`, [edit])) return;
  notify(store, 'good', `Read ${file.name} into ${bus.id} of the ${side}: ${what}`, merged.notes.slice(0, 50));
}

/** The bus a file describes: the one it was read for before, else the one the user says. */
async function askBus(store: WorkbenchStore, side: SideName, file: string): Promise<Bus | null> {
  const platform = store.getState().open!.history.documents[side];
  const before = platform.imports?.find((record) => record.file === file)?.bus;
  const wanted = before ?? busFromFile(file);
  const same = platform.buses.find(({ id }) => id === wanted);
  if (same) return same;
  const fresh: Bus = { id: wanted, kind: 'can', bitRate: 500_000 };
  const choice = await ask(store, `Read ${file}`, `Which bus of ${platform.title} does it describe?`, [
    ...platform.buses.map(({ id, title }) => ({ id, label: title ?? id })),
    { id: `new:${wanted}`, label: `A new bus ${wanted}, 500 kbit/s` },
  ]);
  if (choice === null) return null;
  return platform.buses.find(({ id }) => id === choice) ?? fresh;
}
