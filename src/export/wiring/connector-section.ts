import type { CavityConductor, CavityRow, ConnectorPage } from '../../wiring/index.ts';
import type { Block, Cell, Column, KeyValues, Row, Section } from '../document/index.ts';
import { ref } from '../document/index.ts';
import { gathered, type SubjectRows } from '../record/index.ts';
import { connectorFace } from './connector-face.ts';
import { nominalText } from './nominal.ts';
import { buildCell, buildColumn, circuitAnchor, connectorAnchor, type Wiring } from './wiring.ts';

/** Every housing that the harness reaches: its parts, its face, every cavity whether used or not. */
export function connectorSection(wiring: Wiring): Section {
  const { plan, pages } = wiring;
  return {
    id: 'connectors',
    title: 'Connectors',
    startsPage: true,
    intro: `${plan.connectors.length} housings. Cavities are numbered as moulded. Identify an end by connector and cavity, not by colour.`,
    blocks: pages
      ? [
          summary(wiring),
          ...plan.connectors.flatMap((page): Block[] => [{ kind: 'pageBreak' }, ...onePage(wiring, page)]),
        ]
      : [
          summary(wiring),
          gathered(
            { id: 'cavities', title: 'Cavities' },
            [{ key: 'connector_id', title: 'Connector', kind: 'code', weight: 12 }],
            cavityColumns(wiring),
            plan.connectors.map((page): SubjectRows => ({ names: [page.ref], rows: cavityRows(wiring, page) })),
          ),
        ],
  };
}

interface Facts {
  readonly part: string;
  readonly mate: string;
  readonly contacts: string;
  readonly key: string;
  readonly view: string;
  /** The view with where its marks are. */
  readonly viewInFull: string;
  readonly sealed: string;
  readonly lock: string;
  readonly location: string;
}

function factsOf({ open }: Wiring, page: ConnectorPage): Facts {
  const unknown = (what: string): string => open.decide(what, page.ref);
  const undrawn = (): string => unknown('View in which the connector’s cavities are numbered');
  return {
    part: page.tapped ? 'stays the vehicle’s: conductors are spliced on' : (page.part ?? unknown('Housing part')),
    mate: page.matesWith ?? unknown('Mating part'),
    contacts: page.contacts === null ? unknown('Gender of the contacts') : page.contacts,
    key: page.key ?? unknown('Key code of the housing'),
    view: page.view === null ? undrawn() : viewWords(page.view),
    viewInFull:
      page.view === null
        ? undrawn()
        : `${viewWords(page.view)}; place of cavity 1 and of the lock as moulded on the housing`,
    sealed: page.sealed ? 'sealed' : 'not sealed',
    lock: unknown('Secondary and position lock (TPA, CPA) parts'),
    location: page.zone ?? unknown('Location in the vehicle'),
  };
}

const viewWords = (view: 'wire-side' | 'mating-side'): string => (view === 'wire-side' ? 'wire side' : 'mating side');

function summary(wiring: Wiring): Block {
  const { plan, pages } = wiring;
  return {
    kind: 'table',
    id: 'connector-list',
    title: 'Housings',
    columns: [
      { key: 'connector_id', title: 'Connector', kind: 'code', weight: 11, role: 'key' },
      { key: 'title', title: 'Title', kind: 'text', weight: 28 },
      { key: 'of', title: 'Of', kind: 'text', weight: 12 },
      { key: 'maker_part', title: 'Part in this harness', kind: 'text', weight: 18 },
      { key: 'mating_part', title: 'Mates with', kind: 'text', weight: 14 },
      { key: 'gender_of_contacts', title: 'Contacts', kind: 'text', weight: 8 },
      { key: 'key_code', title: 'Key', kind: 'text', weight: 12 },
      { key: 'sealed', title: 'Sealing', kind: 'text', weight: 9 },
      { key: 'view_drawn', title: 'View', kind: 'text', weight: 18 },
      { key: 'TPA_CPA', title: 'Locks', kind: 'text', weight: 12 },
      { key: 'location', title: 'Location', kind: 'text', weight: 14 },
      { key: 'cavities', title: 'Cavities', kind: 'number', weight: 7 },
      { key: 'used', title: 'Used', kind: 'number', weight: 5 },
      ...buildColumn(wiring),
    ],
    rows: plan.connectors.map((page): Row => {
      const facts = factsOf(wiring, page);
      return {
        ...(pages ? {} : { id: connectorAnchor(page.ref) }),
        cells: [
          pages ? [ref(page.ref, connectorAnchor(page.ref))] : page.ref,
          page.title,
          page.of ?? (page.added ? 'added' : 'inline'),
          facts.part,
          facts.mate,
          facts.contacts,
          facts.key,
          facts.sealed,
          facts.view,
          facts.lock,
          facts.location,
          page.cavities.length,
          page.cavities.filter(({ conductors }) => conductors.length > 0).length,
          ...buildCell(wiring, page.options),
        ],
        ...(page.known ? {} : { mark: { tone: 'stop', text: 'not described' } as const }),
      };
    }),
  };
}

