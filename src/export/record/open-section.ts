import type { Finding } from '../../checks/index.ts';
import type { Pairing } from '../../model/index.ts';
import type { Row, Section } from '../document/index.ts';
import type { BuildScope } from './builds.ts';
import { findingBlocks } from './findings.ts';
import { placesText, type OpenItem } from './open-items.ts';

export interface Assumption {
  readonly of: string;
  readonly what: string;
}

/** What is still open when this issue is handed over: things to decide, assumptions, findings, waivers. */
export function openSection(
  pairing: Pairing,
  findings: readonly Finding[],
  scope: BuildScope,
  open: readonly OpenItem[],
  assumptions: readonly Assumption[],
): Section {
  return {
    id: 'open-items',
    title: 'Open items',
    startsPage: true,
    intro:
      'No issue without this list. What the documents do not give is not invented: it reads “to be decided” at its place and stands here, with a line for the answer.',
    blocks: [
      {
        kind: 'table',
        id: 'to-decide',
        title: 'To be decided or found out',
        columns: [
          { key: 'number', title: 'No.', kind: 'number', weight: 4, role: 'key' },
          { key: 'what', title: 'What is open', kind: 'text', weight: 52 },
          { key: 'count', title: 'Places', kind: 'number', weight: 6 },
          { key: 'where', title: 'Where', kind: 'text', weight: 54 },
          { key: 'answer', title: 'Answer', kind: 'entry', weight: 24 },
          { key: 'by', title: 'Person, date', kind: 'entry', weight: 16 },
        ],
        rows: open.map(({ what, where }, at): Row => ({
          cells: [at + 1, what, where.length, placesText(where), null, null],
        })),
        whenEmpty: 'Nothing: every cell of this issue is filled from the documents.',
      },
      {
        kind: 'table',
        id: 'assumptions',
        title: 'Assumed, not measured or read',
        columns: [
          { key: 'of', title: 'Of', kind: 'code', weight: 36, role: 'key' },
          { key: 'what', title: 'What is assumed', kind: 'text', weight: 70 },
          { key: 'verified', title: 'Verified on the vehicle', kind: 'check', weight: 10 },
          { key: 'by', title: 'Person, date', kind: 'entry', weight: 18 },
        ],
        rows: assumptions.map(({ of, what }): Row => ({
          cells: [of, what, null, null],
          mark: { tone: 'caution', text: 'assumed' },
        })),
        whenEmpty: 'The map marks nothing as assumed.',
      },
      ...findingBlocks(pairing, findings, scope),
    ],
  };
}

/** What the map itself marks as assumed: routes, and protection that was inferred. */
export function assumptionsOf(pairing: Pairing, scope: BuildScope): readonly Assumption[] {
  const { map, options } = pairing;
  const routes = map.routes.flatMap((route): Assumption[] =>
    route.assumed === true && scope.holds(options.maskOf(route.when))
      ? [{ of: `route ${route.id}`, what: route.note ?? 'the whole route' }]
      : [],
  );
  const protection = map.transmits.flatMap((transmit): Assumption[] => {
    const entry = pairing.find(transmit.message);
    const own = transmit.protection ?? (entry?.kind === 'message' ? entry.message.protection : undefined);
    return own?.evidence === 'inferred' && scope.holds(options.maskOf(transmit.when))
      ? [{ of: transmit.message, what: 'its counter and checksum were inferred from recordings, not specified' }]
      : [];
  });
  return [...routes, ...protection];
}
