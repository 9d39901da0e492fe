import { HostError } from '../../host/interface/contract.ts';
import type { WorkbenchStore } from '../state/store.ts';
import type { DbcAnswer, DbcReading, DbcRequest } from '../worker/dbc-protocol.ts';
import { chooseFile } from './ask.ts';
import { beginTask } from './tasks.ts';

/** A file's name and content, wherever it came from. */
export interface NamedBytes {
  readonly name: string;
  readonly bytes: Uint8Array<ArrayBuffer>;
}

/** Text in Base64 as bytes. */
export function bytesOfBase64(base64: string): Uint8Array<ArrayBuffer> {
  return Uint8Array.from(atob(base64), (character) => character.charCodeAt(0));
}

/** Lets the user choose a DBC file and reads its bytes; null when nothing is chosen. */
export async function chooseDbc(store: WorkbenchStore): Promise<NamedBytes | null> {
  const path = await chooseFile(store, 'open-dbc');
  if (path === null) return null;
  const { base64 } = await store.getState().host.call('readBytes', { path });
  return { name: path.split(/[\\/]/).at(-1)!, bytes: bytesOfBase64(base64) };
}

/**
 * Reads a DBC file off the window's thread, with progress and a way to stop it (null then).
 * @throws HostError when the file holds nothing a DBC file holds.
 */
export async function readDbcFile(
  store: WorkbenchStore,
  { name, bytes }: NamedBytes,
  busId: string,
): Promise<DbcReading | null> {
  const worker = new Worker(new URL('../worker/dbc.worker.ts', import.meta.url), { type: 'module' });
  let stop: () => void = () => undefined;
  const task = beginTask(store, `Reading ${name}`, () => stop());
  try {
    const reading = await new Promise<DbcReading | null>((resolve, reject) => {
      stop = () => resolve(null);
      worker.onerror = (event) => reject(new HostError(`${name} could not be read: ${event.message}`));
      worker.onmessage = ({ data }: MessageEvent<DbcAnswer>) => {
        if (data.kind === 'progress') task.progress(data.fraction);
        else if (data.kind === 'read') resolve(data.reading);
        else reject(new HostError(`${name} could not be read: ${data.message}`));
      };
      const request: DbcRequest = { bytes, busId };
      worker.postMessage(request);
    });
    if (reading !== null && reading.messages === 0 && reading.nodes === 0)
      throw new HostError(
        `${name} holds no message and no node: it does not look like a DBC file`,
        reading.faults
          .slice(0, 20)
          .map(({ line, column, message, mend }) => `${name}:${line}:${column}: ${message} ${mend}`),
      );
    return reading;
  } finally {
    worker.terminate();
    task.end();
  }
}
