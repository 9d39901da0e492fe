import type { Pairing } from '../../../model/index.ts';
import { routesConcerned } from '../../state/derived.ts';
import type { LoomGroup, LoomRow, StrandEnd } from './layout.ts';

/** Whether one end of a row is what a subject names. */
function endIs(end: StrandEnd, subject: string): boolean {
  return (
    end.ref === subject ||
    // A message stands for all of its signals.
    end.ref.startsWith(`${subject}.`) ||
    `module:${end.side}:${end.module}` === subject ||
    (end.bus !== null && `bus:${end.bus}` === subject)
  );
}

function rowIs(row: LoomRow, subject: string, pairing: Pairing): boolean {
  if (row.id === subject) return true;
  if (row.kind === 'loose') return endIs(row.end, subject);
  const { route } = row;
  if (subject.startsWith('function:')) {
    const target = pairing.find(route.to);
    const own =
      route.function ??
      (target?.kind === 'signal' ? target.signal.function : target?.kind === 'wire' ? target.wire.function : undefined);
    return `function:${own}` === subject;
  }
  if (route.by !== undefined) {
    if (subject === route.by || subject === route.leaves || subject === `${route.by}.${route.leaves}`) return true;
    const joints = [...row.left, ...row.right].map(({ joint }) => joint);
    if (joints.some((joint) => joint !== null && subject === `${route.by}.${joint}`)) return true;
  }
  return [...row.left, ...row.right].some((end) => endIs(end, subject));
}

/** Ids of the rows that a selection concerns, in the order of the cloth; empty when nothing is selected or nothing fits. */
export function concernedRows(
  groups: readonly LoomGroup[],
  subject: string | null,
  pairing: Pairing,
): readonly string[] {
  if (subject === null || subject === 'map') return [];
  // A route is its own strand alone, which is what walking from strand to strand asks for.
  if (subject.startsWith('route:')) return pairing.routes.has(subject.slice(6)) ? [subject] : [];
  if (subject.startsWith('circuit:')) return routesConcerned(pairing, subject).map((id) => `route:${id}`);
  return groups.flatMap(({ rows }) => rows.filter((row) => rowIs(row, subject, pairing)).map(({ id }) => id));
}
