import { check, findingDigest, type Finding, type Run } from '../checks/index.ts';
import { deriveNeedsAndOffers, type Pairing, type Platform, type Route, type SideName } from '../model/index.ts';
import type { Change } from './change.ts';
import { routeConsequences } from './consequences.ts';
import { differingFields } from './differences.ts';
import { entriesByKey, saysTheSame } from './identity.ts';

export interface Comparison {
  readonly before: Pairing;
  readonly after: Pairing;
  readonly changes: readonly Change[];
  readonly needsNew: readonly string[];
  readonly needsGone: readonly string[];
  readonly findingsNew: readonly Finding[];
  readonly findingsGone: readonly Finding[];
  readonly findingsStill: readonly Finding[];
  /** Waivers that answered a finding before and answer none now. */
  readonly waiversLapsed: readonly string[];
}

/** Compares two revisions of a pairing by meaning; order and layout of the files do not count. */
export function comparePairings(before: Pairing, after: Pairing): Comparison {
  const [runBefore, runAfter] = [check(before), check(after)];
  const [needsBefore, needsAfter] = [deriveNeedsAndOffers(before).needs, deriveNeedsAndOffers(after).needs];
  return {
    before,
    after,
    changes: [
      ...mapChanges(before, after),
      ...platformChanges(before, after, 'host'),
      ...platformChanges(before, after, 'donor'),
    ],
    needsNew: [...needsAfter.keys()].filter((ref) => !needsBefore.has(ref)),
    needsGone: [...needsBefore.keys()].filter((ref) => !needsAfter.has(ref)),
    ...compareFindings(runBefore, runAfter),
  };
}

function compareFindings(
  before: Run,
  after: Run,
): Pick<Comparison, 'findingsNew' | 'findingsGone' | 'findingsStill' | 'waiversLapsed'> {
  const open = ({ findings }: Run): Map<string, Finding> =>
    new Map(findings.filter(({ waived }) => waived === null).map((finding) => [findingDigest(finding), finding]));
  const [was, is] = [open(before), open(after)];
  const waived = ({ findings }: Run): Set<string> =>
    new Set(findings.filter((finding) => finding.waived !== null).map(({ rule, subject }) => `${rule} ${subject}`));
  const still = waived(after);
  return {
    findingsNew: [...is].filter(([digest]) => !was.has(digest)).map(([, finding]) => finding),
    findingsGone: [...was].filter(([digest]) => !is.has(digest)).map(([, finding]) => finding),
    findingsStill: [...is].filter(([digest]) => was.has(digest)).map(([, finding]) => finding),
    waiversLapsed: [...waived(before)].filter((key) => !still.has(key)),
  };
}

/** The lists of a map, each with what its entries are and how they are referred to. */
const MAP_LISTS = [
  ['routes', 'route', (entry: Entry) => `route:${entry['id'] as string}`],
  ['transmits', 'transmit', (entry: Entry) => `transmit:${entry['message'] as string}`],
  ['interfaceModules', 'interface module', (entry: Entry) => entry['id'] as string],
  ['options', 'option', (entry: Entry) => `option:${entry['id'] as string}`],
  ['leftOut', 'left-out', (entry: Entry) => (entry['signal'] ?? `function:${entry['function'] as string}`) as string],
  ['waivers', 'waiver', (entry: Entry) => `${entry['rule'] as string} ${entry['subject'] as string}`],
  ['classes', 'function class', (entry: Entry) => `function:${entry['function'] as string}`],
  ['signOffs', 'sign-off', (entry: Entry) => `${entry['by'] as string}, ${entry['role'] as string}`],
] as const;

type Entry = Readonly<Record<string, unknown>>;

function mapChanges(before: Pairing, after: Pairing): Change[] {
  const changes: Change[] = [];
  for (const [key, what, subjectOf] of MAP_LISTS) {
    changes.push(
      ...listChanges(
        key,
        what,
        (before.map[key] ?? []) as readonly Entry[],
        (after.map[key] ?? []) as readonly Entry[],
        subjectOf,
      ),
    );
  }
  const harness = (of: Pairing, key: 'connectors' | 'parts' | 'nodes' | 'segments' | 'circuits'): readonly Entry[] =>
    (of.map.harness?.[key] ?? []) as readonly Entry[];
  for (const key of ['connectors', 'parts', 'nodes', 'segments', 'circuits'] as const) {
    const what = {
      connectors: 'added connector',
      parts: 'harness part',
      nodes: 'harness node',
      segments: 'harness segment',
      circuits: 'circuit',
    }[key];
    changes.push(
      ...listChanges(
        key,
        what,
        harness(before, key),
        harness(after, key),
        (entry) => `harness:${(entry['id'] ?? `${entry['from'] as string}–${entry['to'] as string}`) as string}`,
      ),
    );
  }
  for (const key of [
    'title',
    'revision',
    'author',
    'note',
    'fates',
    'requires',
    'impossible',
    'host',
    'donor',
  ] as const) {
    const fields = differingFields(before.map[key], after.map[key], key);
    if (fields.length > 0)
      changes.push({
        kind: 'changed',
        what: key === 'fates' ? 'fates' : 'map',
        subject: key === 'fates' ? 'fates' : 'map',
        was: null,
        fields,
        consequences: [],
      });
  }
  for (const key of ['title', 'serviceM'] as const) {
    const fields = differingFields(before.map.harness?.[key], after.map.harness?.[key], `harness.${key}`);
    if (fields.length > 0)
      changes.push({ kind: 'changed', what: 'map', subject: 'map', was: null, fields, consequences: [] });
  }
  return withRenames(changes, before, after).map((change) =>
    change.what === 'route' ? { ...change, consequences: routeConsequences(change, before, after) } : change,
  );
}

