import type { Block, Row, Section } from '../document/index.ts';
import { joined } from '../record/index.ts';
import { buildCell, buildColumn, sizeText, twistNames, type Wiring } from './wiring.ts';

/** What is bought, what is cut, what is printed. */
export function materialSections(wiring: Wiring): readonly Section[] {
  return [
    {
      id: 'bill-of-materials',
      title: 'Bill of materials',
      startsPage: true,
      blocks: [totals(wiring), bomTable(wiring)],
    },
    {
      id: 'cutting',
      title: 'Cut list',
      startsPage: true,
      page: { paper: 'A3', orientation: 'landscape' },
      intro: 'By size, colour and length, so that a reel is mounted once.',
      blocks: [cutTable(wiring)],
    },
    { id: 'labelling', title: 'Label list', startsPage: true, blocks: [labelTable(wiring)] },
  ];
}

/** An amount: a number for programs; on paper with the decimals of its own unit, metres and pieces being in one column. */
function amount({ pages }: Wiring, value: number, decimals: number): number | string {
  return pages ? value.toFixed(decimals) : Number(value.toFixed(decimals));
}

function bomTable(wiring: Wiring): Block {
  const { plan, open, pairing } = wiring;
  return {
    kind: 'table',
    id: 'bom',
    title: 'Bill of materials',
    columns: [
      { key: 'line', title: 'Line', kind: 'number', weight: 5, role: 'key' },
      { key: 'kind', title: 'Kind', kind: 'text', weight: 9 },
      { key: 'part', title: 'Part', kind: 'text', weight: 18 },
      { key: 'description', title: 'Description', kind: 'text', weight: 44 },
      { key: 'net', title: 'Built in', kind: 'number', weight: 9 },
      { key: 'spare_percent', title: 'Spare', kind: 'number', weight: 6, unit: '%' },
      { key: 'quantity', title: 'Buy', kind: 'number', weight: 8 },
      { key: 'unit', title: 'Unit', kind: 'text', weight: 5 },
      { key: 'rev', title: 'Rev', kind: 'text', weight: 4 },
      { key: 'used_by', title: 'Used by', kind: 'text', weight: 44 },
      { key: 'lacks', title: 'Lacks the length of', kind: 'text', weight: 14 },
    ],
    rows: plan.bom.map((line): Row => ({
      cells: [
        line.line,
        line.kind,
        line.part ??
          (line.kind === 'label' || line.kind === 'wire' || line.kind === 'covering' || line.kind === 'splice'
            ? open.decide('Maker and part number of bulk material, by line of the bill', String(line.line))
            : open.decide('Part number, by line of the bill', String(line.line))),
        sizeText(line.description),
        amount(wiring, line.net, line.unit === 'm' ? 3 : 0),
        line.sparePercent,
        amount(wiring, line.quantity, line.unit === 'm' ? 1 : 0),
        line.unit,
        pairing.map.revision,
        usedText(line.usedBy),
        joined(line.without, 'none'),
      ],
      ...(line.without.length === 0 ? {} : { mark: { tone: 'caution', text: 'incomplete' } as const }),
    })),
    whenEmpty: 'Nothing is to be built.',
    note: `Wire and coverings in metres, all else each. Spare: ${plan.settings.sparePercent} % on what is cut, crimped or printed; metres up to the next tenth.`,
  };
}

/** Most users of a line that are named; the rest are counted. */
const MOST_USERS = 60;

function usedText(usedBy: readonly string[]): string {
  const counts = new Map<string, number>();
  for (const user of usedBy) counts.set(user, (counts.get(user) ?? 0) + 1);
  const named = [...counts].map(([user, count]) => (count === 1 ? user : `${user} (${count})`));
  return named.length <= MOST_USERS
    ? named.join(', ')
    : `${named.slice(0, MOST_USERS).join(', ')} and ${named.length - MOST_USERS} more`;
}

function totals(wiring: Wiring): Block {
  const { conductors, wireM, weightG, connectors, splices, withoutLength } = wiring.plan.totals;
  return {
    kind: 'table',
    id: 'totals',
    title: 'Totals',
    columns: [
      { key: 'what', title: 'What', kind: 'text', weight: 40, role: 'key' },
      { key: 'amount', title: 'Amount', kind: 'number', weight: 14 },
      { key: 'unit', title: 'Unit', kind: 'text', weight: 8 },
    ],
    rows: [
      { cells: ['Conductors', amount(wiring, conductors, 0), 'each'] },
      { cells: ['Wire, sum of the cut lengths', amount(wiring, wireM, 3), 'm'] },
      {
        cells: [
          'Conductors whose length is not known and which the sum lacks',
          amount(wiring, withoutLength, 0),
          'each',
        ],
      },
      { cells: ['Weight of the wire', amount(wiring, weightG / 1000, 3), 'kg'] },
      { cells: ['Housings', amount(wiring, connectors, 0), 'each'] },
      { cells: ['Splices', amount(wiring, splices, 0), 'each'] },
    ],
  };
}

