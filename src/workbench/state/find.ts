import type { PairingDocuments, SideName } from '../../model/index.ts';
import type { PlaceId } from '../places/index.ts';

/** Something in the documents with a name. */
export interface Found {
  readonly kind: string;
  readonly subject: string;
  readonly title: string;
  readonly place: PlaceId;
}

const indexes = new WeakMap<PairingDocuments, readonly (Found & { readonly key: string })[]>();

function indexOf(documents: PairingDocuments): readonly (Found & { readonly key: string })[] {
  const known = indexes.get(documents);
  if (known) return known;
  const list: (Found & { key: string })[] = [];
  const add = (kind: string, subject: string, title: string, place: PlaceId, extra = ''): void => {
    list.push({ kind, subject, title, place, key: `${subject} ${title} ${extra}`.toLowerCase() });
  };
  for (const route of documents.map.routes)
    add(
      'route',
      `route:${route.id}`,
      route.title ?? route.id,
      'loom',
      `${route.from.join(' ')} ${route.to} ${route.function ?? ''}`,
    );
  for (const side of ['host', 'donor'] as const satisfies readonly SideName[]) {
    const platform = documents[side];
    for (const module of platform.modules) add('module', `module:${side}:${module.id}`, module.title, 'platforms');
    for (const message of platform.messages) {
      add('message', `${side}:${message.id}`, message.title ?? message.id, 'platforms', message.frameId);
      for (const signal of message.signals)
        add(
          'signal',
          `${side}:${message.id}.${signal.id}`,
          signal.title ?? signal.id,
          'platforms',
          signal.function ?? '',
        );
    }
    for (const wire of platform.wires) add('wire', `${side}:${wire.id}`, wire.title, 'platforms', wire.function ?? '');
    for (const connector of platform.connectors)
      add('connector', `connector:${side}:${connector.id}`, connector.title, 'platforms');
  }
  indexes.set(documents, list);
  return list;
}

/** What has all the words of the query in its name, references or function; names that begin with it come first. */
export function findAnywhere(documents: PairingDocuments, query: string, limit: number): readonly Found[] {
  const words = query.toLowerCase().split(/\s+/).filter(Boolean);
  if (words.length === 0) return [];
  const hits = indexOf(documents).filter(({ key }) => words.every((word) => key.includes(word)));
  const begins = ({ title }: Found): number => (title.toLowerCase().startsWith(words[0]!) ? 0 : 1);
  return hits.sort((a, b) => begins(a) - begins(b) || a.title.length - b.title.length).slice(0, limit);
}
