import { coilWire, interfaceWireCase, switchWire, type WireCase } from '../../examples/wire-case.ts';
import type { WireInput } from '../../examples/documents.ts';

const FEEDS = [
  { id: 'F1', kind: 'ignition', fuseA: 5 },
  { id: 'F2', kind: 'ignition', fuseA: 5 },
] as const;

/** Park lock status through the interface module, and behind it a hard wire of a second contact. */
export function backedUpPair(second: Partial<WireInput> = {}, more: WireCase = {}) {
  const park = { function: 'park-lock-status' } as const;
  return interfaceWireCase({
    source: { ...park, feed: 'F1' },
    target: park,
    donor: { feeds: [...FEEDS] },
    donorWires: [
      switchWire({ ...park, id: 'park-contact-2', at: { connector: 'C2', cavity: '1' }, feed: 'F2', ...second }),
    ],
    hostWires: [coilWire({ ...park, id: 'relay-coil-2', at: { connector: 'C8', cavity: '1' } })],
    routes: [
      {
        id: 'the-backup',
        from: ['donor:park-contact-2'],
        to: 'host:relay-coil-2',
        carrier: 'hard-wire',
        backupOf: 'the-route',
        measured: true,
      },
    ],
    ...more,
    route: { staleAfterMs: 200, ...more.route },
  });
}
