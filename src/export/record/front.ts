import { platformDigest, signOffDigest, type Pairing, type SideName } from '../../model/index.ts';
import { mono, type Block, type Row, type Section, type SpecDocument, type Table } from '../document/index.ts';
import type { BuildScope } from './builds.ts';
import { CAUTIONS } from './cautions.ts';

/** Facts of the title page which every spec carries: what is joined, from which documents, for which builds. */
export function pairingFacts(pairing: Pairing, scope: BuildScope): SpecDocument['facts'] {
  const { map } = pairing;
  const platform = (side: SideName): SpecDocument['facts'] => {
    const { title, id, years, market } = pairing.side(side).platform;
    const known = [years, market].filter((text) => text !== undefined && !title.includes(text)).join(', ');
    return [
      {
        label: `${side === 'host' ? 'Host' : 'Donor'} platform`,
        value: `${title} (${id})${known === '' ? '' : `, ${known}`}`,
      },
      { label: `Digest of the ${side}`, value: [mono(platformDigest(pairing.side(side).platform))] },
    ];
  };
  return [
    { label: 'Pairing', value: `${map.title} (${map.id})` },
    ...platform('host'),
    ...platform('donor'),
    { label: 'Builds covered', value: scope.title },
    ...(map.author === undefined ? [] : [{ label: 'Drafted by', value: map.author }]),
    ...(map.note === undefined ? [] : [{ label: 'Note', value: map.note }]),
  ];
}

/** Documents that the platforms were described from, and the lines for names. */
export function recordSection(pairing: Pairing, roles: readonly string[]): Section {
  return {
    id: 'record',
    title: 'Documents used and sign-off',
    blocks: [documentsTable(pairing), signOffTable(pairing), signLines(roles)],
  };
}

function documentsTable(pairing: Pairing): Table {
  const rows = (['host', 'donor'] as const).flatMap((side) =>
    (pairing.side(side).platform.documents ?? []).map((entry): Row => ({
      cells: [
        side,
        entry.id,
        entry.title,
        entry.kind ?? 'not said',
        entry.revision ?? 'not said',
        entry.date ?? 'not said',
        entry.years ?? 'not said',
      ],
    })),
  );
  return {
    kind: 'table',
    id: 'documents',
    title: 'Documents used',
    columns: [
      { key: 'side', title: 'Side', kind: 'text', weight: 6 },
      { key: 'id', title: 'Document', kind: 'code', weight: 10, role: 'key' },
      { key: 'title', title: 'Title', kind: 'text', weight: 56 },
      { key: 'kind', title: 'Kind', kind: 'text', weight: 12 },
      { key: 'revision', title: 'Revision', kind: 'text', weight: 9 },
      { key: 'date', title: 'Date', kind: 'text', weight: 10 },
      { key: 'years', title: 'Years', kind: 'text', weight: 12 },
    ],
    rows,
    whenEmpty: 'Neither platform names a document that its facts were taken from.',
  };
}

function signOffTable(pairing: Pairing): Table {
  const { map, host, donor } = pairing;
  const now = signOffDigest(map, host.platform, donor.platform);
  return {
    kind: 'table',
    id: 'sign-offs',
    title: 'Signed off in the map',
    columns: [
      { key: 'by', title: 'Name', kind: 'text', weight: 22, role: 'key' },
      { key: 'role', title: 'Role', kind: 'text', weight: 22 },
      { key: 'on', title: 'On', kind: 'text', weight: 10 },
      { key: 'standing', title: 'Standing', kind: 'text', weight: 34 },
      { key: 'note', title: 'Note', kind: 'text', weight: 30 },
    ],
    rows: (map.signOffs ?? []).map(({ by, role, on, digest, note }): Row => ({
      cells: [
        by,
        role,
        on,
        digest === now ? 'for exactly this map and these platforms' : 'older than the last change: does not count',
        note ?? '–',
      ],
      ...(digest === now ? {} : { mark: { tone: 'caution', text: 'stale' } as const }),
    })),
    whenEmpty: 'Nobody has signed this revision off in the map.',
    note: ['A name is plain text; the evidence is the digest over map and both platforms: ', mono(now)],
  };
}

