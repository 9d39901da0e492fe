import type { TestRow } from '../../wiring/index.ts';
import type { Column, Row, Section, Table } from '../document/index.ts';
import { cautionText } from '../record/index.ts';
import { buildCell, buildColumn, circuitLinks, limitText, type Wiring } from './wiring.ts';

interface Kind {
  readonly kind: TestRow['kind'];
  readonly title: string;
  /** The word of the test's type in the machine-readable forms. */
  readonly type: 'continuity' | 'isolation' | 'voltage_drop' | 'function';
  readonly whenEmpty: string;
}

const KINDS: readonly Kind[] = [
  {
    kind: 'continuity',
    title: 'Continuity',
    type: 'continuity',
    whenEmpty: 'There is nothing to test for continuity.',
  },
  {
    kind: 'isolation',
    title: 'Isolation between neighbours',
    type: 'isolation',
    whenEmpty: 'No two circuits are neighbours in a housing.',
  },
  { kind: 'bus', title: 'Buses', type: 'function', whenEmpty: 'The harness touches no bus.' },
  {
    kind: 'feed-voltage',
    title: 'Feeds, fuse in and out',
    type: 'function',
    whenEmpty: 'The harness carries no feed.',
  },
  {
    kind: 'drop',
    title: 'Voltage drop under load',
    type: 'voltage_drop',
    whenEmpty: 'No conductor carries enough current for a measurable drop.',
  },
  {
    kind: 'interlock',
    title: 'Interlock truth table',
    type: 'function',
    whenEmpty: 'No interlock function is carried by this harness.',
  },
  {
    kind: 'open-wire',
    title: 'Single wire open',
    type: 'function',
    whenEmpty: 'No interlock function is carried by this harness.',
  },
];

/** The check sheet: every reading with what is expected and within which limit, and room for what was read. */
export function testSection(wiring: Wiring): Section {
  return {
    id: 'tests',
    title: 'Test sheet',
    startsPage: true,
    intro:
      'In this order: the harness on the bench first, then in the vehicle. Write the reading, not only a tick; instrument with its calibration date.',
    blocks: [
      ...KINDS.slice(0, 2).map((kind) => testTable(wiring, kind)),
      { kind: 'caution', tone: 'caution', text: cautionText('wiring spec') },
      ...KINDS.slice(2, 5).map((kind) => testTable(wiring, kind)),
      { kind: 'caution', tone: 'stop', text: `${cautionText('safety rows')} ${cautionText('commissioning sheet')}` },
      ...KINDS.slice(5).map((kind) => testTable(wiring, kind)),
      acceptanceTable(wiring),
    ],
  };
}

/** The same reading and limits as numbers, for programs. */
const NUMBER_COLUMNS: readonly Column[] = [
  { key: 'expected_value', title: 'Expected, number', kind: 'number', weight: 8 },
  { key: 'lowest', title: 'Lowest', kind: 'number', weight: 8 },
  { key: 'highest', title: 'Highest', kind: 'number', weight: 8 },
  { key: 'unit', title: 'Unit', kind: 'text', weight: 5 },
];

function columnsOf(wiring: Wiring): readonly Column[] {
  return [
    { key: 'test_id', title: 'Test', kind: 'code', weight: 6, role: 'key' },
    { key: 'type', title: 'Type', kind: 'text', weight: 9 },
    { key: 'points', title: 'Points', kind: 'code', weight: 28 },
    { key: 'circuits', title: 'Circuits', kind: 'code', weight: 12 },
    { key: 'condition', title: 'Condition', kind: 'text', weight: 46 },
    { key: 'expected', title: 'Expected', kind: 'text', weight: 24 },
    { key: 'limit', title: 'Limit', kind: 'text', weight: 14 },
    ...(wiring.pages ? [] : NUMBER_COLUMNS),
    { key: 'measured', title: 'Measured', kind: 'entry', weight: 10 },
    { key: 'instrument', title: 'Instrument, calibration', kind: 'entry', weight: 14 },
    { key: 'result', title: 'Pass', kind: 'check', weight: 5 },
    { key: 'person_date', title: 'Person, date', kind: 'entry', weight: 12 },
    ...buildColumn(wiring),
  ];
}

