import { sideRef } from '../../model/index.ts';
import type { Block, Column, Row, Section } from '../document/index.ts';
import { frameIdText, gathered, joined, moduleTitle, type SubjectRows } from '../record/index.ts';
import { bitLayout, type LaidField } from './bit-layout.ts';
import { FIELD_COLUMNS, fieldCells, withSelectors } from './fields.ts';
import { protectionEntries, protectionVectors } from './protection.ts';
import { vectorCells, VECTOR_COLUMNS } from './protection-table.ts';
import { receivedAnchor, routeLinks, type ReceivedMessage, type Translation } from './translation.ts';

const COLUMNS: readonly Column[] = [
  ...FIELD_COLUMNS,
  { key: 'routes', title: 'Read by routes', kind: 'code', weight: 22 },
];

/** Every message the interface modules must receive: when it comes, when it counts as lost, every field that is used. */
export function receivedSection(translation: Translation): Section {
  const { received, pages } = translation;
  const protectedOnes = received.filter(({ entry }) => entry.message.protection !== undefined);
  return {
    id: 'messages-received',
    title: 'Messages received',
    startsPage: true,
    intro: `The interface modules must receive ${received.length} messages. Only fields that a route uses are listed in full; the figures show the others dashed.`,
    blocks: pages
      ? [summary(translation), ...received.flatMap((one) => messagePages(one))]
      : [
          summary(translation),
          gathered(
            { id: 'fields-received', title: 'Fields received', sheetName: 'Fields received' },
            MESSAGE_NAMES,
            COLUMNS,
            received.map((one): SubjectRows => ({ names: [one.entry.ref], rows: fieldRows(one) })),
          ),
          gathered(
            {
              id: 'vectors-received',
              title: 'Protection of received messages, worked frames',
              sheetName: 'Protection received',
            },
            MESSAGE_NAMES,
            VECTOR_COLUMNS,
            protectedOnes.map((one): SubjectRows => ({
              names: [one.entry.ref],
              rows: vectorCells(one.entry.message, one.entry.message.protection!),
            })),
          ),
        ],
  };
}

const MESSAGE_NAMES: readonly Column[] = [{ key: 'message', title: 'Message', kind: 'code', weight: 28 }];

/** The fields used: those that routes read, the multiplexers above them, counter and checksum. In order of the message. */
function usedFields({ entry, routesOfField }: ReceivedMessage): ReadonlySet<string> {
  const { message } = entry;
  const own = [message.protection?.counter, message.protection?.checksum].filter((id) => id !== undefined);
  return withSelectors(message, new Set([...routesOfField.keys(), ...own]));
}

function fieldRows(one: ReceivedMessage): readonly Row[] {
  const { message } = one.entry;
  const used = usedFields(one);
  return message.signals.flatMap((signal, at): Row[] => {
    if (!used.has(signal.id)) return [];
    const routes = one.routesOfField.get(signal.id);
    const role =
      message.protection?.counter === signal.id
        ? 'counter: verify'
        : message.protection?.checksum === signal.id
          ? 'checksum: verify'
          : 'selects other fields';
    return [{ cells: [...fieldCells(signal, at + 1), routes ? routeLinks(routes) : role] }];
  });
}

function staleText({ routes }: ReceivedMessage): string {
  const limits = [...new Set(routes.flatMap(({ staleAfterMs }) => (staleAfterMs === undefined ? [] : [staleAfterMs])))];
  return joined(limits.sort((a, b) => a - b).map(String));
}

