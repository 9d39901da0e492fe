import { HostError } from '../../../../host/interface/contract.ts';
import { readPlatform, type SideName } from '../../../../model/index.ts';
import { chooseFile } from '../../../actions/ask.ts';
import { attempt } from '../../../actions/notices.ts';
import { documentOf } from '../../../actions/open.ts';
import { chooseDbc, readDbcFile, type NamedBytes } from '../../../actions/read-dbc.ts';
import { placeMemory } from '../../../parts/place-memory.ts';
import type { WorkbenchStore } from '../../../state/store.ts';
import { EMPTY_DRAFT, busFromFile, type DbcSource, type PairingDraft, type SideDraft } from './draft.ts';

/** The draft of a new pairing that this window holds. */
export function draftMemory(store: WorkbenchStore) {
  return placeMemory<PairingDraft>(store, 'new-pairing', () => EMPTY_DRAFT);
}

export function changeSide(store: WorkbenchStore, side: SideName, change: Partial<SideDraft>): void {
  draftMemory(store).setState((draft) => ({ [side]: { ...draft[side], ...change } }));
}

let lastKey = 0;

/** Reads a DBC file into one side of the draft. */
export async function addDbc(store: WorkbenchStore, side: SideName, file: NamedBytes): Promise<void> {
  await attempt(store, `${file.name} was not taken over`, async () => {
    const draft = draftMemory(store).getState()[side];
    const bus = freeBus(draft, busFromFile(file.name));
    const reading = await readDbcFile(store, file, bus);
    if (reading === null) return;
    lastKey += 1;
    const bitRate = draft.file?.platform.buses.find(({ id }) => id === bus)?.bitRate ?? 500_000;
    const source: DbcSource = { key: lastKey, file: file.name, bus, bitRate, reading };
    const now = draftMemory(store).getState()[side];
    changeSide(store, side, { sources: [...now.sources, source] });
  });
}

/** Two files of one side describe two buses unless the user says otherwise. */
function freeBus({ sources }: SideDraft, wanted: string): string {
  let bus = wanted;
  for (let count = 2; sources.some((source) => source.bus === bus); count += 1) bus = `${wanted}-${count}`;
  return bus;
}

export async function chooseDbcFor(store: WorkbenchStore, side: SideName): Promise<void> {
  const file = await attempt(store, 'The DBC file was not read', () => chooseDbc(store));
  if (file) await addDbc(store, side, file);
}

export async function choosePlatformFor(store: WorkbenchStore, side: SideName): Promise<void> {
  await attempt(store, 'The platform was not taken over', async () => {
    const path = await chooseFile(store, 'open-platform');
    if (path === null) return;
    const { text, sha256 } = await store.getState().host.call('readText', { path });
    const other = draftMemory(store).getState()[side === 'host' ? 'donor' : 'host'].file;
    if (other?.path === path)
      throw new HostError(
        `${path} is the other side already: a pairing joins two vehicles, each with its own platform`,
      );
    changeSide(store, side, { file: { path, sha256, platform: documentOf(path, readPlatform(text)) } });
  });
}
