import { sideRef } from '../../model/index.ts';
import type { Row, Section } from '../document/index.ts';
import { ref } from '../document/index.ts';
import { frameIdText } from '../record/index.ts';
import { routeAnchor, type Translation } from './translation.ts';

/** Diagnostic frames that pass through, and the rules for them. */
export function diagnosticSection(translation: Translation): Section {
  const { pairing, routes, context, scope } = translation;
  const rows = routes.flatMap((route): Row[] => {
    const target = pairing.find(route.to);
    const source = pairing.find(route.from[0] ?? '');
    if (target === null || source === null || target.kind === 'wire' || source.kind === 'wire') return [];
    const kind = target.message.diagnostic ?? source.message.diagnostic;
    if (kind === undefined) return [];
    const id = (entry: typeof source): string =>
      `${frameIdText(entry.message.frameId, entry.message.idFormat)} on ${sideRef(entry.side, entry.message.bus)}`;
    const same =
      source.message.frameId === target.message.frameId && source.message.idFormat === target.message.idFormat;
    return [
      {
        cells: [
          [ref(route.id, routeAnchor(route.id))],
          kind,
          id(source),
          id(target),
          same ? 'kept' : 'changed',
          route.carrier === 'bus' ? 'none: byte for byte' : 'translated',
          route.note ?? '–',
          ...(scope.several ? [scope.words(context.maskOf(route))] : []),
        ],
        ...(route.carrier === 'bus' ? {} : { mark: { tone: 'caution', text: 'not byte for byte' } as const }),
      },
    ];
  });
  return {
    id: 'diagnostics',
    title: 'Diagnostics that pass through',
    startsPage: true,
    blocks: [
      {
        kind: 'table',
        id: 'diagnostic-routes',
        title: 'Diagnostic frames relayed',
        columns: [
          { key: 'route', title: 'Route', kind: 'code', weight: 24, role: 'key' },
          { key: 'kind', title: 'Kind', kind: 'text', weight: 9 },
          { key: 'from', title: 'Received', kind: 'code', weight: 32 },
          { key: 'to', title: 'Sent', kind: 'code', weight: 32 },
          { key: 'id', title: 'Frame id', kind: 'text', weight: 9 },
          { key: 'content', title: 'Change of content', kind: 'text', weight: 18 },
          { key: 'note', title: 'Note', kind: 'text', weight: 44 },
          ...(scope.several ? [{ key: 'builds', title: 'Builds', kind: 'text', weight: 12 } as const] : []),
        ],
        rows,
        whenEmpty: 'No diagnostic frame passes through the interface modules.',
      },
      {
        kind: 'list',
        style: 'bullet',
        entries: [
          'A relayed frame leaves with the bytes and the length it came with; no answer is made up, held back or altered.',
          'Frames of segmented messages (first, consecutive, flow control; ISO 15765-2) keep their order. A frame is relayed within the interface’s period and latency; time-outs of the tester and of the modules must still hold with that delay added, once each way.',
          'What the map does not state is for the firmware author to fix: how many frames a queue holds, what happens when it is full, and how long the gap between consecutive frames on the slower bus may be.',
          'The interface module’s own identification must not answer at an id listed here.',
        ],
      },
    ],
  };
}
