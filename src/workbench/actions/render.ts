import type { HostEvent, HostOutput, SpecRequest } from '../../host/interface/contract.ts';
import type { WorkbenchStore } from '../state/store.ts';
import { textsOf } from './open.ts';
import { baseOf } from './reviewing.ts';

export type RenderedFiles = HostOutput<'renderSpec'>['files'];

export interface WantedDocument {
  readonly spec: string;
  readonly format: SpecRequest['format'];
  readonly build: Readonly<Record<string, string>> | null;
}

/** Asks the machine for a document of the pairing as it stands in the window. */
export async function renderDocument(store: WorkbenchStore, wanted: WantedDocument): Promise<RenderedFiles> {
  const request = requestOf(store, wanted);
  if (!request) return [];
  const { files } = await store.getState().host.call('renderSpec', request);
  return files;
}

/** A review record is compared with the earlier revision that the window holds. */
function requestOf(store: WorkbenchStore, { spec, format, build }: WantedDocument): SpecRequest | null {
  const { open } = store.getState();
  if (!open) return null;
  const base = spec === 'review' ? baseOf(store) : null;
  return {
    ...textsOf(open.history.documents),
    spec,
    format,
    ...(build ? { build: { ...build } } : {}),
    ...(base ? { base: textsOf(base.documents) } : {}),
  };
}

let lastJob = 0;

/**
 * The same for a document that may take long: how far it is stands in `rendering`, and `cancelRendering` calls it off. Null when it was
 * called off. One at a time.
 */
export async function renderFollowed(
  store: WorkbenchStore,
  title: string,
  wanted: WantedDocument,
): Promise<RenderedFiles | null> {
  const request = requestOf(store, wanted);
  if (!request) return [];
  lastJob += 1;
  const job = `${Date.now().toString(36)}-${lastJob}`;
  store.setState({ rendering: { job, title, progress: null } });
  try {
    const answer = await store.getState().host.call('renderSpec', { ...request, job });
    return answer.cancelled === true ? null : answer.files;
  } finally {
    if (store.getState().rendering?.job === job) store.setState({ rendering: null });
  }
}

/** Takes over what the machine tells about the document under way. */
export function showRendering(store: WorkbenchStore, event: Extract<HostEvent, { kind: 'render-progress' }>): void {
  const { rendering } = store.getState();
  if (rendering?.job !== event.job) return;
  const { doing, done, total } = event;
  store.setState({ rendering: { ...rendering, progress: { doing, done, total } } });
}

/** Calls the document under way off. */
export async function cancelRendering(store: WorkbenchStore): Promise<void> {
  const { host, rendering } = store.getState();
  if (rendering) await host.call('cancelRender', { job: rendering.job });
}
