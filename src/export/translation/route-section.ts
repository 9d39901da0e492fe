import type { Route } from '../../model/index.ts';
import {
  routeFormula,
  routeSentence,
  routeTables,
  type RouteAnalysis,
  type RouteTable,
  type CompileResult,
} from '../../translate/index.ts';
import type { Block, Column, KeyValues, Row, Section } from '../document/index.ts';
import { cautionText, carrierRuleWords, gathered, type SubjectRows } from '../record/index.ts';
import { ageBudget, type TimedBus } from './bus-timing.ts';
import { integerLines, lossEntries, proofText } from './integer-form.ts';
import { functionTable, overviewTable, timingTable } from './route-tables.ts';
import { endpointText, groupTitle, lossText, rangeWords, routeTitle, startWords } from './route-words.ts';
import { routeAnchor, type Translation } from './translation.ts';
import { routeVectors } from './vectors.ts';

export function routeSections(translation: Translation, buses: readonly TimedBus[]): readonly Section[] {
  const overview: Section = {
    id: 'route-overview',
    title: 'Routes and functions',
    startsPage: true,
    blocks: [
      { kind: 'caution', tone: 'stop', text: cautionText('safety rows') },
      overviewTable(translation),
      timingTable(translation, buses),
      functionTable(translation),
    ],
  };
  return [overview, translation.pages ? inPages(translation, buses) : inSheets(translation)];
}

/** Functions whose value is a speed or a distance that the law protects. */
const ODOMETER = new Set(['vehicle-speed', 'distance-travelled', 'wheel-speeds', 'transmission-output-speed']);

function inPages(translation: Translation, buses: readonly TimedBus[]): Section {
  const { routes, context } = translation;
  const groups = new Map<string, Route[]>();
  // What the firmware does comes first; conductors it has no part in stand at the end.
  const headings = routes.map((route) => {
    if (route.carrier === 'hard-wire') return 'Hard wires: the firmware has no part in these';
    const group = context.functionOf(route)?.group;
    return group === undefined ? 'Others' : groupTitle(group);
  });
  routes.forEach((route, at) => groups.set(headings[at]!, [...(groups.get(headings[at]!) ?? []), route]));
  const rank = (heading: string): number => (heading.startsWith('Hard wires') ? 2 : heading === 'Others' ? 1 : 0);
  return {
    id: 'routes-in-full',
    title: 'Each route in full',
    startsPage: true,
    blocks: [...groups]
      .sort(([a], [b]) => rank(a) - rank(b))
      .flatMap(([heading, own]): Block[] => [
        { kind: 'heading', level: 2, text: heading },
        ...own.flatMap((route) => routeBlocks(translation, buses, route)),
      ]),
  };
}

function routeBlocks(translation: Translation, buses: readonly TimedBus[], route: Route): readonly Block[] {
  const { context } = translation;
  const analysis = context.analysis(route);
  const entry = context.functionOf(route);
  const vectors = statesOnly(analysis) ? null : vectorTable(translation, route, analysis);
  return [
    { kind: 'heading', level: 3, id: routeAnchor(route.id), text: `${route.id} — ${routeTitle(route, entry)}` },
    { kind: 'paragraph', text: routeSentence(analysis) },
    ...(entry !== null && ODOMETER.has(entry.id)
      ? [{ kind: 'caution', tone: 'caution', text: cautionText('vehicle-speed rows') } as const]
      : []),
    { kind: 'keyValues', entries: routeEntries(translation, buses, route, analysis) },
    { kind: 'formula', text: routeFormula(analysis) },
    ...integerBlocks(translation, route, analysis),
    ...routeTables(analysis).map((table, at): Block => ({
      kind: 'table',
      id: `${routeAnchor(route.id)}-table-${at + 1}`,
      title: `${route.id}: ${table.title}`,
      columns: tableColumns(table),
      rows: table.rows.map((cells) => ({ cells })),
    })),
    ...(vectors === null ? [] : [vectors]),
  ];
}

/** The same arithmetic in integers, with what is proved of it. */
function integerBlocks({ compiled }: Translation, route: Route, analysis: RouteAnalysis): readonly Block[] {
  const result = compiled(route);
  switch (result?.kind) {
    case undefined:
    case 'frame':
      return [];
    case 'refused':
      return [{ kind: 'caution', tone: 'stop', text: `No integer form: ${result.why}` }];
    case 'values':
      // A plain look-up of states is the table below already.
      if (statesOnly(analysis) && result.program.nodes.every(({ kind }) => kind === 'table'))
        return [{ kind: 'paragraph', text: `Written without a value: ${lossEntries(result)}.` }];
      return [
        { kind: 'formula', title: 'As integers', text: integerLines(result).join('\n') },
        { kind: 'paragraph', text: `${proofText(result)} Written without a value: ${lossEntries(result)}.` },
      ];
  }
}

