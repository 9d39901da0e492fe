import { sideRef } from '../../model/index.ts';
import type { Block, Cell, Column, Row, Section } from '../document/index.ts';
import { frameIdText, gathered, joined, moduleTitle, type SubjectRows } from '../record/index.ts';
import { bitLayout, type LaidField } from './bit-layout.ts';
import { FIELD_COLUMNS, fieldCells, rawText } from './fields.ts';
import { protectionEntries, protectionVectors } from './protection.ts';
import { vectorCells, VECTOR_COLUMNS } from './protection-table.ts';
import { fillOf, routeLinks, sentAnchor, type SentMessage, type Translation } from './translation.ts';

const COLUMNS: readonly Column[] = [...FIELD_COLUMNS, { key: 'content', title: 'Content', kind: 'code', weight: 24 }];
const MESSAGE_NAMES: readonly Column[] = [{ key: 'message', title: 'Message', kind: 'code', weight: 28 }];

/** Every message the interface modules send: cadence, every field with what fills it, counter, checksum, worked frames. */
export function sentSection(translation: Translation): Section {
  const { sent, pages } = translation;
  const protectedOnes = sent.filter(({ protection }) => protection !== undefined);
  return {
    id: 'messages-sent',
    title: 'Messages sent',
    startsPage: true,
    intro: `The interface modules send ${sent.length} messages. Within a bus they stand in order of priority, the lowest frame id first. The DBC files of this hand-over hold the same fields.`,
    blocks: pages
      ? [summary(translation), ...sent.flatMap((one) => messagePages(translation, one))]
      : [
          summary(translation),
          gathered(
            { id: 'fields-sent', title: 'Fields sent', sheetName: 'Fields sent' },
            MESSAGE_NAMES,
            COLUMNS,
            sent.map((one): SubjectRows => ({ names: [one.entry.ref], rows: fieldRows(translation, one) })),
          ),
          gathered(
            { id: 'vectors-sent', title: 'Protection of sent messages, worked frames', sheetName: 'Protection sent' },
            MESSAGE_NAMES,
            VECTOR_COLUMNS,
            protectedOnes.map((one): SubjectRows => ({
              names: [one.entry.ref],
              rows: vectorCells(one.entry.message, one.protection!),
            })),
          ),
        ],
  };
}

function cadence(
  translation: Translation,
  { transmit, entry }: SentMessage,
): { readonly send: string; readonly cycle: Cell; readonly gap: Cell; readonly phase: Cell } {
  const { open } = translation;
  const send =
    transmit.send ?? (transmit.cycleMs === undefined && entry.message.cycleMs === undefined ? undefined : 'cyclic');
  if (send === undefined) {
    const words = open.decide('Cadence of the sent message', entry.ref);
    return { send: words, cycle: words, gap: words, phase: words };
  }
  const cyclic = send === 'cyclic' || send === 'cyclic-and-on-change';
  return {
    send: send === 'forwarded' ? 'as the source comes' : send,
    cycle: cyclic
      ? (transmit.cycleMs ?? entry.message.cycleMs ?? open.decide('Cycle time of the sent message', entry.ref))
      : 'none',
    gap:
      send === 'on-change' || send === 'cyclic-and-on-change'
        ? (transmit.minGapMs ?? open.decide('Least gap between two sendings', entry.ref))
        : 'none',
    phase: cyclic
      ? (transmit.phaseMs ?? open.decide('Phase of the sent message against the others of its port', entry.ref))
      : 'none',
  };
}

/** What the message does when its sources are lost, or before they have come. */
function whenLost({ routesOfField, wholeRoutes }: SentMessage): string {
  const routes = [...new Set([...routesOfField.values()].flat()), ...wholeRoutes];
  if (routes.length === 0) return 'sent as filled';
  const stopping = routes.filter(({ onLoss }) => onLoss?.do === 'stop-sending').length;
  if (stopping === 0) return 'sent on, fields by their routes';
  return stopping === routes.length ? 'not sent' : 'not sent when a route that stops it is lost';
}