function summary(translation: Translation): Block {
  const { pairing, received, scope, open, pages } = translation;
  return {
    kind: 'table',
    id: 'received-list',
    title: 'Messages received',
    columns: [
      { key: 'message', title: 'Message', kind: 'code', weight: 30, role: 'key' },
      { key: 'frameId', title: 'Frame id', kind: 'code', weight: 11 },
      { key: 'format', title: 'Format', kind: 'text', weight: 16 },
      { key: 'length', title: 'Length', kind: 'number', weight: 6, unit: 'byte' },
      { key: 'port', title: 'Port', kind: 'code', weight: 7 },
      { key: 'sender', title: 'Sender', kind: 'text', weight: 22 },
      { key: 'send', title: 'Sent', kind: 'text', weight: 10 },
      { key: 'cycle', title: 'Cycle time', kind: 'number', weight: 8, unit: 'ms' },
      { key: 'jitter', title: 'Jitter', kind: 'number', weight: 8, unit: 'ms' },
      { key: 'stale', title: 'Stale after', kind: 'text', weight: 9, unit: 'ms' },
      { key: 'protection', title: 'Protection', kind: 'text', weight: 16 },
      { key: 'verified', title: 'Verified by', kind: 'text', weight: 14 },
      ...(scope.several ? [{ key: 'builds', title: 'Builds', kind: 'text', weight: 12 } as const] : []),
      { key: 'evidence', title: 'Documents', kind: 'text', weight: 10 },
    ],
    rows: received.map((one): Row => {
      const { entry, by, port, mask } = one;
      const { message, side } = entry;
      const cyclic = message.send === undefined || message.send === 'cyclic' || message.send === 'cyclic-and-on-change';
      const verifying = one.routes.filter(({ verifySource }) => verifySource === true).length;
      return {
        ...(pages ? {} : { id: receivedAnchor(one) }),
        cells: [
          pages ? [{ kind: 'ref', text: entry.ref, to: receivedAnchor(one) }] : entry.ref,
          frameIdText(message.frameId, message.idFormat),
          `${message.idFormat === 'standard' ? '11 bit' : '29 bit'}, ${message.frameFormat ?? 'classic'}`,
          message.length,
          port === null ? open.decide('Port that receives the message', entry.ref) : `${by.id}.${port.id}`,
          joined(
            [...(message.sender === null ? [] : [message.sender]), ...(message.otherSenders ?? [])].map((id) =>
              moduleTitle(pairing, side, id),
            ),
            'unknown',
          ),
          message.send ?? 'cyclic',
          message.cycleMs ?? (cyclic ? open.decide('Cycle time of the received message', entry.ref) : 'none'),
          message.jitterMs ?? open.decide('Jitter of the received message', entry.ref),
          one.routes.some(({ staleAfterMs }) => staleAfterMs !== undefined)
            ? staleText(one)
            : open.decide('Stale limit of the received message', entry.ref),
          message.protection === undefined ? 'none' : (message.protection.algorithm ?? 'counter only'),
          message.protection === undefined ? '–' : `${verifying} of ${one.routes.length} routes`,
          ...(scope.several ? [scope.words(mask)] : []),
          joined(message.documents ?? [], 'none named'),
        ],
      };
    }),
  };
}

function messagePages(one: ReceivedMessage): readonly Block[] {
  const { entry, by, port } = one;
  const { message } = entry;
  const used = usedFields(one);
  const fields = message.signals.map((signal, at): LaidField => ({
    signal,
    number: at + 1,
    look:
      message.protection?.counter === signal.id || message.protection?.checksum === signal.id
        ? 'frame'
        : used.has(signal.id)
          ? 'used'
          : 'other',
  }));
  const shown = fields.filter(({ signal, look }) => look !== 'other' || signal.multiplexed === undefined);
  return [
    {
      kind: 'heading',
      level: 2,
      id: receivedAnchor(one),
      text: `${message.id} — ${message.title ?? frameIdText(message.frameId, message.idFormat)}`,
    },
    {
      kind: 'paragraph',
      text: `Frame id ${frameIdText(message.frameId, message.idFormat)}, ${message.length} bytes, received by ${by.id}${port === null ? '' : ` at port ${port.id}`} from ${sideRef(entry.side, message.bus)}.${message.signals.length === 0 ? ' The frame is relayed whole; its content is not read.' : ''}`,
    },
    ...(message.signals.length === 0
      ? []
      : ([
          {
            kind: 'figure',
            id: `layout-${receivedAnchor(one)}`,
            title: `${message.id}, bits as received`,
            drawing: bitLayout(message, shown),
            note: 'Outlined: used. Accent: counter and checksum. Dashed: not used.',
          },
          {
            kind: 'table',
            id: `fields-${receivedAnchor(one)}`,
            title: `${message.id}, fields used`,
            columns: COLUMNS,
            rows: fieldRows(one),
          },
        ] satisfies Block[])),
    ...(message.protection === undefined ? [] : protectionBlocks(one)),
  ];
}

function protectionBlocks(one: ReceivedMessage): readonly Block[] {
  const { message } = one.entry;
  const protection = message.protection!;
  const { vectors } = protectionVectors(message, protection);
  return [
    { kind: 'keyValues', title: 'Protection, to be verified', entries: protectionEntries(message, protection) },
    ...(vectors.length === 0
      ? []
      : ([
          {
            kind: 'table',
            id: `vectors-${receivedAnchor(one)}`,
            title: `${message.id}, worked frames`,
            columns: VECTOR_COLUMNS,
            rows: vectorCells(message, protection),
          },
        ] satisfies Block[])),
  ];
}
