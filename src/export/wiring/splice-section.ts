import type { Block, Row, Section } from '../document/index.ts';
import {
  buildCell,
  buildColumn,
  circuitLinks,
  figure,
  spliceAnchor,
  sizeText,
  twistNames,
  type Wiring,
} from './wiring.ts';

/** Splices, twisted groups and the way of the bundle. */
export function spliceSection(wiring: Wiring): Section {
  return {
    id: 'splices',
    title: 'Splices and twisted groups',
    startsPage: true,
    blocks: [spliceTable(wiring), legTable(wiring), twistTable(wiring)],
  };
}

function spliceTable(wiring: Wiring): Block {
  const { plan, open } = wiring;
  return {
    kind: 'table',
    id: 'splice-list',
    title: 'Splices',
    columns: [
      { key: 'splice_id', title: 'Splice', kind: 'code', weight: 18, role: 'key' },
      { key: 'location_mm', title: 'Location', kind: 'number', weight: 10, unit: 'mm' },
      { key: 'datum', title: 'From', kind: 'code', weight: 16 },
      { key: 'node', title: 'At node', kind: 'code', weight: 8 },
      { key: 'placed', title: 'Placed', kind: 'text', weight: 12 },
      { key: 'circuits', title: 'Conductors', kind: 'code', weight: 30 },
      { key: 'count', title: 'Wires', kind: 'number', weight: 6 },
      { key: 'max_wires', title: 'Most', kind: 'number', weight: 6 },
      { key: 'total_area_mm2', title: 'Total area', kind: 'number', weight: 8, unit: 'mm²', decimals: 2 },
      { key: 'method', title: 'Method', kind: 'text', weight: 24 },
      { key: 'sealing', title: 'Sealing', kind: 'text', weight: 22 },
      { key: 'pull_test', title: 'Pull force, least', kind: 'number', weight: 8, unit: 'N', decimals: 1 },
      ...buildColumn(wiring),
    ],
    rows: plan.splices.map((splice): Row => {
      const unknown = (what: string): string => open.decide(what, splice.splice);
      return {
        id: spliceAnchor(splice.splice),
        cells: [
          splice.splice,
          splice.fromMm ?? unknown('Location of the splice'),
          splice.fromPlace ?? unknown('Location of the splice'),
          splice.node ?? unknown('Location of the splice'),
          splice.placedBy === null
            ? unknown('Location of the splice')
            : splice.placedBy === 'hand'
              ? 'by hand'
              : 'least copper',
          circuitLinks(
            wiring,
            splice.conductors.map(({ circuit }) => circuit),
          ),
          splice.conductors.length,
          splice.maxWires,
          splice.totalAreaMm2,
          splice.method,
          splice.sealing,
          splice.pullForceN ?? unknown('Pull force of the splice'),
          ...buildCell(wiring, splice.options),
        ],
        ...(splice.tooMany ? { mark: { tone: 'caution', text: 'too many wires' } as const } : {}),
      };
    }),
    whenEmpty: 'No place is shared: the harness has no splice.',
    note: `Keep splices ${plan.splices[0]?.keepClearMm ?? 50} mm clear of branches and connectors, and apart from one another.`,
  };
}

function legTable(wiring: Wiring): Block {
  return {
    kind: 'table',
    id: 'splice-legs',
    title: 'Conductors in each splice',
    columns: [
      { key: 'splice_id', title: 'Splice', kind: 'code', weight: 18, role: 'key' },
      { key: 'circuit', title: 'Circuit', kind: 'code', weight: 9, role: 'key' },
      { key: 'size', title: 'Size', kind: 'text', weight: 10 },
      { key: 'area_mm2', title: 'Metal area', kind: 'number', weight: 8, unit: 'mm²', decimals: 3 },
      { key: 'colour', title: 'Colour', kind: 'code', weight: 8 },
      { key: 'leads_to', title: 'Leads to', kind: 'code', weight: 26 },
      ...buildColumn(wiring),
    ],
    rows: wiring.plan.splices.flatMap(({ splice, conductors }) =>
      conductors.map((leg): Row => ({
        cells: [
          splice,
          circuitLinks(wiring, [leg.circuit]),
          sizeText(leg.size),
          figure(leg.areaMm2, 4),
          leg.colour,
          leg.leadsTo,
          ...buildCell(wiring, leg.options),
        ],
      })),
    ),
    whenEmpty: 'The harness has no splice.',
  };
}

function twistTable(wiring: Wiring): Block {
  const { plan, open } = wiring;
  return {
    kind: 'table',
    id: 'twists',
    title: 'Twisted and shielded groups',
    columns: [
      { key: 'twist_group', title: 'Group', kind: 'code', weight: 6, role: 'key' },
      { key: 'of', title: 'Of', kind: 'code', weight: 32 },
      { key: 'circuits', title: 'Conductors', kind: 'code', weight: 24 },
      { key: 'pitch_mm', title: 'Pitch', kind: 'number', weight: 7, unit: 'mm' },
      { key: 'length_m', title: 'Length', kind: 'number', weight: 8, unit: 'm', decimals: 2 },
      { key: 'cut_length_mm', title: 'Cut length, each', kind: 'number', weight: 9, unit: 'mm' },
      { key: 'untwisted_mm', title: 'Untwisted at ends, most', kind: 'number', weight: 10, unit: 'mm' },
      { key: 'shield', title: 'Shield', kind: 'text', weight: 34 },
      ...buildColumn(wiring),
    ],
    rows: plan.twists.map((twist): Row => ({
      cells: [
        twistNames(wiring).get(twist.group) ?? twist.group,
        twist.group,
        circuitLinks(wiring, twist.circuits),
        twist.pitchMm,
        twist.lengthM ?? open.decide('Length of a twisted group', twist.group),
        twist.cutLengthMm ?? open.decide('Length of a twisted group', twist.group),
        twist.untwistedMaxMm,
        twist.drain ?? 'none',
        ...buildCell(wiring, twist.options),
      ],
    })),
    whenEmpty: 'No conductors are twisted together.',
  };
}
