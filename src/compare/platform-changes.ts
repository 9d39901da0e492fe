import type { Message, Platform, SideName } from '../model/index.ts';
import type { Change } from './change.ts';
import { differingFields } from './differences.ts';
import { listChanges, type ComparedList, type Entry } from './list-changes.ts';

const PLAIN_KEYS = ['id', 'title', 'years', 'market', 'note', 'imports'] as const;

/** The lists of a platform but its messages, which hold signals. */
function listsOf(prefix: string): readonly (ComparedList & { readonly list: keyof Platform })[] {
  const named =
    (kind: string) =>
    (entry: Entry): string =>
      `${kind}${prefix}${entry['id'] as string}`;
  return [
    { list: 'documents', what: 'document', subjectOf: named('document:') },
    { list: 'buses', what: 'bus', subjectOf: named('bus:') },
    { list: 'modules', what: 'module', subjectOf: named('module:') },
    { list: 'wires', what: 'wire', subjectOf: named(''), likeness: (entry) => entry['at'] ?? null },
    { list: 'connectors', what: 'connector', subjectOf: named('connector:') },
    { list: 'feeds', what: 'feed', subjectOf: named('feed:'), likeness: (entry) => entry['at'] ?? null },
    { list: 'grounds', what: 'ground', subjectOf: named('ground:'), likeness: (entry) => entry['at'] ?? null },
  ];
}

/**
 * What differs between two versions of a platform. Messages are known again by bus and frame id, signals by their bits,
 * wires, feeds and grounds by their cavity. `side` goes in front of the subjects; without, they are the platform's own ids.
 */
export function platformChanges(before: Platform, after: Platform, side: SideName | null): Change[] {
  if (before === after) return [];
  const prefix = side === null ? '' : `${side}:`;
  const subject = side === null ? 'platform' : `platform:${side}`;
  return [
    ...PLAIN_KEYS.flatMap((key): Change[] => {
      const fields = differingFields(before[key], after[key], key);
      return fields.length === 0
        ? []
        : [{ kind: 'changed', what: 'platform', subject, was: null, fields, consequences: [] }];
    }),
    ...listsOf(prefix).flatMap((of) =>
      listChanges(of, (before[of.list] ?? []) as readonly Entry[], (after[of.list] ?? []) as readonly Entry[]),
    ),
    ...messageChanges(before, after, prefix),
  ];
}

function messageChanges(before: Platform, after: Platform, prefix: string): Change[] {
  if (before.messages === after.messages) return [];
  const withoutSignals = (list: readonly Message[]): Entry[] => list.map(({ signals: _signals, ...rest }) => rest);
  const messages = listChanges(
    {
      list: 'messages',
      what: 'message',
      subjectOf: (entry) => `${prefix}${entry['id'] as string}`,
      likeness: (entry) => [entry['bus'], entry['frameId'], entry['idFormat']],
    },
    withoutSignals(before.messages),
    withoutSignals(after.messages),
  );
  const oldName = new Map(
    messages.flatMap(({ kind, subject, was }) =>
      kind === 'renamed' && was !== null ? [[subject.slice(prefix.length), was.slice(prefix.length)] as const] : [],
    ),
  );
  const byId = new Map(before.messages.map((message) => [message.id, message]));
  const signals = after.messages.flatMap((message) => {
    const was = byId.get(oldName.get(message.id) ?? message.id);
    if (!was || was.signals === message.signals) return [];
    return listChanges(
      {
        list: 'signals',
        what: 'signal',
        subjectOf: (entry) => `${prefix}${message.id}.${entry['id'] as string}`,
        likeness: (entry) => [entry['bits'], entry['multiplexed'] ?? null],
      },
      was.signals as readonly Entry[],
      message.signals as readonly Entry[],
    ).map((change) =>
      change.was === null || was.id === message.id
        ? change
        : { ...change, was: `${prefix}${was.id}.${change.was.slice(prefix.length + message.id.length + 1)}` },
    );
  });
  return [...messages, ...signals];
}
