import type { HostOutput, SpecRequest } from '../../../host/interface/contract.ts';
import { notify } from '../../actions/notices.ts';
import { textsOf } from '../../actions/open.ts';
import { baseOf } from '../../actions/reviewing.ts';
import type { WorkbenchStore } from '../../state/store.ts';

type Files = HostOutput<'renderSpec'>['files'];

/** Asks the machine for a document of the pairing as it stands in the window. */
export async function renderSpec(
  store: WorkbenchStore,
  spec: string,
  format: SpecRequest['format'],
  build: Readonly<Record<string, string>> | null,
): Promise<Files> {
  const { host, open } = store.getState();
  if (!open) return [];
  const base = spec === 'review' ? baseOf(store) : null;
  const { files } = await host.call('renderSpec', {
    ...textsOf(open.history.documents),
    spec,
    format,
    ...(build ? { build } : {}),
    ...(base ? { base: textsOf(base.documents) } : {}),
  });
  return files;
}

export function bytesOf(base64: string): Uint8Array<ArrayBuffer> {
  return Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
}

/** Gives finished files to the user: into a folder chosen in a native dialog, or as downloads of the browser. */
export async function handOut(store: WorkbenchStore, files: Files): Promise<void> {
  const { session, host } = store.getState();
  if (session?.shell === 'electron') {
    const answer = await host.call('chooseFile', { purpose: 'save-export' });
    if (!answer.native || answer.path === null) return;
    const { written } = await host.call('writeFiles', { folder: answer.path, files: [...files] });
    notify(store, 'good', `Wrote ${written.length} ${written.length === 1 ? 'file' : 'files'}`, written);
    return;
  }
  for (const { name, base64 } of files) {
    const url = URL.createObjectURL(new Blob([bytesOf(base64)]));
    const link = document.createElement('a');
    link.href = url;
    link.download = name;
    link.click();
    setTimeout(() => URL.revokeObjectURL(url), 10_000);
  }
  notify(
    store,
    'good',
    `${files.length} ${files.length === 1 ? 'file goes' : 'files go'} to the downloads`,
    files.map(({ name }) => name),
  );
}
