import { notify } from '../../actions/notices.ts';
import type { RenderedFiles } from '../../actions/render.ts';
import type { WorkbenchStore } from '../../state/store.ts';

export function bytesOf(base64: string): Uint8Array<ArrayBuffer> {
  return Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
}

/** Gives finished files to the user: into a folder chosen in a native dialog, or as downloads of the browser. */
export async function handOut(store: WorkbenchStore, files: RenderedFiles): Promise<void> {
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
