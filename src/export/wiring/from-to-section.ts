import type { FromToEnd, FromToRow } from '../../wiring/index.ts';
import type { Cell, Column, Row, Section, Table } from '../document/index.ts';
import { cautionText } from '../record/index.ts';
import {
  buildCell,
  buildColumn,
  circuitAnchor,
  connectorLink,
  figure,
  sizeText,
  small,
  twistNames,
  type Wiring,
} from './wiring.ts';

/** The from–to list: one row a conductor, every column that a builder needs. */
export function fromToSection(wiring: Wiring): Section {
  return {
    id: 'from-to-section',
    title: 'From–to list',
    startsPage: true,
    page: { paper: 'A3', orientation: 'landscape' },
    intro: `${wiring.plan.fromTo.length} conductors. Cut nothing before the first article is measured.`,
    blocks: [
      {
        kind: 'caution',
        tone: 'stop',
        text: `${cautionText('safety rows')} Rows marked interlock carry such a function.`,
      },
      fromToTable(wiring),
    ],
  };
}

function columnsOf(wiring: Wiring): readonly Column[] {
  return [
    { key: 'circuit_id', title: 'Circuit', kind: 'code', weight: 9, role: 'key' },
    { key: 'rev', title: 'Rev', kind: 'text', weight: 4, group: 'Identity' },
    { key: 'function_id', title: 'Function', kind: 'code', weight: 26, group: 'Identity' },
    { key: 'signal_name', title: 'Signal, both platforms', kind: 'text', weight: 40, group: 'Identity' },
    { key: 'criticality', title: 'Criticality, role', kind: 'text', weight: 18, group: 'Identity' },
    { key: 'from_connector', title: 'Connector', kind: 'code', weight: 11, group: 'From' },
    { key: 'from_cavity', title: 'Cavity', kind: 'code', weight: 7, group: 'From' },
    { key: 'from_terminal', title: 'Terminal, plating', kind: 'text', weight: 20, group: 'From' },
    { key: 'from_seal', title: 'Seal', kind: 'text', weight: 12, group: 'From' },
    { key: 'from_view', title: 'View', kind: 'text', weight: 10, group: 'From' },
    { key: 'to_connector', title: 'Connector', kind: 'code', weight: 11, group: 'To' },
    { key: 'to_cavity', title: 'Cavity', kind: 'code', weight: 7, group: 'To' },
    { key: 'to_terminal', title: 'Terminal, plating', kind: 'text', weight: 20, group: 'To' },
    { key: 'to_seal', title: 'Seal', kind: 'text', weight: 12, group: 'To' },
    { key: 'to_view', title: 'View', kind: 'text', weight: 10, group: 'To' },
    { key: 'wire_type', title: 'Wire type', kind: 'text', weight: 30, group: 'Conductor' },
    { key: 'size_value', title: 'Size', kind: 'number', weight: 6, group: 'Conductor' },
    { key: 'size_unit', title: 'Size unit', kind: 'text', weight: 5, group: 'Conductor' },
    {
      key: 'conductor_area_mm2',
      title: 'Metal area',
      kind: 'number',
      weight: 7,
      unit: 'mm²',
      decimals: 3,
      group: 'Conductor',
    },
    { key: 'colour_base', title: 'Base colour', kind: 'code', weight: 7, group: 'Conductor' },
    { key: 'colour_tracer', title: 'Tracer', kind: 'code', weight: 7, group: 'Conductor' },
    { key: 'cut_length_mm', title: 'Cut length', kind: 'number', weight: 8, unit: 'mm', group: 'Conductor' },
    { key: 'length_tolerance_mm', title: 'Tolerance ±', kind: 'number', weight: 9, unit: 'mm', group: 'Conductor' },
    { key: 'strip_from_mm', title: 'Strip, from', kind: 'number', weight: 7, unit: 'mm', group: 'Conductor' },
    { key: 'strip_to_mm', title: 'Strip, to', kind: 'number', weight: 7, unit: 'mm', group: 'Conductor' },
    { key: 'branch', title: 'Way through the harness', kind: 'code', weight: 26, group: 'Routing' },
    { key: 'twist_group', title: 'Twist group, pitch', kind: 'text', weight: 26, group: 'Routing' },
    { key: 'shield_id', title: 'Shield, grounded end', kind: 'text', weight: 16, group: 'Routing' },
    { key: 'splice_id', title: 'Splice', kind: 'code', weight: 16, group: 'Routing' },
    { key: 'covering', title: 'Covering', kind: 'text', weight: 22, group: 'Routing' },
    { key: 'zone_max_C', title: 'Zone, most', kind: 'number', weight: 7, unit: '°C', group: 'Routing' },
    { key: 'fuse_id', title: 'Fuse, rating', kind: 'text', weight: 16, group: 'Load and protection' },
    {
      key: 'unfused_length_mm',
      title: 'Source to fuse',
      kind: 'number',
      weight: 8,
      unit: 'mm',
      group: 'Load and protection',
    },
    {
      key: 'load_A_continuous',
      title: 'Load, continuous',
      kind: 'number',
      weight: 9,
      unit: 'A',
      decimals: 3,
      group: 'Load and protection',
    },
    { key: 'load_from', title: 'Load known from', kind: 'text', weight: 10, group: 'Load and protection' },
    { key: 'load_A_inrush', title: 'Inrush', kind: 'number', weight: 8, unit: 'A', group: 'Load and protection' },
    {
      key: 'voltage_drop_V',
      title: 'Drop of the loop',
      kind: 'number',
      weight: 9,
      unit: 'V',
      decimals: 3,
      group: 'Load and protection',
    },
    {
      key: 'voltage_drop_limit_V',
      title: 'Limit',
      kind: 'number',
      weight: 8,
      unit: 'V',
      decimals: 3,
      group: 'Load and protection',
    },
    {
      key: 'ampacity_A',
      title: 'Ampacity here',
      kind: 'number',
      weight: 9,
      unit: 'A',
      decimals: 1,
      group: 'Load and protection',
    },
    { key: 'elec_class_from', title: 'Class, from', kind: 'text', weight: 18, group: 'Electrical' },
    { key: 'elec_class_to', title: 'Class, to', kind: 'text', weight: 18, group: 'Electrical' },
    { key: 'conditioning', title: 'Conditioning', kind: 'text', weight: 36, group: 'Electrical' },
    ...buildColumn(wiring).map((column): Column => ({ ...column, group: 'Build' })),
    { key: 'label_from', title: 'Label, from', kind: 'code', weight: 30, group: 'Build' },
    { key: 'label_to', title: 'Label, to', kind: 'code', weight: 30, group: 'Build' },
    { key: 'crimp_tool', title: 'Crimp tool, die', kind: 'text', weight: 12, group: 'Build' },
    { key: 'crimp_height_mm', title: 'Crimp height', kind: 'text', weight: 12, unit: 'mm', group: 'Build' },
    {
      key: 'pull_force_min_N',
      title: 'Pull force, least',
      kind: 'number',
      weight: 8,
      unit: 'N',
      decimals: 1,
      group: 'Build',
    },
    { key: 'notes', title: 'Notes', kind: 'text', weight: 60, group: 'Build' },
    { key: 'checked_by', title: 'Checked by, date', kind: 'entry', weight: 14, group: 'Build' },
  ];
}

