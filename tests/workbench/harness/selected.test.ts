import { expect, test } from 'vitest';
import type { Finding } from '../../../src/checks/index.ts';
import { findingsInPlace } from '../../../src/workbench/places/harness/findings-in-place.ts';
import { selectedBy } from '../../../src/workbench/places/harness/selected.ts';
import { samplePairing } from '../loom/sample.ts';
import { indexOf } from './planned.ts';

const pairing = samplePairing();
const index = indexOf(pairing);
const ids = (subject: string): readonly string[] =>
  selectedBy(index, pairing, subject).circuits.map((key) => index.byKey.get(key)!.conductor.circuit.id);

test.each([
  ['circuit:103', 'circuit', ['103']],
  ['circuit:route:park-neutral/1', 'circuit', ['103']],
  ['route:park-neutral', 'circuit', ['103']],
  ['route:wake', 'circuits', ['106', '107']],
  ['xm.in7', 'circuit', ['148']],
  ['connector:host:X2/1', 'connector', ['104']],
  ['cavity:host:X2/1', 'connector', ['104']],
  ['splice:host:X1/41', 'splice', ['113', '114', '115']],
  ['splice:splice:host:X1/41', 'splice', ['113', '114', '115']],
  ['module:host:bcm', 'nothing', []],
  ['circuit:none', 'nothing', []],
  ['host:BrakeStatus1.VehicleSpeed', 'nothing', []],
] as const)('%s is %s', (subject, kind, circuits) => {
  expect(selectedBy(index, pairing, subject).kind).toBe(kind);
  expect(ids(subject)).toEqual(circuits);
});

test('feeds, grounds, buses, wires, parts and interface modules find their circuits', () => {
  expect(ids('feed:host:F30')).toContain('104');
  expect(ids('part:k1')).toContain('176');
  expect(ids('k1')).toContain('176');
  expect(ids('xm')).toEqual(expect.arrayContaining(['169', '170']));
  expect(ids('bus:host:chassis-can').length).toBeGreaterThan(1);
  const wire = pairing.routes.get('park-neutral')!.to;
  expect(ids(wire)).toContain('103');
});

test('segments, nodes and connectors say what runs there', () => {
  expect(ids('segment:s-nX4-b1')).toContain('110');
  expect(ids('node:b1')).toContain('104');
  expect(ids('connector:host:X2')).toContain('104');
});

function finding(subject: string, severity: Finding['severity'] = 'fix'): Finding {
  return {
    rule: 'wire/any',
    severity,
    subject,
    message: `about ${subject}`,
    why: '',
    values: [],
    options: [],
    mask: 1n,
    mend: null,
    waived: null,
  };
}

test('findings of any rule are sorted by what their subject is', () => {
  const waived = { by: 'A', secondBy: null, reason: 'r', on: '2026-01-31' };
  const found = findingsInPlace(index, pairing, [
    finding('circuit:104', 'stop'),
    finding('route:wake'),
    finding('connector:host:X2/1'),
    finding('segment:s-nX4-b1', 'look'),
    finding('node:p1'),
    finding('splice:host:X1/41'),
    { ...finding('circuit:103'), waived },
    finding('host:BrakeStatus1.VehicleSpeed'),
  ]);
  const of = (id: string): readonly string[] =>
    (found.circuits.get(index.byId.get(id)!.conductor.circuit.key) ?? []).map(({ subject }) => subject);
  expect(of('104')).toEqual(['circuit:104', 'connector:host:X2/1']);
  expect(of('106')).toEqual(['route:wake']);
  expect(of('107')).toEqual(['route:wake']);
  expect(of('103')).toEqual([]);
  expect(found.connectors.get('host:X2')).toHaveLength(1);
  expect(found.segments.get('s-nX4-b1')).toHaveLength(1);
  expect(found.nodes.get('p1')).toHaveLength(1);
  expect(found.splices.get('splice:host:X1/41')).toHaveLength(1);
  expect(found.count).toBe(6);
});