function cutTable(wiring: Wiring): Block {
  const { plan, open } = wiring;
  return {
    kind: 'table',
    id: 'cut-list',
    title: 'Cut list',
    columns: [
      { key: 'circuit', title: 'Circuit', kind: 'code', weight: 8, role: 'key' },
      { key: 'size', title: 'Size', kind: 'text', weight: 9 },
      { key: 'colour', title: 'Colour', kind: 'code', weight: 7 },
      { key: 'wire_type', title: 'Wire type', kind: 'text', weight: 40 },
      { key: 'cut_length_mm', title: 'Cut length', kind: 'number', weight: 8, unit: 'mm' },
      { key: 'tolerance_mm', title: '±', kind: 'number', weight: 6, unit: 'mm' },
      { key: 'strip_from_mm', title: 'Strip', kind: 'number', weight: 6, unit: 'mm', group: 'From' },
      { key: 'terminal_from', title: 'Terminal', kind: 'text', weight: 20, group: 'From' },
      { key: 'seal_from', title: 'Seal', kind: 'text', weight: 8, group: 'From' },
      { key: 'label_from', title: 'Label', kind: 'code', weight: 34, group: 'From' },
      { key: 'strip_to_mm', title: 'Strip', kind: 'number', weight: 6, unit: 'mm', group: 'To' },
      { key: 'terminal_to', title: 'Terminal', kind: 'text', weight: 20, group: 'To' },
      { key: 'seal_to', title: 'Seal', kind: 'text', weight: 8, group: 'To' },
      { key: 'label_to', title: 'Label', kind: 'code', weight: 34, group: 'To' },
      { key: 'twist_group', title: 'Twisted', kind: 'text', weight: 7 },
      { key: 'pull_N', title: 'Pull, least', kind: 'number', weight: 7, unit: 'N', decimals: 1 },
      ...buildColumn(wiring),
      { key: 'done', title: 'Cut', kind: 'check', weight: 4 },
    ],
    rows: plan.cut.map((row): Row => ({
      cells: [
        row.circuit,
        sizeText(row.size),
        row.colour,
        row.insulation,
        row.cutLengthMm ?? open.decide('Cut length', row.circuit),
        row.toleranceMm ?? open.decide('Cut length', row.circuit),
        row.stripFromMm,
        row.terminalFrom ?? jointWords(wiring, row.circuit, 'from'),
        row.sealFrom ?? 'none',
        row.labelFrom,
        row.stripToMm,
        row.terminalTo ?? jointWords(wiring, row.circuit, 'to'),
        row.sealTo ?? 'none',
        row.labelTo,
        row.twistGroup === null ? 'no' : (twistNames(wiring).get(row.twistGroup) ?? row.twistGroup),
        row.pullForceN ?? 'not in the table',
        ...buildCell(wiring, row.options),
        null,
      ],
    })),
    whenEmpty: 'Nothing is to be cut.',
  };
}

/** What an end without a terminal gets. */
function jointWords({ plan }: Wiring, circuit: string, which: 'from' | 'to'): string {
  const joint = plan.fromTo.find((row) => row.circuit === circuit)?.[which].joint;
  switch (joint) {
    case 'splice':
      return 'splice';
    case 'tap':
      return 'onto the vehicle’s';
    default:
      return 'see from–to list';
  }
}

function labelTable(wiring: Wiring): Block {
  return {
    kind: 'table',
    id: 'labels',
    title: 'Labels',
    columns: [
      { key: 'label_id', title: 'Label', kind: 'code', weight: 12, role: 'key' },
      { key: 'text', title: 'Text', kind: 'code', weight: 44 },
      { key: 'place', title: 'At', kind: 'code', weight: 22 },
      { key: 'position_mm', title: 'From the connector face', kind: 'number', weight: 12, unit: 'mm' },
      { key: 'material', title: 'Material', kind: 'text', weight: 28 },
      ...buildColumn(wiring),
      { key: 'done', title: 'Fitted', kind: 'check', weight: 5 },
    ],
    rows: wiring.plan.labels.map((label): Row => ({
      cells: [
        label.label,
        label.text,
        label.place,
        label.fromFaceMm,
        label.material,
        ...buildCell(wiring, label.options),
        null,
      ],
    })),
    whenEmpty: 'There is nothing to label.',
    note: 'One at each end of every conductor. The sleeve must stand the highest zone temperature of its circuit.',
  };
}
