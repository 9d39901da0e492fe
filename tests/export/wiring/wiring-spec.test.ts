/**
 * The wiring spec read again from its machine-readable form, by a reader that knows nothing of the plan behind it.
 * Column names: contents of a wiring spec, common practice (IPC/WHMA-A-620 concepts, SAE J1292, NASA-STD-8739.4), as listed in the
 * project's reference. Resistances: ISO 6722-1, most at 20 °C, from memory.
 */
import { describe, expect, it } from 'vitest';
import { UnknownBuildError, checkDocument, wiringSpec } from '../../../src/export/index.ts';
import { smallPairing } from '../../wiring/small-pairing.ts';
import { ISSUE, STOP, findingsOf, rowsOf, samplePairing, tablesIn, type Cells } from '../spec-tables.ts';

const sample = samplePairing();
const findings = findingsOf(sample);
const document = wiringSpec(sample, findings, ISSUE);
const tables = tablesIn(document);
const fromTo = rowsOf(tables, 'from-to');

const FROM_TO_COLUMNS =
  `circuit_id rev function_id signal_name criticality from_connector from_cavity from_terminal from_seal
  from_view to_connector to_cavity to_terminal to_seal wire_type size_value size_unit conductor_area_mm2 colour_base colour_tracer
  cut_length_mm length_tolerance_mm strip_from_mm strip_to_mm branch twist_group shield_id splice_id fuse_id unfused_length_mm
  load_A_continuous load_A_inrush voltage_drop_V zone_max_C covering elec_class_from elec_class_to conditioning variant_expr
  label_from label_to crimp_tool crimp_height_mm pull_force_min_N notes checked_by`.split(/\s+/);
const OTHER_COLUMNS: Readonly<Record<string, readonly string[]>> = {
  'connector-list': 'connector_id maker_part mating_part gender_of_contacts key_code view_drawn TPA_CPA location'.split(
    ' ',
  ),
  cavities: 'connector_id cavity circuit wire terminal seal_or_plug signal elec_class nominal_value'.split(' '),
  'splice-list': 'splice_id location_mm circuits total_area_mm2 method sealing pull_test max_wires'.split(' '),
  bom: 'line part description quantity unit rev used_by'.split(' '),
  labels: 'label_id text position_mm material'.split(' '),
  'test-continuity': 'test_id type points condition limit measured instrument result person_date'.split(' '),
};

describe('the columns a builder needs', () => {
  it('from–to list', () => {
    expect(tables.get('from-to')!.columns.map(({ key }) => key)).toEqual(expect.arrayContaining(FROM_TO_COLUMNS));
  });
  it.each(Object.entries(OTHER_COLUMNS))('%s', (id, keys) => {
    expect(tables.get(id)!.columns.map(({ key }) => key)).toEqual(expect.arrayContaining([...keys]));
  });
});

