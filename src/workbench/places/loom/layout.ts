import type { Finding, Severity } from '../../../checks/index.ts';
import {
  findFunction,
  parseRef,
  readerIds,
  senderIds,
  type Carrier,
  type Endpoint,
  type Pairing,
  type Route,
  type SideName,
  type Supply,
} from '../../../model/index.ts';
import { routesConcerned } from '../../state/derived.ts';

/** One labelled end of a strand: what hangs at an edge of the loom. */
export interface StrandEnd {
  readonly ref: string;
  readonly side: SideName;
  /** The module at the edge. */
  readonly module: string;
  readonly label: string;
  /** `offer`: a retained sender gives it; `need`: a retained reader takes it. */
  readonly role: 'offer' | 'need';
  /** Where an interface strand enters or leaves the module's block: a port or a pin. */
  readonly joint: string | null;
  /** A discrete wire, or a value on this bus (`side:bus`). */
  readonly bus: string | null;
}

/** An end on its line of the row; 0 is the first. */
export type PlacedEnd = StrandEnd & { readonly line: number };

/** A route as it lies across the loom: its ends, line by line, and how it crosses. */
export interface Strand {
  readonly kind: 'strand';
  readonly id: string;
  readonly route: Route;
  readonly carrier: Carrier;
  /** Ends at the left (host) and right (donor) edge, each with the line of the row it hangs on. */
  readonly left: readonly PlacedEnd[];
  readonly right: readonly PlacedEnd[];
  readonly lines: number;
  readonly title: string;
  readonly worst: Severity | null;
  readonly findings: number;
  readonly backup: boolean;
}

/** A need that nothing meets: it hangs short from its edge. */
export interface LooseEnd {
  readonly kind: 'loose';
  readonly id: string;
  readonly end: StrandEnd;
  readonly lines: 1;
}

export type LoomRow = Strand | LooseEnd;

/** Strands of one function group. */
export interface LoomGroup {
  readonly id: string;
  readonly title: string;
  readonly rows: readonly LoomRow[];
  readonly byCarrier: Readonly<Record<Carrier, number>>;
  readonly loose: number;
  readonly worst: Severity | null;
  readonly findings: number;
}

/** The groups of the function catalogue, in the order of the work on the vehicle. */
const GROUPS: readonly (readonly [string, string])[] = [
  ['starting-security', 'Starting and security'],
  ['brake', 'Brake'],
  ['accelerator', 'Accelerator'],
  ['driveline', 'Driveline'],
  ['torque-chassis', 'Torque and chassis'],
  ['cruise', 'Cruise'],
  ['engine-display', 'Engine display'],
  ['fuel-crash', 'Fuel and crash'],
  ['hvac-cooling', 'Climate and cooling'],
  ['charging', 'Charging'],
  ['work-diesel', 'Work equipment and diesel'],
  ['diagnostics-network', 'Diagnostics and network'],
  ['other', 'Other'],
];

function endOf(pairing: Pairing, ref: string, role: StrandEnd['role'], joint: string | null): StrandEnd {
  const parsed = parseRef(ref);
  const side = parsed?.side ?? 'host';
  const endpoint = pairing.find(ref);
  return {
    ref,
    side,
    module: endpoint ? moduleOf(pairing, endpoint, role) : 'unknown',
    label: labelOf(endpoint, ref),
    role,
    joint,
    bus: !endpoint || endpoint.kind === 'wire' ? null : `${endpoint.side}:${endpoint.message.bus}`,
  };
}

/** The module an end hangs on: who sends an offer, who is to read a need. */
function moduleOf(pairing: Pairing, endpoint: Endpoint, role: StrandEnd['role']): string {
  const ids = role === 'offer' ? senderIds(endpoint) : readerIds(endpoint);
  const present = ids.filter((id) => pairing.fateOf(endpoint.side, id) !== 'removed');
  return (
    (present[0] ??
      ids[0] ??
      (endpoint.kind === 'wire' ? endpoint.wire.module : (endpoint.message.sender ?? 'network'))) ||
    'network'
  );
}

function labelOf(endpoint: Endpoint | null, ref: string): string {
  if (!endpoint) return ref.slice(ref.indexOf(':') + 1);
  switch (endpoint.kind) {
    case 'signal':
      return `${endpoint.message.id}.${endpoint.signal.id}`;
    case 'wire':
      return endpoint.wire.title;
    case 'message':
      return endpoint.message.id;
  }
}

function jointOf(pairing: Pairing, route: Route, endpoint: Endpoint | null, at: number | 'target'): string | null {
  if (route.carrier !== 'interface' || !endpoint) return null;
  if (endpoint.kind === 'wire')
    return (at === 'target' ? route.leaves : route.enters?.[wireIndex(pairing, route, at)]) ?? null;
  const owner = route.by === undefined ? undefined : pairing.interfaceModules.get(route.by);
  return owner?.ports.find(({ bus }) => bus === `${endpoint.side}:${endpoint.message.bus}`)?.id ?? null;
}