function listChanges(
  listName: string,
  what: string,
  from: readonly Entry[],
  to: readonly Entry[],
  subjectOf: (entry: Entry) => string,
): Change[] {
  const [before, after] = [
    entriesByKey(listName, from) ?? byPosition(from),
    entriesByKey(listName, to) ?? byPosition(to),
  ];
  return [...new Set([...before.keys(), ...after.keys()])].flatMap((key): Change[] => {
    const [old, now] = [before.get(key) as Entry | undefined, after.get(key) as Entry | undefined];
    if (old === undefined)
      return [{ kind: 'added', what, subject: subjectOf(now!), was: null, fields: [], consequences: [], to: now }];
    if (now === undefined)
      return [{ kind: 'removed', what, subject: subjectOf(old), was: null, fields: [], consequences: [], from: old }];
    const fields = differingFields(old, now);
    return fields.length > 0
      ? [{ kind: 'changed', what, subject: subjectOf(now), was: null, fields, consequences: [], from: old, to: now }]
      : [];
  });
}

function byPosition(list: readonly Entry[]): ReadonlyMap<string, Entry> {
  return new Map(list.map((entry, at) => [String(at), entry]));
}

/** A route taken out and one put in that reads and writes the same is one renamed. */
function withRenames(changes: readonly Change[], before: Pairing, after: Pairing): Change[] {
  const routeOf = (pairing: Pairing, { subject }: Change): Route => pairing.routes.get(subject.slice('route:'.length))!;
  const gone = changes.filter(({ kind, what }) => kind === 'removed' && what === 'route');
  const taken = new Set<Change>();
  return changes
    .map((change): Change => {
      if (change.kind !== 'added' || change.what !== 'route') return change;
      const now = routeOf(after, change);
      const was = gone.find((old) => {
        const route = routeOf(before, old);
        return (
          !taken.has(old) &&
          route.to === now.to &&
          saysTheSame(route.from, now.from) &&
          saysTheSame(route.when, now.when)
        );
      });
      if (!was) return change;
      taken.add(was);
      const { id: _id, ...rest } = now;
      const { id: _was, ...old } = routeOf(before, was);
      return { ...change, kind: 'renamed', was: was.subject, fields: differingFields(old, rest), from: was.from };
    })
    .filter((change) => !taken.has(change));
}

const PLATFORM_LISTS = [
  ['buses', 'bus', 'bus:'],
  ['modules', 'module', 'module:'],
  ['wires', 'wire', ''],
  ['connectors', 'connector', 'connector:'],
  ['feeds', 'feed', 'feed:'],
  ['grounds', 'ground', 'ground:'],
] as const;

function platformChanges(before: Pairing, after: Pairing, side: SideName): Change[] {
  const [old, now] = [before[side].platform, after[side].platform];
  if (old === now) return [];
  const own = (['id', 'title', 'market', 'years', 'note', 'documents', 'imports'] as const).flatMap((key) =>
    differingFields(old[key], now[key], key),
  );
  return [
    ...(own.length === 0
      ? []
      : [
          {
            kind: 'changed' as const,
            what: 'platform',
            subject: `platform:${side}`,
            was: null,
            fields: own,
            consequences: [],
          },
        ]),
    ...PLATFORM_LISTS.flatMap(([key, what, prefix]) =>
      listChanges(
        key,
        what,
        old[key] as readonly Entry[],
        now[key] as readonly Entry[],
        (entry) => `${prefix}${side}:${entry['id'] as string}`,
      ),
    ),
    ...messageChanges(old, now, side),
  ];
}

function messageChanges(old: Platform, now: Platform, side: SideName): Change[] {
  const withoutSignals = (list: Platform['messages']): Entry[] =>
    list.map(({ signals: _signals, ...message }) => message);
  const messages = listChanges(
    'messages',
    'message',
    withoutSignals(old.messages),
    withoutSignals(now.messages),
    (entry) => `${side}:${entry['id'] as string}`,
  );
  const before = new Map(old.messages.map((message) => [message.id, message]));
  const signals = now.messages.flatMap((message) => {
    const was = before.get(message.id);
    if (!was || was.signals === message.signals) return [];
    return listChanges(
      'signals',
      'signal',
      was.signals as readonly Entry[],
      message.signals as readonly Entry[],
      (entry) => `${side}:${message.id}.${entry['id'] as string}`,
    );
  });
  return [...messages, ...signals];
}
