import type { Endpoint } from '../../model/index.ts';

/** The name of an end, and how it stands in its frame or on its conductor. */
export function EndHead({ endpoint, reference }: { readonly endpoint: Endpoint | null; readonly reference: string }) {
  return (
    <header className="stage-head">
      <span className="mono" title={reference}>
        {nameOf(endpoint, reference)}
      </span>
      <span className="soft">{factsOf(endpoint)}</span>
    </header>
  );
}

function nameOf(endpoint: Endpoint | null, reference: string): string {
  switch (endpoint?.kind) {
    case 'signal':
      return `${endpoint.message.id}.${endpoint.signal.id}`;
    case 'message':
      return endpoint.message.id;
    case 'wire':
      return endpoint.wire.title;
    case undefined:
      return reference;
  }
}

function factsOf(endpoint: Endpoint | null): string {
  if (!endpoint) return 'names nothing';
  if (endpoint.kind === 'wire') {
    const { electrical, at } = endpoint.wire;
    return `${endpoint.side} wire · ${electrical.class}${at ? ` · ${at.connector}-${at.cavity}` : ''}`;
  }
  const { frameId, cycleMs } = endpoint.message;
  return `${endpoint.side} · ${frameId}${cycleMs === undefined ? '' : ` · every ${cycleMs} ms`}`;
}