function summary(translation: Translation): Block {
  const { sent, scope, open, pages } = translation;
  return {
    kind: 'table',
    id: 'sent-list',
    title: 'Messages sent',
    columns: [
      { key: 'message', title: 'Message', kind: 'code', weight: 30, role: 'key' },
      { key: 'frameId', title: 'Frame id', kind: 'code', weight: 11 },
      { key: 'format', title: 'Format', kind: 'text', weight: 16 },
      { key: 'length', title: 'Length', kind: 'number', weight: 6, unit: 'byte' },
      { key: 'port', title: 'Port', kind: 'code', weight: 7 },
      { key: 'send', title: 'Sent', kind: 'text', weight: 14 },
      { key: 'cycle', title: 'Cycle time', kind: 'number', weight: 8, unit: 'ms' },
      { key: 'gap', title: 'Least gap', kind: 'number', weight: 8, unit: 'ms' },
      { key: 'phase', title: 'Phase', kind: 'number', weight: 10, unit: 'ms' },
      { key: 'unused', title: 'Unused bits', kind: 'code', weight: 7 },
      { key: 'protection', title: 'Protection', kind: 'text', weight: 16 },
      { key: 'lost', title: 'On loss', kind: 'text', weight: 18 },
      ...(scope.several ? [{ key: 'builds', title: 'Builds', kind: 'text', weight: 12 } as const] : []),
    ],
    rows: sent.map((one): Row => {
      const { entry, by, port, protection, mask } = one;
      const { message } = entry;
      const rhythm = cadence(translation, one);
      return {
        ...(pages ? {} : { id: sentAnchor(one) }),
        cells: [
          pages ? [{ kind: 'ref', text: entry.ref, to: sentAnchor(one) }] : entry.ref,
          frameIdText(message.frameId, message.idFormat),
          `${message.idFormat === 'standard' ? '11 bit' : '29 bit'}, ${message.frameFormat ?? 'classic'}`,
          message.length,
          by === null || port === null ? open.decide('Port that sends the message', entry.ref) : `${by.id}.${port.id}`,
          rhythm.send,
          rhythm.cycle,
          rhythm.gap,
          rhythm.phase,
          unusedBits(translation, one),
          protection === undefined ? 'none' : (protection.algorithm ?? 'counter only'),
          whenLost(one),
          ...(scope.several ? [scope.words(mask)] : []),
        ],
      };
    }),
    whenEmpty: 'The interface modules send no message.',
  };
}

function unusedBits({ open }: Translation, { transmit, entry }: SentMessage): string {
  if (transmit.send === 'forwarded') return 'as received';
  return transmit.unusedBits ?? open.decide('Value of unused bits', entry.ref);
}

function fieldRows(translation: Translation, one: SentMessage): readonly Row[] {
  return one.entry.message.signals.map((signal, at): Row => ({
    cells: [...fieldCells(signal, at + 1), contentCell(translation, one, signal.id)],
  }));
}

function contentCell({ open, scope, context }: Translation, one: SentMessage, signalId: string): Cell {
  if (one.wholeRoutes.length > 0) return routeLinks(one.wholeRoutes);
  const fill = fillOf(one, signalId);
  switch (fill.kind) {
    case 'routes': {
      const covered = fill.routes.reduce((mask, route) => mask | context.maskOf(route), 0n);
      const missing = one.mask & scope.mask & ~covered;
      const raw = one.transmit.fill?.[signalId];
      return missing === 0n
        ? routeLinks(fill.routes)
        : [
            ...routeLinks(fill.routes),
            raw === undefined
              ? `; else ${open.decide('Fill of a field in builds without its route', `${one.entry.ref}.${signalId}`)}`
              : `; else fill ${rawText(raw)}`,
          ];
    }
    case 'frame':
      return fill.what === 'multiplexer' ? 'page in turn' : `${fill.what}: made afresh`;
    case 'fill':
      return `fill ${rawText(fill.raw)}`;
    case 'open':
      return open.decide('Fill of a field that no route writes', `${one.entry.ref}.${signalId}`);
  }
}