/** `enters` counts wire sources only, in their order. */
function wireIndex(pairing: Pairing, route: Route, at: number): number {
  return route.from.slice(0, at).filter((ref) => pairing.find(ref)?.kind === 'wire').length;
}

const RANK: Readonly<Record<Severity, number>> = { stop: 0, fix: 1, look: 2 };

export function worse(a: Severity | null, b: Severity | null): Severity | null {
  if (a === null || b === null) return a ?? b;
  return RANK[a] <= RANK[b] ? a : b;
}

/** Open findings by their subject; one about a conductor stands under each route that it carries too. */
export function findingsBySubject(
  pairing: Pairing,
  findings: readonly Finding[],
): ReadonlyMap<string, readonly Finding[]> {
  const by = new Map<string, Finding[]>();
  const enter = (subject: string, finding: Finding): void => {
    const list = by.get(subject);
    if (list) list.push(finding);
    else by.set(subject, [finding]);
  };
  for (const finding of findings) {
    if (finding.waived) continue;
    enter(finding.subject, finding);
    if (finding.subject.startsWith('circuit:'))
      for (const id of routesConcerned(pairing, finding.subject)) enter(`route:${id}`, finding);
  }
  return by;
}

function strandOf(pairing: Pairing, route: Route, bySubject: ReadonlyMap<string, readonly Finding[]>): Strand {
  const sources = route.from.map((ref, at) =>
    endOf(pairing, ref, 'offer', jointOf(pairing, route, pairing.find(ref), at)),
  );
  const target = endOf(pairing, route.to, 'need', jointOf(pairing, route, pairing.find(route.to), 'target'));
  const edges: Record<SideName, PlacedEnd[]> = { host: [], donor: [] };
  // The reader hangs on the first line of its edge; sources follow on theirs.
  for (const end of [target, ...sources]) edges[end.side].push({ ...end, line: edges[end.side].length });
  const concerned = [`route:${route.id}`, route.to].flatMap((subject) => bySubject.get(subject) ?? []);
  const entry = findFunction(route.function);
  return {
    kind: 'strand',
    id: `route:${route.id}`,
    route,
    carrier: route.carrier,
    left: edges.host,
    right: edges.donor,
    lines: Math.max(1, edges.host.length, edges.donor.length),
    title: route.title ?? entry?.title ?? route.id,
    worst: concerned.reduce<Severity | null>((worst, { severity }) => worse(worst, severity), null),
    findings: concerned.length,
    backup: route.backupOf !== undefined,
  };
}

/** The group a route or need belongs to: that of its function, else of its target's function. */
function groupIdOf(functionId: string | null | undefined): string {
  const group = findFunction(functionId ?? undefined)?.group ?? 'other';
  return GROUPS.some(([id]) => id === group) ? group : 'other';
}

function functionIdOf(pairing: Pairing, route: Route): string | undefined {
  if (route.function !== undefined) return route.function;
  const target = pairing.find(route.to);
  if (!target) return undefined;
  if (target.kind === 'wire') return target.wire.function;
  return target.kind === 'signal' ? (target.signal.function ?? target.message.function) : target.message.function;
}

function sortKey(row: LoomRow): string {
  if (row.kind === 'loose') return `${row.end.module} ${row.end.label}`;
  const host = row.left[0];
  const donor = row.right[0];
  return `${host?.module ?? '~'} ${donor?.module ?? '~'} ${row.route.id}`;
}

/**
 * Lays the routes and the needs still open into groups of rows. One row a strand, so that strands never cross: within a
 * group, rows of one host module stand together. Linear but for the sort.
 */
export function layLoom(pairing: Pairing, open: readonly Supply[], findings: readonly Finding[]): readonly LoomGroup[] {
  const bySubject = findingsBySubject(pairing, findings);
  const rows = new Map<string, LoomRow[]>(GROUPS.map(([id]) => [id, []]));
  for (const route of pairing.map.routes)
    rows.get(groupIdOf(functionIdOf(pairing, route)))!.push(strandOf(pairing, route, bySubject));
  for (const need of open) {
    rows
      .get(groupIdOf(need.function))!
      .push({ kind: 'loose', id: need.ref, end: endOf(pairing, need.ref, 'need', null), lines: 1 });
  }
  return GROUPS.flatMap(([id, title]): LoomGroup[] => {
    const own = rows.get(id)!;
    if (own.length === 0) return [];
    const keyed = own.map((row) => [sortKey(row), row] as const).sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0));
    const strands = own.filter((row) => row.kind === 'strand');
    const count = (carrier: Carrier): number => strands.filter((strand) => strand.carrier === carrier).length;
    return [
      {
        id,
        title,
        rows: keyed.map(([, row]) => row),
        byCarrier: { 'hard-wire': count('hard-wire'), interface: count('interface'), bus: count('bus') },
        loose: own.length - strands.length,
        worst: strands.reduce<Severity | null>((worst, strand) => worse(worst, strand.worst), null),
        findings: strands.reduce((sum, strand) => sum + strand.findings, 0),
      },
    ];
  });
}
