import type { Finding } from '../../checks/index.ts';
import { findFunction, type PairingDocuments, type SideName } from '../../model/index.ts';
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
      route.title ?? findFunction(route.function)?.title ?? route.id,
      'loom',
      `${route.from.join(' ')} ${route.to} ${route.function ?? ''}`,
    );
  for (const owner of documents.map.interfaceModules) {
    add('interface module', owner.id, owner.title, 'loom', owner.part ?? '');
    for (const pin of owner.pins) add('pin', `${owner.id}.${pin.id}`, pin.title ?? pin.id, 'loom');
  }
  const { harness } = documents.map;
  for (const { id, of, label } of harness?.circuits ?? []) add('circuit', `circuit:${id}`, label ?? id, 'harness', of);
  for (const { id, title, part } of harness?.connectors ?? [])
    add('added connector', `connector:${id}`, title, 'harness', part ?? '');
  for (const { id, title, part } of harness?.parts ?? [])
    add('harness part', `part:${id}`, title, 'harness', part ?? '');
  for (const { id, title, connector } of harness?.nodes ?? [])
    add('harness node', `node:${id}`, title ?? id, 'harness', connector ?? '');
  for (const id of new Set(documents.map.routes.flatMap((route) => route.function ?? [])))
    add('function', `function:${id}`, findFunction(id)?.title ?? id, 'loom');
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
    for (const bus of platform.buses) add('bus', `bus:${side}:${bus.id}`, bus.title ?? bus.id, 'platforms');
    for (const wire of platform.wires) add('wire', `${side}:${wire.id}`, wire.title, 'platforms', wire.function ?? '');
    for (const connector of platform.connectors)
      add('connector', `connector:${side}:${connector.id}`, connector.title, 'platforms');
    for (const feed of platform.feeds) add('feed', `feed:${side}:${feed.id}`, feed.title ?? feed.id, 'platforms');
    for (const ground of platform.grounds)
      add('ground', `ground:${side}:${ground.id}`, ground.title ?? ground.id, 'platforms');
  }
  indexes.set(documents, list);
  return list;
}

/** What has all the words of the query in its name, references or function; what is named just so comes first, then names that begin with it. */
export function findAnywhere(documents: PairingDocuments, query: string, limit: number): readonly Found[] {
  const words = query.toLowerCase().split(/\s+/).filter(Boolean);
  if (words.length === 0) return [];
  const hits = indexOf(documents).filter(({ key }) => words.every((word) => key.includes(word)));
  const asked = words.join(' ');
  const rank = ({ title, subject }: Found): number => {
    const ref = subject.toLowerCase();
    if (ref === asked || title.toLowerCase() === asked || ref.endsWith(`:${asked}`) || ref.endsWith(`.${asked}`))
      return 0;
    return title.toLowerCase().startsWith(words[0]!) ? 1 : 2;
  };
  return hits.sort((a, b) => rank(a) - rank(b) || a.title.length - b.title.length).slice(0, limit);
}

/** Findings that have all the words of the query in their rule, subject or message. */
export function findFindings(findings: readonly Finding[], query: string, limit: number): readonly Finding[] {
  const words = query.toLowerCase().split(/\s+/).filter(Boolean);
  if (words.length === 0 || limit <= 0) return [];
  const fits = ({ rule, subject, message }: Finding): boolean => {
    const text = `${rule} ${subject} ${message}`.toLowerCase();
    return words.every((word) => text.includes(word));
  };
  return findings.filter(fits).slice(0, limit);
}
