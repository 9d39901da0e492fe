import type { FromToEnd, FromToRow } from '../../wiring/index.ts';
import type { Cell, Row, Section, Table } from '../document/index.ts';
import { cautionText } from '../record/index.ts';
import { fromToColumns } from './from-to-columns.ts';
import { buildCell, circuitAnchor, connectorLink, figure, sizeText, small, twistNames, type Wiring } from './wiring.ts';

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

function fromToTable(wiring: Wiring): Table {
  return {
    kind: 'table',
    id: 'from-to',
    title: 'From–to list',
    columns: fromToColumns(wiring),
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
