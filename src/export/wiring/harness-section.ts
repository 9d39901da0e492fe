import type { Block, Drawing, Row, Section, Shape } from '../document/index.ts';
import { joined } from '../record/index.ts';
import { circuitLinks, figure, type Wiring } from './wiring.ts';

/** The drawn harness and its segments. */
export function harnessSection(wiring: Wiring): Section {
  return {
    id: 'harness',
    title: 'Harness drawing',
    startsPage: true,
    page: { paper: 'A3', orientation: 'landscape' },
    blocks: [...drawing(wiring), segmentTable(wiring), nodeTable(wiring)],
  };
}

function drawing({ plan, pairing }: Wiring): readonly Block[] {
  const { drawing: drawn } = plan;
  if (drawn.shapes.length === 0) return [{ kind: 'paragraph', text: drawn.description }];
  const shapes = drawn.shapes.map(({ about: _about, ...shape }): Shape => shape);
  const figure: Drawing = {
    width: drawn.widthMm,
    height: drawn.heightMm,
    unitMm: 1,
    description: drawn.description,
    shapes,
  };
  return [
    {
      kind: 'figure',
      id: 'harness-drawing',
      title: pairing.map.harness?.title ?? 'Harness',
      drawing: figure,
      note: `${drawn.toScale ? 'True to scale along the segments' : 'Not to scale'}: lengths in metres stand beside the segments and govern. Datum of every length is the node a segment is named from.`,
    },
  ];
}

function segmentTable(wiring: Wiring): Block {
  const { plan, open } = wiring;
  return {
    kind: 'table',
    id: 'segments',
    title: 'Segments',
    columns: [
      { key: 'segment', title: 'Segment', kind: 'code', weight: 14, role: 'key' },
      { key: 'from', title: 'From', kind: 'code', weight: 9 },
      { key: 'to', title: 'To', kind: 'code', weight: 9 },
      { key: 'length_m', title: 'Length', kind: 'number', weight: 8, unit: 'm', decimals: 2 },
      { key: 'covering', title: 'Covering', kind: 'text', weight: 22 },
      { key: 'zone_max_C', title: 'Zone, most', kind: 'number', weight: 8, unit: '°C' },
      { key: 'clamp_m', title: 'Clamp every', kind: 'number', weight: 8, unit: 'm', decimals: 2 },
      { key: 'bundle_mm', title: 'Bundle', kind: 'number', weight: 8, unit: 'mm', decimals: 1 },
      { key: 'covered_mm', title: 'With covering', kind: 'number', weight: 8, unit: 'mm', decimals: 1 },
      { key: 'hole_mm', title: 'Narrowest hole', kind: 'number', weight: 8, unit: 'mm' },
      { key: 'bend_mm', title: 'Bend radius, least', kind: 'number', weight: 9, unit: 'mm' },
      { key: 'weight_g', title: 'Weight', kind: 'number', weight: 8, unit: 'g' },
      { key: 'circuits', title: 'Conductors', kind: 'code', weight: 60 },
    ],
    rows: plan.segments.map((segment): Row => {
      const unknown = (what: string): string => open.decide(what, segment.segment);
      return {
        cells: [
          segment.segment,
          segment.from,
          segment.to,
          segment.lengthM,
          segment.covering ?? unknown('Covering of a segment'),
          segment.maxC ?? unknown('Zone temperature of a segment'),
          segment.clampEveryM ?? unknown('Spacing of clamps'),
          figure(segment.bundleMm),
          figure(segment.coveredMm),
          segment.holeMm ?? 'none',
          Math.ceil(segment.bendRadiusMm),
          Math.ceil(segment.weightG),
          circuitLinks(wiring, segment.circuits),
        ],
        ...(segment.passes === false ? { mark: { tone: 'stop', text: 'does not pass' } as const } : {}),
      };
    }),
    whenEmpty: 'The map has no segments: ways, lengths and bundles are to be decided.',
  };
}

function nodeTable({ pairing, open }: Wiring): Block {
  const nodes = pairing.map.harness?.nodes ?? [];
  return {
    kind: 'table',
    id: 'nodes',
    title: 'Nodes',
    columns: [
      { key: 'node', title: 'Node', kind: 'code', weight: 10, role: 'key' },
      { key: 'kind', title: 'Kind', kind: 'text', weight: 14 },
      { key: 'title', title: 'Title', kind: 'text', weight: 36 },
      { key: 'holds', title: 'Holds', kind: 'code', weight: 16 },
      { key: 'hole_mm', title: 'Hole', kind: 'number', weight: 8, unit: 'mm' },
      { key: 'zone', title: 'Zone', kind: 'text', weight: 16 },
      { key: 'note', title: 'Note', kind: 'text', weight: 40 },
    ],
    rows: nodes.map(({ id, kind, title, connector, ground, part, holeMm, zone, note }): Row => ({
      cells: [
        id,
        kind,
        title ?? '–',
        joined(
          [connector, ground, part].filter((held) => held !== undefined),
          'nothing',
        ),
        holeMm ?? (kind === 'pass-through' ? open.decide('Hole of a pass-through', id) : 'none'),
        zone ?? open.decide('Zone of a node', id),
        note ?? '–',
      ],
    })),
    whenEmpty: 'The map has no nodes.',
  };
}