function messagePages(translation: Translation, one: SentMessage): readonly Block[] {
  const { pairing, scope } = translation;
  const { entry, transmit, by, port, protection } = one;
  const { message } = entry;
  const fields = message.signals.map((signal, at): LaidField => {
    const { kind } = fillOf(one, signal.id);
    return { signal, number: at + 1, look: kind === 'frame' ? 'frame' : kind === 'routes' ? 'used' : 'other' };
  });
  const rhythm = cadence(translation, one);
  const readers = new Set([...(message.readers ?? []), ...message.signals.flatMap(({ readers: own }) => own ?? [])]);
  const present = [...readers].filter(
    (id) => pairing.side(entry.side).modules.has(id) && pairing.fateOf(entry.side, id) !== 'removed',
  );
  return [
    {
      kind: 'heading',
      level: 2,
      id: sentAnchor(one),
      text: `${message.id} — ${message.title ?? frameIdText(message.frameId, message.idFormat)}`,
    },
    {
      kind: 'paragraph',
      text: `Frame id ${frameIdText(message.frameId, message.idFormat)}, ${message.length} bytes, sent by ${by?.id ?? transmit.by} at port ${port?.id ?? transmit.port} on ${sideRef(entry.side, message.bus)}, ${rhythm.send}${typeof rhythm.cycle === 'number' ? ` every ${rhythm.cycle} ms` : ''}; unused bits ${unusedBits(translation, one)}. Read by ${joined(
        present.map((id) => moduleTitle(pairing, entry.side, id)),
        'nobody known',
      )}.${scope.several ? ` Builds: ${scope.words(one.mask)}.` : ''}${transmit.note === undefined ? '' : ` ${transmit.note}`}`,
    },
    ...(one.wholeRoutes.length > 0
      ? [{ kind: 'paragraph', text: ['Relayed whole by ', ...routeLinks(one.wholeRoutes), '.'] } as const]
      : []),
    ...(message.signals.length === 0
      ? []
      : ([
          {
            kind: 'figure',
            id: `layout-${sentAnchor(one)}`,
            title: `${message.id}, bits as sent`,
            drawing: bitLayout(message, distinct(fields)),
            note: message.signals.some(({ multiplexed }) => multiplexed !== undefined)
              ? 'Outlined: written by a route. Accent: made by the frame. Dashed: filled. Multiplexed fields share bits: the first page is drawn, the table has all.'
              : 'Outlined: written by a route. Accent: made by the frame. Dashed: filled.',
          },
          {
            kind: 'table',
            id: `fields-${sentAnchor(one)}`,
            title: `${message.id}, fields`,
            columns: COLUMNS,
            rows: fieldRows(translation, one),
          },
        ] satisfies Block[])),
    ...(protection === undefined
      ? []
      : ([
          { kind: 'keyValues', title: 'Protection, to be made', entries: protectionEntries(message, protection) },
          ...(protectionVectors(message, protection).vectors.length === 0
            ? []
            : [
                {
                  kind: 'table' as const,
                  id: `vectors-${sentAnchor(one)}`,
                  title: `${message.id}, worked frames`,
                  columns: VECTOR_COLUMNS,
                  rows: vectorCells(message, protection),
                },
              ]),
        ] satisfies Block[])),
  ];
}

/** Of multiplexed fields those of the first page only: the others lie over them. */
function distinct(fields: readonly LaidField[]): readonly LaidField[] {
  const first = new Map<string, string>();
  return fields.filter(({ signal: { multiplexed } }) => {
    if (multiplexed === undefined) return true;
    const page = JSON.stringify(multiplexed.on);
    const known = first.get(multiplexed.by);
    if (known === undefined) first.set(multiplexed.by, page);
    return known === undefined || known === page;
  });
}