describe('totals recomputed from the from–to list alone', () => {
  const total = (what: RegExp): unknown =>
    rowsOf(tables, 'totals').find((row) => what.test(String(row['what'])))!['amount'];
  const metres = fromTo.reduce((sum, row) => sum + Number(row['cut_length_mm']), 0) / 1000;

  it('the sample has conductors of known length', () => {
    expect(fromTo.length).toBeGreaterThan(70);
    expect(fromTo.every((row) => typeof row['cut_length_mm'] === 'number')).toBe(true);
  });
  it('conductors and wire', () => {
    expect(total(/^Conductors$/)).toBe(fromTo.length);
    expect(total(/^Wire, sum/)).toBeCloseTo(metres, 9);
  });
  it('the wire of the bill of materials, line by line and in all', () => {
    const byLine = new Map<string, number>();
    for (const row of fromTo) {
      const tracer = row['colour_tracer'] === 'none' ? '' : `-${row['colour_tracer']}`;
      const insulation = String(row['wire_type']).replace(/, to \d+ °C$/, '');
      const line = `${row['size_value']} ${row['size_unit']} ${row['colour_base']}${tracer}, ${insulation}`;
      byLine.set(line, (byLine.get(line) ?? 0) + Number(row['cut_length_mm']) / 1000);
    }
    const wire = rowsOf(tables, 'bom').filter(({ kind }) => kind === 'wire');
    expect(wire.map(({ description }) => description).sort()).toEqual([...byLine.keys()].sort());
    for (const { description, net, spare_percent, quantity } of wire) {
      expect(net, String(description)).toBeCloseTo(byLine.get(String(description))!, 9);
      const wanted = Number(net) * (1 + Number(spare_percent) / 100);
      expect(Number(quantity)).toBeGreaterThanOrEqual(wanted - 1e-9);
      expect(Number(quantity)).toBeLessThan(wanted + 0.1);
    }
    expect(wire.reduce((sum, { net }) => sum + Number(net), 0)).toBeCloseTo(metres, 6);
  });
  it('terminals and seals: one an end that has one', () => {
    const ends = fromTo.flatMap((row) =>
      ['from', 'to'].map((end) => ({ terminal: String(row[`${end}_terminal`]), seal: String(row[`${end}_seal`]) })),
    );
    const count = (kind: string): number =>
      rowsOf(tables, 'bom')
        .filter((row) => row['kind'] === kind)
        .reduce((sum, { net }) => sum + Number(net), 0);
    expect(count('terminal')).toBe(
      ends.filter(({ terminal }) => !/^splice|^stud|onto the conductor/.test(terminal)).length,
    );
    expect(count('seal')).toBe(ends.filter(({ seal }) => /^[A-Z]+-[A-Z]*\d/.test(seal)).length);
  });
  it('labels: both ends of each', () => {
    expect(rowsOf(tables, 'labels')).toHaveLength(2 * fromTo.length);
    expect(rowsOf(tables, 'bom').find(({ kind }) => kind === 'label')!['net']).toBe(2 * fromTo.length);
  });
  it('plugs: one for each empty cavity of a sealed housing', () => {
    const plugged = rowsOf(tables, 'cavities').filter(({ seal_or_plug }) => String(seal_or_plug).startsWith('plug '));
    const bought = rowsOf(tables, 'bom').filter(({ kind }) => kind === 'plug');
    expect(bought.reduce((sum, { net }) => sum + Number(net), 0)).toBe(plugged.length);
    expect(plugged.length).toBeGreaterThan(20);
  });
});

describe('every circuit is reachable from both of its ends', () => {
  const cavities = rowsOf(tables, 'cavities');
  const legs = rowsOf(tables, 'splice-legs');
  it.each(['from', 'to'] as const)('%s', (end) => {
    const lost = fromTo.filter((row) => {
      const [circuit, connector, cavity] = [row['circuit_id'], row[`${end}_connector`], row[`${end}_cavity`]];
      if (cavity === 'splice') return !legs.some((leg) => leg['splice_id'] === connector && leg['circuit'] === circuit);
      if (sample.map.harness!.parts!.some(({ id, at }) => id === connector && at === undefined)) return false;
      return !cavities.some(
        (one) => one['connector_id'] === connector && one['cavity'] === cavity && one['circuit'] === circuit,
      );
    });
    expect(lost.map((row) => row['circuit_id'])).toEqual([]);
  });
  it('and no cavity holds two circuits', () => {
    const used = cavities
      .filter(({ circuit }) => circuit !== 'none')
      .map((row) => `${row['connector_id']}-${row['cavity']}`);
    expect(new Set(used).size).toBe(used.length);
  });
  it('every cavity of every housing is listed, with the harness’s own ones in full', () => {
    for (const { id, cavities: wanted } of sample.map.harness!.connectors) {
      const listed = cavities.filter((row) => row['connector_id'] === id).map(({ cavity }) => cavity);
      expect(listed, id).toEqual(wanted);
    }
  });
  it('on paper each links to the other', () => {
    expect(checkDocument(wiringSpec(sample, findings, { ...ISSUE, arrangement: 'pages' }))).toEqual([]);
    expect(checkDocument(document)).toEqual([]);
  });
});

