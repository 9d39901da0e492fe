import { describe, expect, test } from 'vitest';
import type { Finding } from '../../../src/checks/index.ts';
import { concernedRows } from '../../../src/workbench/places/loom/concerned.ts';
import { filterGroups, isFound, NO_FILTER } from '../../../src/workbench/places/loom/filter.ts';
import { layLoom, type LoomRow, type Strand } from '../../../src/workbench/places/loom/layout.ts';
import { rowName } from '../../../src/workbench/places/loom/names.ts';
import { loomOf, samplePairing } from './sample.ts';

const pairing = samplePairing();
const groups = loomOf(pairing);
const rows = groups.flatMap((group) => group.rows);
const strands = rows.filter((row): row is Strand => row.kind === 'strand');

function strand(id: string, among: readonly LoomRow[] = rows): Strand {
  const found = among.find((row) => row.id === `route:${id}`);
  if (found?.kind !== 'strand') throw new Error(`no strand ${id}`);
  return found;
}

describe('the layout of the loom', () => {
  test('has every route in exactly one row', () => {
    const ids = strands.map(({ route }) => route.id).sort();
    expect(ids).toEqual(pairing.map.routes.map(({ id }) => id).sort());
  });

  test('hangs every end on the edge of its side, each on a line of its own', () => {
    for (const { route, left, right, lines } of strands) {
      const refs = [...route.from, route.to];
      expect(left.map(({ ref }) => ref).sort()).toEqual(refs.filter((ref) => ref.startsWith('host:')).sort());
      expect(right.map(({ ref }) => ref).sort()).toEqual(refs.filter((ref) => ref.startsWith('donor:')).sort());
      for (const edge of [left, right]) expect(edge.map(({ line }) => line)).toEqual(edge.map((_, at) => at));
      expect(lines).toBe(Math.max(left.length, right.length));
    }
  });

  test('gives each end its role: sources offer, the target needs', () => {
    for (const { route, left, right } of strands)
      for (const end of [...left, ...right]) expect(end.role).toBe(end.ref === route.to ? 'need' : 'offer');
  });

  test('does not depend on the order of the routes in the document', () => {
    const turned = loomOf(samplePairing((map) => ({ ...map, routes: map.routes.toReversed() })));
    expect(turned.map(({ id, rows: own }) => [id, own.map((row) => row.id)])).toEqual(
      groups.map(({ id, rows: own }) => [id, own.map((row) => row.id)]),
    );
  });

  test('counts the strands of a group by carrier', () => {
    const sum = (carrier: 'hard-wire' | 'interface' | 'bus'): number =>
      groups.reduce((total, group) => total + group.byCarrier[carrier], 0);
    for (const carrier of ['hard-wire', 'interface', 'bus'] as const)
      expect(sum(carrier)).toBe(pairing.map.routes.filter((route) => route.carrier === carrier).length);
  });

  test('names the pin or port where an interface strand enters and leaves', () => {
    for (const route of pairing.map.routes.filter(({ carrier }) => carrier === 'interface')) {
      const { left, right } = strand(route.id);
      const target = [...left, ...right].find(({ ref, role }) => ref === route.to && role === 'need')!;
      if (route.leaves !== undefined) expect(target.joint).toBe(route.leaves);
      const pins = [...left, ...right].filter(({ role, bus }) => role === 'offer' && bus === null);
      expect(pins.map(({ joint }) => joint).sort()).toEqual([...(route.enters ?? [])].sort());
    }
  });

  test('hangs a need whose route is taken away as a loose end of the same group', () => {
    const gone = pairing.routes.get('vehicle-speed')!;
    const without = loomOf(samplePairing((map) => ({ ...map, routes: map.routes.filter(({ id }) => id !== gone.id) })));
    const group = without.find(({ rows: own }) => own.some(({ id }) => id === gone.to));
    expect(group?.loose).toBe(1);
    expect(group?.rows.find(({ id }) => id === gone.to)?.kind).toBe('loose');
    expect(groups.find(({ rows: own }) => own.some(({ id }) => id === 'route:vehicle-speed'))?.id).toBe(group?.id);
  });

  test('puts findings on the strand they concern, the worst first, waived ones not', () => {
    const finding = (subject: string, severity: Finding['severity'], isWaived: boolean): Finding => ({
      rule: 'route/example',
      severity,
      subject,
      message: '',
      why: '',
      values: [],
      options: [],
      mask: 1n,
      mend: null,
      waived: isWaived ? { by: 'A', secondBy: null, reason: 'r', on: '2026-01-31' } : null,
    });
    const { to } = pairing.routes.get('vehicle-speed')!;
    const marked = layLoom(
      pairing,
      [],
      [
        finding('route:vehicle-speed', 'look', false),
        finding(to, 'fix', false),
        finding('route:yaw-rate', 'stop', true),
      ],
    ).flatMap((group) => group.rows);
    expect(strand('vehicle-speed', marked)).toMatchObject({ findings: 2, worst: 'fix' });
    expect(strand('yaw-rate', marked)).toMatchObject({ findings: 0, worst: null });
  });
});

