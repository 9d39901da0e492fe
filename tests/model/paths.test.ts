import { describe, expect, it } from 'vitest';
import { coilCommander, pair, pathsOf, type PairingDocuments, type Route } from '../../src/model/index.ts';
import { interfaceWireCase, moduleWithPins, wireCase } from '../../src/checks/examples/wire-case.ts';
import { numberCase } from '../../src/checks/examples/frame-case.ts';
import { backedUpPair } from '../../src/checks/rules/routing/backup-examples.ts';

function paths(documents: PairingDocuments, id = 'the-route') {
  const pairing = pair(documents.map, documents.host, documents.donor);
  return pathsOf(pairing, pairing.routes.get(id) as Route);
}
const carried = (documents: PairingDocuments, id?: string) =>
  paths(documents, id).map(({ elements }) =>
    elements
      .filter(({ role }) => role === 'carries')
      .map(({ kind, ref, programmable }) => `${kind} ${ref}${programmable ? '!' : ''}`),
  );

describe('path of a route', () => {
  it('of a hard wire is the wire, its connectors and nothing programmable between', () => {
    const [path, ...more] = paths(wireCase());
    expect(more).toEqual([]);
    expect(path?.hard).toBe(true);
    expect(path?.elements.map(({ kind, ref, role }) => `${role} ${kind} ${ref}`)).toEqual([
      'source switch donor:range-switch',
      'carries wire donor:range-contact',
      'carries connector donor:C1',
      'carries wire host:relay-coil',
      'carries connector host:C7',
      'reads relay host:starter-relay',
    ]);
  });

  it('through an interface module has pin, firmware and pin in series', () => {
    expect(carried(interfaceWireCase())).toEqual([
      [
        'wire donor:range-contact',
        'connector donor:C1',
        'pin xm.in1',
        'connector X1',
        'interface xm!',
        'pin xm.out1',
        'connector X1',
        'wire host:relay-coil',
        'connector host:C7',
      ],
    ]);
    expect(paths(interfaceWireCase())[0]?.hard).toBe(false);
  });

  it('over two buses has both, and both ports', () => {
    expect(carried(numberCase())).toEqual([
      ['bus donor:drive-can!', 'port xm.B', 'interface xm!', 'port xm.A', 'bus host:body-can!'],
    ]);
    const [path] = paths(numberCase());
    expect([path?.source, path?.reader]).toEqual(['donor:FromEngine.OilTemp', 'host:cluster']);
  });

  it('names feed and ground of the interface module and of the wire, and the cavities that supply a sensor', () => {
    const documents = interfaceWireCase({
      source: {
        feed: 'F1',
        ground: 'G1',
        electrical: {
          class: 'ratiometric-5v',
          supplyAt: { connector: 'C5', cavity: '1' },
          returnAt: { connector: 'C6', cavity: '2' },
        },
      },
      map: { interfaceModules: [moduleWithPins({ feed: 'host:F9', ground: 'host:G9' })] },
    });
    const supplied = paths(documents)[0]!
      .elements.filter(({ role }) => role === 'supplies')
      .map(({ kind, ref }) => `${kind} ${ref}`);
    expect(supplied).toEqual([
      'feed donor:F1',
      'ground donor:G1',
      'connector donor:C5',
      'connector donor:C6',
      'feed host:F9',
      'ground host:G9',
    ]);
  });

  it('has one path for each source and each retained reader', () => {
    const documents = wireCase({ target: { readers: ['cluster', 'old-ecm'] } });
    // The old engine controller is removed: it reads nothing.
    expect(paths(documents).map(({ reader }) => reader)).toEqual(['host:starter-relay', 'host:cluster']);
  });

  it('of an unknown source or target is none', () => {
    expect(paths(wireCase({ route: { from: ['donor:nothing'] } }))).toEqual([]);
    expect(paths(wireCase({ route: { to: 'host:nothing' } }))).toEqual([]);
  });

  it('knows which route it backs up', () => {
    expect(paths(backedUpPair(), 'the-backup')[0]?.backupOf).toBe('the-route');
    expect(paths(backedUpPair())[0]?.backupOf).toBeNull();
  });
});

describe('harness parts in series', () => {
  const through = (part: object) =>
    wireCase({
      route: { via: ['K1'] },
      map: {
        interfaceModules: [moduleWithPins()],
        harness: {
          connectors: [],
          nodes: [{ id: 'S1', kind: 'splice' }],
          segments: [],
          circuits: [],
          parts: [{ id: 'K1', title: 'Relay', kind: 'relay', ...part }],
        },
      },
    });

  it.each([
    ['an output pin of the interface module', { coilBy: 'xm.out1' }],
    ['the interface module', { coilBy: 'xm' }],
    ['a control unit', { coilBy: 'donor:engine' }],
    ['a terminal joined to an output pin', { terminals: { '86': 'xm.out1' } }],
  ])('a relay switched by %s is firmware in series', (_what, part) => {
    const [path] = paths(through(part));
    expect(path?.hard).toBe(false);
    expect(path?.elements.find(({ ref }) => ref === 'K1')).toMatchObject({ kind: 'relay', programmable: true });
  });

  it.each([
    ['a contact', { coilBy: 'donor:range-contact' }],
    ['a switch', { coilBy: 'donor:range-switch' }],
    ['nothing stated', {}],
  ])('a relay switched by %s is not', (_what, part) => {
    expect(paths(through(part))[0]?.hard).toBe(true);
  });

  it('a relay whose coil wire is driven by an interface route of the map is firmware in series', () => {
    const { map, host, donor } = interfaceWireCase();
    const pairing = pair(map, host, donor);
    expect(coilCommander(pairing, 'host:relay-coil')).toContain('the-route');
    expect(coilCommander(pairing, 'donor:range-contact')).toBeNull();
  });

  it('a splice is named, and carries without deciding', () => {
    expect(
      carried(
        wireCase({
          route: { via: ['S1'] },
          map: { harness: { connectors: [], nodes: [{ id: 'S1', kind: 'splice' }], segments: [], circuits: [] } },
        }),
      )[0],
    ).toContain('splice S1');
  });
});