describe('readings of the test sheet', () => {
  // ISO 6722-1, most at 20 °C, mΩ/m (from memory).
  const MILLIOHM_PER_M: Readonly<Record<string, number>> = {
    '0.5': 37.1,
    '0.75': 24.7,
    '1': 18.5,
    '1.5': 12.7,
    '2.5': 7.6,
    '6': 3.14,
  };
  it('continuity: resistance of the cut length and 20 mΩ', () => {
    const byId = new Map(fromTo.map((row) => [String(row['circuit_id']), row]));
    let checked = 0;
    for (const row of rowsOf(tables, 'test-continuity')) {
      const rows = String(row['circuits'])
        .split(', ')
        .map((id) => byId.get(id)!);
      const perM = rows.map(({ size_value }) => MILLIOHM_PER_M[String(size_value)]);
      if (perM.includes(undefined)) continue;
      const ohm = rows.reduce((sum, { cut_length_mm }, at) => sum + (perM[at]! * Number(cut_length_mm)) / 1e6, 0);
      expect(row['expected_value'], String(row['test_id'])).toBeCloseTo(ohm, 4);
      expect(row['highest']).toBeCloseTo(ohm + 0.02, 4);
      checked += 1;
    }
    expect(checked).toBeGreaterThan(60);
  });
  it('every circuit is touched by the continuity test', () => {
    const touched = new Set(rowsOf(tables, 'test-continuity').flatMap(({ circuits }) => String(circuits).split(', ')));
    expect(fromTo.filter((row) => !touched.has(String(row['circuit_id'])))).toEqual([]);
  });
  it('60 Ω across each bus (ISO 11898-2: 120 Ω at both ends)', () => {
    const across = rowsOf(tables, 'test-bus').filter(({ expected }) => String(expected).includes('across the pair'));
    expect(across.length).toBeGreaterThan(0);
    for (const row of across) {
      expect(row['expected_value']).toBeCloseTo(60, 6);
      expect(Number(row['lowest'])).toBeLessThan(60);
      expect(Number(row['highest'])).toBeGreaterThan(60);
    }
  });
  it('each conductor of an interlock and of a pedal track is opened once (49 CFR 571.124 S5.2)', () => {
    const interlocks = tables
      .get('from-to')!
      .rows.filter(({ mark }) => mark?.text === 'interlock')
      .map(({ cells }) => cells['circuit_id']);
    const opened = rowsOf(tables, 'test-open-wire').map(({ circuits }) => circuits);
    expect(interlocks.length).toBeGreaterThan(10);
    const pedal = fromTo.filter(({ function_id }) => /pedal/.test(String(function_id))).map((row) => row['circuit_id']);
    expect(pedal.length).toBeGreaterThanOrEqual(6);
    expect(opened).toEqual(expect.arrayContaining([...interlocks, ...pedal]));
  });
  it('each interlock route is seen in every state', () => {
    const seen = rowsOf(tables, 'test-interlock').map(({ points }) => String(points));
    expect(seen.filter((points) => points === 'donor:park-neutral → host:starter-coil-low')).toHaveLength(2);
  });
});

/** Cells that nobody is to fill in by hand are never blank. */
function blanks(all: ReturnType<typeof tablesIn>): readonly string[] {
  return [...all.values()].flatMap(({ id, columns, rows }) =>
    rows.flatMap(({ cells }, at) =>
      columns
        .filter(({ kind, key }) => kind !== 'entry' && kind !== 'check' && (cells[key] === null || cells[key] === ''))
        .map(({ key }) => `${id} ${at + 1} ${key}`),
    ),
  );
}