function testTable(wiring: Wiring, { kind, title, type, whenEmpty }: Kind): Table {
  const rows = wiring.plan.tests.filter((test) => test.kind === kind);
  const usual = mostCommon(rows.map(({ instrument }) => instrument));
  const sources = [...new Set(rows.map(({ source }) => source))];
  return {
    kind: 'table',
    id: `test-${kind}`,
    title,
    sheetName: `Test ${title}`,
    columns: columnsOf(wiring),
    rows: rows.map((test): Row => ({
      cells: [
        test.test,
        type,
        test.points.join(' → '),
        circuitLinks(wiring, test.circuits),
        test.instrument === usual ? test.condition : `${test.condition}; ${test.instrument}`,
        test.expected,
        limitText(test.lowest, test.highest, test.unit) ?? 'as expected',
        ...(wiring.pages ? [] : [test.expectedValue ?? '–', test.lowest ?? '–', test.highest ?? '–', test.unit ?? '–']),
        null,
        null,
        null,
        null,
        ...buildCell(wiring, test.options),
      ],
    })),
    whenEmpty,
    ...(usual === null
      ? {}
      : {
          note: `With: ${usual}.${sources.length > 6 ? '' : ` Limits: ${sources.join('; ')}.`}`,
        }),
  };
}

/** The instrument that most of the tests ask for; null when there are none. */
function mostCommon(words: readonly string[]): string | null {
  const counts = new Map<string, number>();
  for (const word of words) counts.set(word, (counts.get(word) ?? 0) + 1);
  return (
    [...counts].reduce<readonly [string, number] | null>(
      (best, one) => (best === null || one[1] > best[1] ? one : best),
      null,
    )?.[0] ?? null
  );
}

/** Tests of the pack as a whole, with where their limits come from. */
const ACCEPTANCE: readonly { readonly test: string; readonly limit: string; readonly source: string }[] = [
  {
    test: 'Crimp pull and crimp height, samples of each set-up',
    limit: 'at least 5 pulls a set-up, 25 for capability, at 25.4 mm/min; force by the from–to list',
    source: 'crimp handbook',
  },
  {
    test: 'Insulation resistance, all modules disconnected',
    limit: '≥ 10 … 100 MΩ at 100 … 500 V DC; reading steady, at most 1 minute',
    source: 'NASA-STD-8739.4 para 18.2; limits from memory',
  },
  {
    test: 'Dielectric withstand',
    limit: 'only if specified; never with electronics fitted; a low-voltage harness normally skips it',
    source: 'NASA-STD-8739.4, notes on connector rating',
  },
  {
    test: 'Stop lamp and reverse lamp',
    limit: 'stop lamp on with the pedal; reverse lamp on in reverse only',
    source: '49 CFR 571.108',
  },
  {
    test: 'Starter and shift lock, every lever position',
    limit: 'crank in P and N only; lamp, brake and shift lock by the truth table',
    source: '49 CFR 571.102 S3.1.3; 571.114',
  },
  { test: 'Current asleep after 30 minutes', limit: 'the budget below', source: 'common practice' },
  {
    test: 'Diagnostic connector: vehicle identity, readiness, codes, malfunction lamp, calibration identity',
    limit: 'every emission module answers',
    source: '40 CFR 86.1806',
  },
];

function acceptanceTable({ pairing, open }: Wiring): Table {
  const known = pairing.map.interfaceModules.flatMap(({ id, sleepMa }) =>
    sleepMa === undefined ? [] : [`${id} ${sleepMa} mA`],
  );
  const budget = `interface modules: ${known.length === 0 ? open.decide('Current asleep of the interface modules', 'test sheet') : known.join(', ')}; whole vehicle: ${open.decide('Budget of the current asleep of the whole vehicle', 'test sheet')}`;
  return {
    kind: 'table',
    id: 'acceptance',
    title: 'Acceptance of the pack and commissioning',
    sheetName: 'Test acceptance',
    columns: [
      { key: 'test', title: 'Test', kind: 'text', weight: 44, role: 'key' },
      { key: 'limit', title: 'Limit', kind: 'text', weight: 52 },
      { key: 'source', title: 'Source', kind: 'text', weight: 30 },
      { key: 'measured', title: 'Measured', kind: 'entry', weight: 14 },
      { key: 'result', title: 'Pass', kind: 'check', weight: 5 },
      { key: 'person_date', title: 'Person, date', kind: 'entry', weight: 14 },
    ],
    rows: ACCEPTANCE.map(({ test, limit, source }): Row => ({
      cells: [test, limit === 'the budget below' ? budget : limit, source, null, null, null],
    })),
  };
}