/** One state in, one state out: the tables of the route are its worked cases already. */
function statesOnly({ sources, target }: RouteAnalysis): boolean {
  return sources.length === 1 && sources[0]?.kind === 'state' && target?.kind === 'state';
}

function tableColumns({ columns, rows }: RouteTable): readonly Column[] {
  return columns.map((title, at): Column => ({
    key: `c${at + 1}`,
    title,
    kind: 'text',
    weight: Math.max(6, Math.min(50, Math.max(title.length, ...rows.map((row) => row[at]?.length ?? 0)) + 2)),
  }));
}

function routeEntries(
  translation: Translation,
  buses: readonly TimedBus[],
  route: Route,
  analysis: RouteAnalysis,
): KeyValues['entries'] {
  const { pairing, context, scope } = translation;
  const entry = context.functionOf(route);
  const is = context.classOfRoute(route);
  const entries: { label: string; value: string }[] = [];
  const say = (label: string, value: string | null): void => {
    if (value !== null && value !== '') entries.push({ label, value });
  };
  say(
    'Function',
    entry === null || is === null
      ? 'none of the catalogue'
      : `${entry.id}: ${is.criticality}; carrier: ${carrierRuleWords(is.carrierRule)}; safe state: ${entry.safeState}`,
  );
  route.from.forEach((source, at) =>
    say(route.from.length === 1 ? 'From' : `From, source ${at + 1}`, endpointText(pairing, source)),
  );
  say('To', endpointText(pairing, route.to));
  if (route.enters !== undefined || route.leaves !== undefined)
    say(
      'Pins',
      [
        ...(route.enters ?? []).map((pin) => `in at ${route.by}.${pin}`),
        ...(route.leaves === undefined ? [] : [`out at ${route.by}.${route.leaves}`]),
      ].join('; '),
    );
  if (route.via !== undefined && route.via.length > 0) say('Via', route.via.join(', '));
  if (route.backupOf !== undefined) say('Backup of', route.backupOf);
  if (route.carrier !== 'hard-wire') {
    const { totalMs, lacks } = ageBudget(translation, buses, route);
    const parts = [
      route.staleAfterMs === undefined ? 'no stale limit given' : `stale after ${route.staleAfterMs} ms`,
      ...(route.carrier === 'interface'
        ? [
            `back after ${route.recoverAfter ?? 1} good ${route.recoverAfter === undefined || route.recoverAfter === 1 ? 'sample' : 'samples'}`,
            route.verifySource === true ? 'counter and checksum of the source verified' : 'source not verified',
          ]
        : []),
      `before the first sample: ${startWords(route, analysis, translation.compiled(route)) ?? (route.carrier === 'bus' ? 'nothing is sent' : 'not said')}`,
      `worst age ${lacks.length === 0 ? '' : 'at least '}${totalMs} ms${is?.staleAfterMs ? ` of ${is.staleAfterMs} ms tolerable` : ''}`,
    ];
    say('Timing', parts.join('; '));
  }
  say('Arithmetic', rangeWords(analysis).join('; '));
  if (route.carrier !== 'hard-wire') say('On loss', lossText(analysis, translation.compiled(route)));
  const evidence =
    route.assumed === true
      ? 'assumed: verify on the vehicle'
      : route.measured === true
        ? 'measured'
        : 'from the documents of both platforms';
  say('Evidence', scope.several ? `${evidence}; builds: ${scope.words(context.maskOf(route))}` : evidence);
  say('Note', route.note ?? null);
  return entries;
}

const VECTOR_NAMES: readonly Column[] = [
  { key: 'case', title: 'Case', kind: 'text', weight: 22 },
  { key: 'in', title: 'In', kind: 'text', weight: 36 },
  { key: 'delivered', title: 'Delivered', kind: 'text', weight: 18 },
  { key: 'out', title: 'Written', kind: 'text', weight: 34 },
  { key: 'note', title: 'Note', kind: 'text', weight: 26 },
];

function vectorRows(translation: Translation, route: Route, analysis: RouteAnalysis): readonly Row[] {
  // A conductor has nothing to be tested on the bench of the firmware.
  if (route.carrier === 'hard-wire') return [];
  return routeVectors(analysis, translation.compiled(route)).map(({ name, inputs, delivered, written, note }): Row => ({
    cells: [name, inputs.join('; '), delivered, written, note === '' ? '–' : note],
  }));
}