function signLines(roles: readonly string[]): Table {
  return {
    kind: 'table',
    id: 'sign-lines',
    title: 'Signatures for this issue',
    columns: [
      { key: 'role', title: 'Role', kind: 'text', weight: 34, role: 'key' },
      { key: 'name', title: 'Name', kind: 'entry', weight: 28 },
      { key: 'date', title: 'Date', kind: 'entry', weight: 14 },
      { key: 'signature', title: 'Signature', kind: 'entry', weight: 30 },
    ],
    rows: roles.map((role) => ({ cells: [role, null, null, null] })),
  };
}

/** The builds that the options make, with what an option means. */
export function buildBlocks(pairing: Pairing, scope: BuildScope): readonly Block[] {
  const axes = pairing.map.options ?? [];
  const impossible = pairing.map.impossible ?? [];
  return [
    {
      kind: 'paragraph',
      text:
        axes.length === 0
          ? 'The map has no options: there is one build.'
          : `Covered here: ${scope.title}. ${scope.several ? 'A column “Builds” says where a row is fitted; all means in every build covered.' : 'Rows of other builds are left out.'}`,
    },
    {
      kind: 'table',
      id: 'options',
      title: 'Options',
      columns: [
        { key: 'option', title: 'Option', kind: 'code', weight: 16, role: 'key' },
        { key: 'title', title: 'Title', kind: 'text', weight: 24 },
        { key: 'choices', title: 'Choices', kind: 'text', weight: 30 },
        { key: 'note', title: 'Note', kind: 'text', weight: 50 },
      ],
      rows: axes.map(({ id, title, choices, note }): Row => ({
        cells: [id, title ?? '–', choices.join(', '), note ?? '–'],
      })),
      whenEmpty: 'The map has no options.',
      ...(impossible.length === 0
        ? {}
        : {
            note: `Declared impossible: ${impossible
              .map((when) =>
                Object.entries(when)
                  .map(([axis, choices]) => `${axis}=${choices.join('|')}`)
                  .join(' & '),
              )
              .join('; ')}.`,
          }),
    },
    ...CAUTIONS.filter(({ where }) => where === 'variants page').map(({ text }): Block => ({
      kind: 'caution',
      tone: 'caution',
      text,
    })),
    calibrationTable(pairing),
  ];
}

function calibrationTable(pairing: Pairing): Table {
  const rows = (['host', 'donor'] as const).flatMap((side) =>
    pairing.side(side).platform.modules.flatMap((module): Row[] => {
      const kept = pairing.fateOf(side, module.id) === 'retained' && module.software !== undefined;
      if (!kept) return [];
      const { calibration } = module;
      return [
        {
          cells: [`${side}:${module.id}`, module.title, module.software ?? '–', calibration ?? 'not said'],
          ...(calibration === 'original'
            ? {}
            : { mark: { tone: 'caution', text: calibration ?? 'not said' } as const }),
        },
      ];
    }),
  );
  return {
    kind: 'table',
    id: 'calibration',
    title: 'Retained modules and their software',
    columns: [
      { key: 'module', title: 'Module', kind: 'code', weight: 22, role: 'key' },
      { key: 'title', title: 'Title', kind: 'text', weight: 44 },
      { key: 'software', title: 'Software', kind: 'code', weight: 20 },
      { key: 'calibration', title: 'Calibration', kind: 'text', weight: 14 },
    ],
    rows,
    whenEmpty: 'The platforms name no software of retained modules.',
  };
}

/** The standing cautions with their sources. */
export function cautionTable(): Table {
  return {
    kind: 'table',
    id: 'cautions',
    title: 'Cautions and where they come from',
    columns: [
      { key: 'caution', title: 'Caution', kind: 'text', weight: 70, role: 'key' },
      { key: 'where', title: 'Stands at', kind: 'text', weight: 18 },
      { key: 'source', title: 'Source', kind: 'text', weight: 30 },
    ],
    rows: CAUTIONS.map(({ text, where, source }) => ({ cells: [text, where, source] })),
  };
}
