import type { OpenPairing, WorkbenchStore } from '../state/store.ts';
import type { WorkerAnswer, WorkerRequest } from '../worker/protocol.ts';

/** Keeps the findings in step with the documents, off the window's own thread. Gives a function that stops it. */
export function keepChecked(store: WorkbenchStore, createWorker: () => Worker): () => void {
  const worker = createWorker();
  let version = 0;
  let busy = false;
  let sent: OpenPairing | null = null;

  const send = (open: OpenPairing): void => {
    const { documents } = open.history;
    const before = sent?.serial === open.serial ? sent.history.documents : null;
    version += 1;
    busy = true;
    sent = open;
    const request: WorkerRequest = {
      kind: 'check',
      version,
      map: documents.map,
      host: before?.host === documents.host ? null : documents.host,
      donor: before?.donor === documents.donor ? null : documents.donor,
    };
    worker.postMessage(request);
  };

  const look = (): void => {
    const { open, checked } = store.getState();
    if (!open) {
      sent = null;
      return;
    }
    if (sent?.serial === open.serial && sent.history.documents === open.history.documents) return;
    if (checked && !checked.stale) store.setState({ checked: { ...checked, stale: true } });
    if (!busy) send(open);
  };

  worker.onmessage = ({ data }: MessageEvent<WorkerAnswer>) => {
    if (data.version !== version) return;
    busy = false;
    const { open } = store.getState();
    const current =
      open !== null &&
      sent !== null &&
      open.serial === sent.serial &&
      open.history.documents === sent.history.documents;
    if (open !== null && open.serial === sent?.serial) {
      const answer =
        data.kind === 'checked'
          ? { findings: data.findings, counts: data.counts, elapsedMs: data.elapsedMs, failure: null }
          : { findings: [], counts: { stop: 0, fix: 0, look: 0, waived: 0 }, elapsedMs: 0, failure: data.message };
      store.setState({ checked: { version: data.version, stale: !current, ...answer } });
    }
    if (!current) look();
  };

  const unsubscribe = store.subscribe((state, before) => {
    if (state.open !== before.open) look();
  });
  look();
  return () => {
    unsubscribe();
    worker.terminate();
  };
}