function fromToTable(wiring: Wiring): Table {
  return {
    kind: 'table',
    id: 'from-to',
    title: 'From–to list',
    columns: columnsOf(wiring),
    rows: wiring.plan.fromTo.map((row) => rowOf(wiring, row)),
    whenEmpty: 'The map has no conductor of an added harness in the builds covered.',
    note: 'Colours: IEC 60757. Cut length: way over the segments, twist and service allowance, rounded up. Strip lengths are shop practice by size; the terminal maker’s sheet governs. Drop of the loop: the conductor with its stub and its return, at the zone’s temperature. Pull force: UL 486A class. Ampacity: insulation and zone temperature, derated for the fullest bundle on the way.',
  };
}

function rowOf(wiring: Wiring, row: FromToRow): Row {
  const { open, pairing } = wiring;
  const unknown = (what: string): string => open.decide(what, row.circuit);
  for (const what of row.missing) unknown(what);
  const end = (one: FromToEnd): readonly Cell[] => endCells(wiring, row, one);
  const crimped = row.from.joint !== 'splice' || row.to.joint !== 'splice';
  const cells: readonly Cell[] = [
    row.circuit,
    pairing.map.revision,
    row.functionIds.join(', ') || 'none of the catalogue',
    row.signals.join('\n') || 'none named',
    `${row.criticality ?? 'none known'}${row.role === null ? '' : `, ${row.role}`}`,
    ...end(row.from),
    ...end(row.to),
    `${row.insulation}, to ${row.insulationMaxC} °C`,
    row.sizeValue,
    row.sizeUnit,
    row.areaMm2,
    row.colourBase,
    row.colourTracer ?? 'none',
    row.cutLengthMm ?? unknown('Cut length'),
    row.toleranceMm ?? unknown('Cut length'),
    row.from.stripMm,
    row.to.stripMm,
    row.branch.join(' → ') || unknown('Way through the harness'),
    row.twistGroup === null ? 'none' : twistText(wiring, row),
    row.shielded ? shieldText(wiring, row) : 'none',
    row.splice ?? 'none',
    row.coverings.join(', ') || unknown('Covering'),
    row.zoneBy === 'assumed' ? `${row.zoneMaxC} (assumed)` : row.zoneMaxC,
    fuseText(row, unknown),
    unfusedCell(wiring, row),
    small(row.loadA, 3),
    row.loadBy,
    row.inrushA ?? 'none stated',
    row.loopDropV === null
      ? row.dropLimitV === null
        ? 'not limited'
        : unknown('Voltage drop (needs the cut length)')
      : small(row.loopDropV, 3),
    row.dropLimitV === null ? '–' : small(row.dropLimitV, 3),
    figure(row.ampacityA),
    row.from.electricalClass ?? classWords(row.from),
    row.to.electricalClass ?? classWords(row.to),
    row.conditioning.join('; ') || 'none',
    ...buildCell(wiring, row.options),
    row.from.label,
    row.to.label,
    crimped ? unknown('Crimp tool and die, from the terminal maker') : 'splice',
    crimped ? unknown('Crimp height, from the terminal maker') : 'splice',
    row.pullForceN ?? unknown('Least pull force: the size lies outside the table'),
    notesOf(row),
    null,
  ];
  return {
    id: circuitAnchor(row.circuit),
    cells,
    ...(row.criticality === 'interlock' ? { mark: { tone: 'stop', text: 'interlock' } as const } : {}),
  };
}