describe('finding rows', () => {
  test('search wants all words, in any order and case', () => {
    const row = strand('vehicle-speed');
    expect(isFound(row, 'SPEED vehicle')).toBe(true);
    expect(isFound(row, 'speed zebra')).toBe(false);
    expect(isFound(row, '  ')).toBe(true);
  });

  test('a carrier filter keeps that carrier alone and drops empty groups', () => {
    const kept = filterGroups(groups, { ...NO_FILTER, carrier: 'bus' }, () => 1n);
    expect(kept.flatMap((group) => group.rows).every((row) => row.kind === 'strand' && row.carrier === 'bus')).toBe(
      true,
    );
    expect(kept.every(({ rows: own }) => own.length > 0)).toBe(true);
    expect(kept.flatMap((group) => group.rows)).toHaveLength(5);
  });

  test('a build keeps the strands of that build', () => {
    const maskOf = ({ route }: Strand): bigint => pairing.options.maskOf(route.when);
    const at = pairing.options.combinations.findIndex((build) => build.get('drivetrain') === '2wd');
    const kept = filterGroups(groups, { ...NO_FILTER, build: 1n << BigInt(at) }, maskOf).flatMap((group) => group.rows);
    const only4wd = pairing.map.routes.filter(({ when }) => when?.['drivetrain']?.join() === '4wd');
    expect(only4wd.length).toBeGreaterThan(0);
    for (const { id } of only4wd) expect(kept.some((row) => row.id === `route:${id}`)).toBe(false);
    expect(kept.some(({ id }) => id === 'route:vehicle-speed')).toBe(true);
  });

  test('a selected signal, message, module, bus or pin concerns its strands', () => {
    const { from, to } = pairing.routes.get('vehicle-speed')!;
    expect(concernedRows(groups, from[0]!, pairing)).toContain('route:vehicle-speed');
    expect(concernedRows(groups, to, pairing)).toEqual(['route:vehicle-speed']);
    expect(concernedRows(groups, to.slice(0, to.indexOf('.')), pairing)).toContain('route:vehicle-speed');
    expect(concernedRows(groups, 'bus:host:chassis-can', pairing)).toContain('route:vehicle-speed');
    expect(concernedRows(groups, 'module:host:abs', pairing)).toContain('route:vehicle-speed');
    const leaving = pairing.map.routes.find(({ leaves }) => leaves !== undefined)!;
    expect(concernedRows(groups, `${leaving.by}.${leaving.leaves}`, pairing)).toContain(`route:${leaving.id}`);
    expect(concernedRows(groups, null, pairing)).toEqual([]);
  });

  test('the spoken name of a strand tells carrier, ends and their modules', () => {
    expect(rowName(strand('vehicle-speed'))).toMatch(
      /interface through xm, from host BrakeStatus1\.VehicleSpeed \(abs\) to donor BrakeData1\.VehicleSpeed \(\w+\)$/,
    );
    expect(rowName(strand('park-neutral'))).toContain('hard wire, from donor');
  });
});