describe('what the documents do not give', () => {
  const poor = smallPairing();
  const poorTables = tablesIn(wiringSpec(poor, findingsOf(poor), ISSUE));
  const opens = (where: ReturnType<typeof tablesIn>, what: RegExp): string =>
    rowsOf(where, 'to-decide')
      .filter((row) => what.test(String(row['what'])))
      .map((row) => row['where'])
      .join(', ');

  it('is never a blank', () => {
    expect(blanks(tables)).toEqual([]);
    expect(blanks(poorTables)).toEqual([]);
  });
  it('reads “to be decided” at its place and stands among the open items', () => {
    const lists = rowsOf(poorTables, 'from-to');
    expect(lists.length).toBeGreaterThan(10);
    for (const row of lists) {
      expect(row['cut_length_mm']).toBe('to be decided');
      expect(opens(poorTables, /^Cut length$/).split(', ')).toContain(row['circuit_id']);
    }
    expect(opens(poorTables, /Crimp height/)).not.toBe('');
  });
  it('what a pairing does give is not listed', () => {
    expect(opens(tables, /^Cut length$/)).toBe('');
    expect(opens(tables, /Key states/)).toBe('');
  });
  it('assumed loads are listed as assumptions', () => {
    const assumed = fromTo.filter(({ load_from }) => load_from === 'assumed');
    const listed = rowsOf(tables, 'assumptions')
      .map(({ of }) => String(of))
      .join(' ');
    expect(assumed.length).toBeGreaterThan(0);
    for (const row of assumed) expect(listed).toMatch(new RegExp(`\\b${row['circuit_id']}\\b`));
  });
});

describe('one build', () => {
  const circuits = (build?: Record<string, string>): readonly unknown[] =>
    rowsOf(tablesIn(wiringSpec(sample, findings, { ...ISSUE, ...(build ? { build } : {}) })), 'from-to').map(
      (row: Cells) => row['circuit_id'],
    );
  it('leaves out what is fitted in other builds only', () => {
    const fourWheel = fromTo
      .filter(({ variant_expr }) => variant_expr === 'drivetrain=4wd')
      .map((row) => row['circuit_id']);
    expect(fourWheel).toContain('139');
    expect(circuits({ drivetrain: '2wd' })).toEqual(circuits().filter((id) => !fourWheel.includes(id as string)));
    expect(circuits({ drivetrain: '4wd' })).toEqual(circuits());
  });
  it('has no column of builds, and files of its own', () => {
    const one = wiringSpec(sample, findings, { ...ISSUE, build: { drivetrain: '4wd', year: '2021' } });
    expect(one.id).toBe('ft6-orrin32-wiring-drivetrain-4wd-year-2021');
    expect(
      tablesIn(one)
        .get('from-to')!
        .columns.map(({ key }) => key),
    ).not.toContain('variant_expr');
  });
  it.each([[{ drivetrain: '6wd' }], [{ engine: 'big' }]])('%j: refused, with the choices there are', (build) => {
    expect(() => wiringSpec(sample, findings, { ...ISSUE, build })).toThrow(UnknownBuildError);
    expect(() => wiringSpec(sample, findings, { ...ISSUE, build })).toThrow(/2wd, 4wd|drivetrain, year/);
  });
});

describe('the mark', () => {
  it('is off while nothing of severity stop is open', () => {
    expect(findings.filter(({ severity, waived }) => severity === 'stop' && waived === null)).toEqual([]);
    expect(document.mark).toBeNull();
  });
  it('is on with one stop, whatever the build, and off again when it is answered', () => {
    const on = wiringSpec(sample, [...findings, STOP], { ...ISSUE, build: { drivetrain: '4wd' } });
    expect(on.mark).toEqual({ text: 'NOT FOR BUILD', reason: expect.stringContaining('routing/not-hard-wired') });
    const waived = { ...STOP, waived: { by: 'A', secondBy: 'B', reason: 'r', on: '2026-01-01' } };
    expect(wiringSpec(sample, [...findings, waived], ISSUE).mark).toBeNull();
  });
});