/** Connector, cavity, terminal, seal, view of one end. */
function endCells(wiring: Wiring, row: FromToRow, end: FromToEnd): readonly Cell[] {
  const { open, pageOf } = wiring;
  const unknown = (what: string): string => open.decide(what, row.circuit);
  switch (end.joint) {
    case 'splice':
      return [end.place, 'splice', 'splice', 'by splice list', 'none'];
    case 'ring':
      return [
        end.place,
        'stud',
        `${sizeText(end.terminal ?? unknown('Ring terminal'))}, plating ${unknown('Plating of the terminal')}`,
        'adhesive shrink',
        'none',
      ];
    case 'unknown':
      return [
        end.place,
        unknown('Place of an end'),
        unknown('Place of an end'),
        unknown('Place of an end'),
        unknown('Place of an end'),
      ];
    case 'tap':
      return [
        end.connector === null ? end.place : connectorLink(wiring, end.connector),
        end.cavity ?? unknown('Cavity'),
        'spliced onto the conductor of the vehicle',
        'adhesive shrink',
        viewWords(end) ?? unknown('View in which the connector’s cavities are numbered'),
      ];
    case 'terminal': {
      const page = end.connector === null ? undefined : pageOf.get(end.connector);
      // A part without a housing of its own has its leads soldered or crimped on.
      const leads = end.kind === 'part' && page === undefined;
      return [
        end.connector === null ? end.place : connectorLink(wiring, end.connector),
        end.cavity ?? unknown('Cavity'),
        leads
          ? `lead of ${end.connector ?? end.place}: joint ${unknown('How the lead of a part without a housing is joined')}`
          : `${end.terminal ?? unknown('Terminal part')}, plating ${unknown('Plating of the terminal')}`,
        leads
          ? 'adhesive shrink'
          : page === undefined
            ? unknown('Whether the connector is sealed')
            : page.sealed
              ? (end.seal ?? unknown('Cavity seal part'))
              : 'not sealed',
        leads ? 'none' : (viewWords(end) ?? unknown('View in which the connector’s cavities are numbered')),
      ];
    }
  }
}

function viewWords({ view }: FromToEnd): string | null {
  return view === null ? null : view === 'wire-side' ? 'wire side' : 'mating side';
}

/** Where an end has no class of its own: a joint of conductors, or a part. */
function classWords({ joint, kind }: FromToEnd): string {
  return joint === 'splice' ? 'splice' : kind === 'part' ? 'part' : joint === 'ring' ? 'ground stud' : 'not said';
}

/** The group, its pitch, and the other conductors of it. */
function twistText(wiring: Wiring, { twistGroup, twistPitchMm, circuit }: FromToRow): string {
  const twist = wiring.plan.twists.find(({ group }) => group === twistGroup);
  const name = twistNames(wiring).get(twistGroup ?? '') ?? twistGroup ?? '';
  const others = (twist?.circuits ?? []).filter((other) => other !== circuit);
  return `${name}, pitch ${twistPitchMm} mm${others.length === 0 ? '' : `, with ${others.join(', ')}`}`;
}

function shieldText({ plan }: Wiring, { circuit }: FromToRow): string {
  return plan.twists.find(({ circuits, shielded }) => shielded && circuits.includes(circuit))?.drain ?? 'shielded';
}

function fuseText({ fuse, fuseA, kind }: FromToRow, unknown: (what: string) => string): string {
  if (fuse === null) return kind === 'feed' ? unknown('Fuse of a feed') : 'none: signal or return';
  return `${fuse}, ${fuseA === null ? unknown('Rating of the fuse') : `${fuseA} A`}`;
}

/** A fuse of the vehicle lies before the harness; one in line lies in it, near the source. */
function unfusedCell({ plan }: Wiring, { fuse }: FromToRow): Cell {
  if (fuse === null) return '–';
  const row = plan.fuses.find((entry) => entry.fuse === fuse);
  return row?.place === 'in-line' ? `≤ ${row.mostUnfusedMm}` : 0;
}

function notesOf(row: FromToRow): string {
  const notes = [
    row.note,
    row.sizeBy === 'computed' || row.sizeBy === 'assumed' ? `size ${row.sizeBy}: ${sizeText(row.sizeReason)}` : null,
    row.colourBy === 'assigned' ? 'colour assigned' : null,
    row.loadBy === 'assumed' ? 'load assumed: verify' : null,
  ];
  return (
    notes
      .filter((note) => note !== null && note !== '')
      .map((note) => (note ?? '').replace(/[.;\s]+$/, ''))
      .join('; ') || '–'
  );
}
