import type { Pairing, SideName } from '../../../model/index.ts';
import type { LoomGroup, LoomRow, Strand, StrandEnd } from './layout.ts';

export const CARRIER_WORDS = { 'hard-wire': 'hard wire', interface: 'interface', bus: 'bus' } as const;

/** A count with its word: 1 strand, 2 strands. */
export function counted(count: number, one: string, many = `${one}s`): string {
  return `${count} ${count === 1 ? one : many}`;
}

function endWords({ side, label, module }: StrandEnd): string {
  return `${side} ${label} (${module})`;
}

/** A row in full, for people who hear it. */
export function rowName(row: LoomRow): string {
  if (row.kind === 'loose') return `Unmet need: ${endWords(row.end)}`;
  const ends = [...row.left, ...row.right];
  const from = ends.filter(({ role }) => role === 'offer').map(endWords);
  const to = ends.filter(({ role }) => role === 'need').map(endWords);
  const through = row.carrier === 'interface' && row.route.by !== undefined ? ` through ${row.route.by}` : '';
  const parts = [
    row.title,
    `${CARRIER_WORDS[row.carrier]}${through}`,
    `from ${from.length === 0 ? 'nothing' : from.join(' and ')} to ${to.join(' and ')}`,
  ];
  if (row.backup) parts.push('backup');
  if (row.findings > 0) parts.push(`${counted(row.findings, 'finding')}, worst ${row.worst}`);
  return parts.join(', ');
}

/** A group in full. */
export function groupName(group: LoomGroup): string {
  const { byCarrier, loose, findings, worst } = group;
  const parts = [
    group.title,
    counted(byCarrier['hard-wire'], 'hard wire'),
    `${byCarrier.interface} interface`,
    `${byCarrier.bus} bus`,
  ];
  if (loose > 0) parts.push(counted(loose, 'loose end'));
  if (findings > 0) parts.push(`${counted(findings, 'finding')}, worst ${worst}`);
  return parts.join(', ');
}

/** What the interface module does with a strand, short enough to stand in its band; '' for a plain copy. */
export function workWords({ route }: Strand): string {
  const steps = route.steps ?? [];
  if (steps.length === 0) return '';
  return steps.length === 1 ? steps[0]!.do : `${steps.length} steps`;
}

/** Small words on a strand: a backup, the builds it is for. */
export function strandWords({ route, backup }: Strand): string {
  const builds = Object.values(route.when ?? {}).map((choices) => choices.join(' or '));
  return [...(backup ? ['backup'] : []), ...builds].join(' · ');
}

/** The title of a module of a side; its id when it has none. */
export function moduleTitle(pairing: Pairing, side: SideName, id: string): string {
  return pairing.side(side).modules.get(id)?.title ?? id;
}