function onePage(wiring: Wiring, page: ConnectorPage): readonly Block[] {
  const facts = factsOf(wiring, page);
  const used = page.cavities.filter(({ conductors }) => conductors.length > 0).length;
  const entries: KeyValues['entries'] = [
    {
      label: 'Part in this harness',
      value: `${facts.part}, ${facts.contacts} contacts, ${facts.sealed}; key ${facts.key}`,
    },
    { label: 'Mates with', value: `${facts.mate}${page.of === null ? '' : ` of ${page.of}`}` },
    { label: 'View', value: facts.viewInFull },
    { label: 'Locks', value: facts.lock },
    { label: 'Location', value: facts.location },
    { label: 'Cavities', value: `${page.cavities.length}, of which ${used} used by this harness` },
    ...(wiring.scope.several
      ? [{ label: 'Builds', value: page.options.length === 0 ? 'all' : page.options.join(' or ') }]
      : []),
  ];
  return [
    { kind: 'heading', level: 2, id: connectorAnchor(page.ref), text: `${page.ref} — ${page.title}` },
    { kind: 'keyValues', entries },
    ...(page.cavities.length === 0
      ? []
      : ([
          {
            kind: 'figure',
            id: `face-${page.ref}`,
            title: `${page.ref}, ${page.view === null ? 'view to be decided' : page.view === 'wire-side' ? 'wire side' : 'mating side'}`,
            drawing: connectorFace(page),
            note: 'Rows and columns as the documents list the cavities: no likeness of the housing. Number, circuit, colour; a cross is a plug.',
          },
        ] satisfies Block[])),
    {
      kind: 'table',
      id: `cavities-${page.ref}`,
      title: `${page.ref}, cavities`,
      columns: cavityColumns(wiring),
      rows: cavityRows(wiring, page),
    },
  ];
}

function cavityColumns(wiring: Wiring): readonly Column[] {
  return [
    { key: 'cavity', title: 'Cavity', kind: 'code', weight: 6, role: 'key' },
    { key: 'circuit', title: 'Circuit', kind: 'code', weight: 8 },
    { key: 'wire', title: 'Wire', kind: 'text', weight: 16 },
    { key: 'terminal', title: 'Terminal', kind: 'text', weight: 18 },
    { key: 'seal_or_plug', title: 'Seal or plug', kind: 'text', weight: 16 },
    { key: 'other_end', title: 'Leads to', kind: 'code', weight: 18 },
    { key: 'signal', title: 'Signal', kind: 'text', weight: 50 },
    { key: 'direction', title: 'Direction', kind: 'text', weight: 9 },
    { key: 'elec_class', title: 'Electrical class', kind: 'text', weight: 18 },
    { key: 'nominal_value', title: 'Nominal', kind: 'text', weight: 30 },
    ...buildColumn(wiring),
  ];
}

function cavityRows(wiring: Wiring, page: ConnectorPage): readonly Row[] {
  return page.cavities.flatMap((cavity) =>
    cavity.conductors.length === 0
      ? [emptyRow(wiring, page, cavity)]
      : cavity.conductors.map((conductor) => usedRow(wiring, page, cavity, conductor)),
  );
}

function emptyRow(wiring: Wiring, page: ConnectorPage, cavity: CavityRow): Row {
  const plug = cavity.needsPlug
    ? `plug ${cavity.plug ?? wiring.open.decide('Plug part for empty cavities', page.ref)}`
    : 'open, no plug';
  const signal =
    cavity.vehicle === null
      ? 'empty'
      : page.tapped
        ? `the vehicle’s: ${cavity.vehicle}`
        : `empty here; the vehicle has ${cavity.vehicle}`;
  return {
    cells: [
      cavity.cavity,
      'none',
      'none',
      'none',
      page.tapped ? 'the vehicle’s' : plug,
      '–',
      signal,
      '–',
      '–',
      '–',
      ...(wiring.scope.several ? ['all'] : []),
    ],
  };
}

function usedRow(wiring: Wiring, page: ConnectorPage, cavity: CavityRow, conductor: CavityConductor): Row {
  const { open, plan } = wiring;
  const row = plan.fromTo.find(({ circuit }) => circuit === conductor.circuit);
  const unknown = (what: string): string => open.decide(what, conductor.circuit);
  const tapped = row !== undefined && (conductor.direction === 'from' ? row.from : row.to).joint === 'tap';
  const cells: readonly Cell[] = [
    cavity.cavity,
    [ref(conductor.circuit, circuitAnchor(conductor.circuit))],
    `${row === undefined ? conductor.size : `${row.sizeValue} ${row.sizeUnit}`} ${conductor.colour}`,
    tapped ? 'spliced onto the vehicle’s' : (conductor.terminal ?? unknown('Terminal part')),
    tapped ? 'adhesive shrink' : page.sealed ? (conductor.seal ?? unknown('Cavity seal part')) : 'not sealed',
    conductor.otherEnd,
    signalText(page, conductor, row?.signals ?? []),
    directionWords(conductor),
    conductor.electricalClass ?? 'not said',
    nominalText(wiring, conductor) ?? unknown('Nominal value at a cavity'),
    ...buildCell(wiring, conductor.options),
  ];
  const mark =
    cavity.state === 'not-on-connector'
      ? ({ tone: 'stop', text: 'no such cavity' } as const)
      : conductor.accepted === false
        ? ({ tone: 'stop', text: 'size not accepted' } as const)
        : undefined;
  return { cells, ...(mark === undefined ? {} : { mark }) };
}

/** The functions, and the name of the signal on the side that the housing belongs to. */
function signalText(page: ConnectorPage, { functions }: CavityConductor, signals: readonly string[]): string {
  const colon = page.ref.indexOf(':');
  const side = colon < 0 ? null : page.ref.slice(0, colon + 1);
  const own = side === null ? signals : signals.filter((signal) => signal.startsWith(side));
  const named = own.length > 0 ? own : signals;
  return [...functions, ...named.slice(0, 2)].join('\n') || 'none named';
}

/** Seen from the housing: the row's `from` end is where the value or the current starts. */
function directionWords({ direction }: CavityConductor): string {
  return direction === 'from' ? 'leaves' : 'arrives';
}
