import type { Pairing } from '../model/index.ts';
import type { Change } from './change.ts';
import { differingFields } from './differences.ts';
import { listChanges, type ComparedList, type Entry } from './list-changes.ts';

const text = (entry: Entry, key: string): string => entry[key] as string;

/** The lists of a map, each with what its entries are and how they are referred to. */
const MAP_LISTS = [
  {
    list: 'routes',
    what: 'route',
    subjectOf: (entry) => `route:${text(entry, 'id')}`,
    likeness: (entry) => [entry['to'], entry['from'], entry['when'] ?? null],
  },
  { list: 'transmits', what: 'transmit', subjectOf: (entry) => `transmit:${text(entry, 'message')}` },
  { list: 'interfaceModules', what: 'interface module', subjectOf: (entry) => text(entry, 'id') },
  { list: 'options', what: 'option', subjectOf: (entry) => `option:${text(entry, 'id')}` },
  {
    list: 'leftOut',
    what: 'left-out',
    subjectOf: (entry) => (entry['signal'] as string | undefined) ?? `function:${text(entry, 'function')}`,
  },
  { list: 'waivers', what: 'waiver', subjectOf: (entry) => `${text(entry, 'rule')} ${text(entry, 'subject')}` },
  { list: 'classes', what: 'function class', subjectOf: (entry) => `function:${text(entry, 'function')}` },
  {
    list: 'review',
    what: 'review answer',
    subjectOf: (entry) => `${text(entry, 'step')} by ${text(entry, 'by')}`,
  },
  { list: 'signOffs', what: 'sign-off', subjectOf: (entry) => `${text(entry, 'by')}, ${text(entry, 'role')}` },
] as const satisfies readonly ComparedList[];

const harnessSubject = (entry: Entry): string =>
  `harness:${(entry['id'] as string | undefined) ?? `${text(entry, 'from')}–${text(entry, 'to')}`}`;

const HARNESS_LISTS = [
  { list: 'connectors', what: 'added connector', subjectOf: harnessSubject },
  { list: 'parts', what: 'harness part', subjectOf: harnessSubject },
  { list: 'nodes', what: 'harness node', subjectOf: harnessSubject },
  { list: 'segments', what: 'harness segment', subjectOf: harnessSubject },
  { list: 'circuits', what: 'circuit', subjectOf: harnessSubject, likeness: (entry) => entry['of'] ?? null },
] as const satisfies readonly ComparedList[];

const PLAIN_KEYS = ['title', 'revision', 'author', 'note', 'fates', 'requires', 'impossible', 'host', 'donor'] as const;

const HARNESS_KEYS = ['title', 'serviceM'] as const;

/** What differs between two revisions of a map itself, without what follows from it. */
export function mapChanges({ map: before }: Pairing, { map: after }: Pairing): Change[] {
  if (before === after) return [];
  return [
    ...MAP_LISTS.flatMap((of) =>
      before[of.list] === after[of.list]
        ? []
        : listChanges(of, (before[of.list] ?? []) as readonly Entry[], (after[of.list] ?? []) as readonly Entry[]),
    ),
    ...HARNESS_LISTS.flatMap((of) =>
      listChanges(
        of,
        (before.harness?.[of.list] ?? []) as readonly Entry[],
        (after.harness?.[of.list] ?? []) as readonly Entry[],
      ),
    ),
    ...HARNESS_KEYS.flatMap((key): Change[] => {
      const fields = differingFields(before.harness?.[key], after.harness?.[key], `harness.${key}`);
      return fields.length === 0
        ? []
        : [{ kind: 'changed', what: 'map', subject: 'map', was: null, fields, consequences: [] }];
    }),
    ...PLAIN_KEYS.flatMap((key): Change[] => {
      const subject = key === 'fates' ? 'fates' : 'map';
      const fields = differingFields(before[key], after[key], key);
      return fields.length === 0
        ? []
        : [{ kind: 'changed', what: subject, subject, was: null, fields, consequences: [] }];
    }),
  ];
}