function vectorTable(translation: Translation, route: Route, analysis: RouteAnalysis): Block | null {
  const rows = vectorRows(translation, route, analysis);
  if (rows.length === 0) return null;
  return {
    kind: 'table',
    id: `${routeAnchor(route.id)}-vectors`,
    title: `${route.id}: worked cases, steady`,
    columns: VECTOR_NAMES,
    rows,
  };
}

const ROUTE_NAMES: readonly Column[] = [{ key: 'route', title: 'Route', kind: 'code', weight: 24 }];

/** The same content as flat tables: arithmetic, every row of every table, every worked case. */
function inSheets(translation: Translation): Section {
  const { routes, context } = translation;
  const parts = (rowsOf: (route: Route, analysis: RouteAnalysis) => readonly Row[]): readonly SubjectRows[] =>
    routes.map((route) => ({ names: [route.id], rows: rowsOf(route, context.analysis(route)) }));
  return {
    id: 'routes-in-full',
    title: 'Each route in full',
    blocks: [
      gathered(
        { id: 'arithmetic', title: 'Route arithmetic' },
        ROUTE_NAMES,
        ARITHMETIC,
        parts((route, analysis) => [arithmeticRow(translation, route, analysis)]),
      ),
      gathered(
        { id: 'route-tables', title: 'Tables of the routes' },
        ROUTE_NAMES,
        TABLE_ROWS,
        parts((_, analysis) => routeTables(analysis).flatMap(tableRows)),
      ),
      gathered(
        { id: 'route-vectors', title: 'Worked cases of the routes' },
        ROUTE_NAMES,
        VECTOR_NAMES,
        parts((route, analysis) => vectorRows(translation, route, analysis)),
      ),
    ],
  };
}

const ARITHMETIC: readonly Column[] = [
  { key: 'sentence', title: 'In a sentence', kind: 'text', weight: 60 },
  { key: 'formula', title: 'Formula', kind: 'code', weight: 60 },
  { key: 'integers', title: 'As integers', kind: 'code', weight: 60 },
  { key: 'proof', title: 'What is proved', kind: 'text', weight: 40 },
  { key: 'without', title: 'Written without a value', kind: 'text', weight: 40 },
  { key: 'from', title: 'From', kind: 'text', weight: 50 },
  { key: 'to', title: 'To', kind: 'text', weight: 50 },
  { key: 'range', title: 'Range and rounding', kind: 'text', weight: 40 },
  { key: 'pins', title: 'Pins', kind: 'code', weight: 14 },
  { key: 'note', title: 'Note', kind: 'text', weight: 40 },
];

function arithmeticRow({ pairing, compiled }: Translation, route: Route, analysis: RouteAnalysis): Row {
  const pins = [...(route.enters ?? []), ...(route.leaves === undefined ? [] : [route.leaves])].map(
    (pin) => `${route.by}.${pin}`,
  );
  return {
    cells: [
      routeSentence(analysis),
      routeFormula(analysis),
      ...integerCells(compiled(route)),
      route.from.map((source) => endpointText(pairing, source)).join('\n'),
      endpointText(pairing, route.to),
      rangeWords(analysis).join('; ') || '–',
      pins.join(', ') || 'none',
      route.note ?? '–',
    ],
  };
}

function integerCells(result: CompileResult | null): readonly string[] {
  switch (result?.kind) {
    case undefined:
      return ['not through firmware', '–', '–'];
    case 'frame':
      return ['the frame is copied', 'byte for byte', 'nothing: not sent'];
    case 'refused':
      return ['none', result.why, '–'];
    case 'values':
      return [integerLines(result).join('\n'), proofText(result), lossEntries(result)];
  }
}

const TABLE_ROWS: readonly Column[] = [
  { key: 'table', title: 'Table', kind: 'text', weight: 30 },
  { key: 'row', title: 'Row', kind: 'number', weight: 5 },
  { key: 'columns', title: 'Columns', kind: 'text', weight: 36 },
  { key: 'c1', title: 'First', kind: 'text', weight: 20 },
  { key: 'c2', title: 'Second', kind: 'text', weight: 20 },
  { key: 'c3', title: 'Third', kind: 'text', weight: 20 },
  { key: 'c4', title: 'Fourth', kind: 'text', weight: 20 },
];

function tableRows({ title, columns, rows }: RouteTable): readonly Row[] {
  return rows.map((cells, at): Row => ({
    cells: [title, at + 1, columns.join(' | '), cells[0] ?? '–', cells[1] ?? '–', cells[2] ?? '–', cells[3] ?? '–'],
  }));
}
