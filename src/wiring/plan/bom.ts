import { SPLICE_HABITS, LABEL } from '../tables/allowances.ts';
import type { ConnectorPage } from './connector-pages.ts';
import type { PlanContext } from './context.ts';
import type { FromToRow } from './from-to.ts';
import type { SegmentRow } from './segment-table.ts';
import type { SpliceRow } from './splice-list.ts';

export type BomKind =
  'wire' | 'housing' | 'terminal' | 'seal' | 'plug' | 'ring' | 'splice' | 'part' | 'fuse' | 'covering' | 'label';

/** One line of the bill of materials. Wire and coverings in metres, all else each. */
export interface BomRow {
  readonly line: number;
  readonly kind: BomKind;
  /** Part number as the documents name it; null where they name none. */
  readonly part: string | null;
  readonly description: string;
  /** What is built in. */
  readonly net: number;
  readonly sparePercent: number;
  /** What is bought. */
  readonly quantity: number;
  readonly unit: 'm' | 'each';
  readonly usedBy: readonly string[];
  /** Conductors whose length is not known and which this line therefore lacks. */
  readonly without: readonly string[];
}

type Draft = Omit<BomRow, 'line' | 'quantity' | 'sparePercent'> & { readonly spare: boolean };

interface Sheets {
  readonly fromTo: readonly FromToRow[];
  readonly pages: readonly ConnectorPage[];
  readonly splices: readonly SpliceRow[];
  readonly segments: readonly SegmentRow[];
}

/** Bill of materials of the conductors of the pack. Net wire is the sum of the cut lengths, to the millimetre. */
export function billOfMaterials(context: PlanContext, sheets: Sheets): readonly BomRow[] {
  const drafts = [
    ...wireLines(sheets.fromTo),
    ...housingLines(sheets.pages),
    ...endLines(sheets),
    ...plugLines(sheets.pages),
    ...spliceLines(sheets),
    ...partLines(context),
    ...coveringLines(sheets.segments),
    labelLine(sheets.fromTo),
  ];
  return drafts
    .filter(({ net, without }) => net > 0 || without.length > 0)
    .map(({ spare, ...draft }, index) => {
      const sparePercent = spare ? context.settings.sparePercent : 0;
      return { line: index + 1, ...draft, sparePercent, quantity: withSpare(draft.net, sparePercent, draft.unit) };
    });
}

/** Metres up to the next tenth, pieces up to the next whole. */
function withSpare(net: number, percent: number, unit: 'm' | 'each'): number {
  const wanted = net * (1 + percent / 100);
  return unit === 'each' ? Math.ceil(wanted - 1e-9) : Math.ceil(wanted * 10 - 1e-6) / 10;
}

/** Rows grouped by a text, in the order of first occurrence. */
function grouped<T>(rows: readonly T[], nameOf: (row: T) => string): Map<string, T[]> {
  const groups = new Map<string, T[]>();
  for (const row of rows) {
    const name = nameOf(row);
    const known = groups.get(name);
    if (known) known.push(row);
    else groups.set(name, [row]);
  }
  return groups;
}

function wireLines(fromTo: readonly FromToRow[]): Draft[] {
  const groups = grouped(
    fromTo,
    ({ size, colour, insulation, shielded }) => `${size}|${colour}|${insulation}|${shielded}`,
  );
  return [...groups.values()]
    .map((rows): Draft & { readonly areaMm2: number } => {
      const [first] = rows;
      const netMm = rows.reduce((sum, { cutLengthMm }) => sum + (cutLengthMm ?? 0), 0);
      return {
        kind: 'wire',
        part: null,
        description: `${first!.sizeValue} ${first!.sizeUnit} ${first!.colour}, ${first!.insulation}${first!.shielded ? ', shielded' : ''}`,
        net: netMm / 1000,
        unit: 'm',
        usedBy: rows.map(({ circuit }) => circuit),
        without: rows.filter(({ cutLengthMm }) => cutLengthMm === null).map(({ circuit }) => circuit),
        spare: true,
        areaMm2: first!.areaMm2,
      };
    })
    .sort((a, b) => a.areaMm2 - b.areaMm2 || (a.description < b.description ? -1 : 1))
    .map(({ areaMm2: _, ...draft }) => draft);
}

function housingLines(pages: readonly ConnectorPage[]): Draft[] {
  return pages
    .filter(({ tapped }) => !tapped)
    .map((page) => ({
      kind: 'housing',
      part: page.part,
      description: page.added ? `housing ${page.ref}, ${page.title}` : `mate of ${page.ref}, ${page.title}`,
      net: 1,
      unit: 'each',
      usedBy: [page.ref],
      without: [],
      spare: false,
    }));
}

function endLines({ fromTo }: Sheets): Draft[] {
  const ends = fromTo.flatMap((row) => [row.from, row.to].map((end) => ({ row, end })));
  const terminals = ends.filter(({ end }) => end.joint === 'terminal');
  const lines: Draft[] = [];
  for (const group of grouped(
    terminals,
    ({ row, end }) => `${end.terminal ?? `? ${end.connector}`}|${row.size}`,
  ).values()) {
    const [{ row, end }] = group as [(typeof group)[number]];
    lines.push(
      each(
        'terminal',
        end.terminal,
        end.terminal === null
          ? `terminal of ${end.connector} for ${row.size}, part not given`
          : `terminal for ${row.size}`,
        group.map((one) => one.row.circuit),
      ),
    );
  }
  const seals = ends.filter(({ end }) => end.seal !== null);
  for (const [seal, group] of grouped(seals, ({ end }) => end.seal!))
    lines.push(
      each(
        'seal',
        seal,
        'cavity seal',
        group.map(({ row }) => row.circuit),
      ),
    );
  const rings = ends.filter(({ end }) => end.joint === 'ring');
  for (const [ring, group] of grouped(rings, ({ end }) => end.terminal ?? 'ring'))
    lines.push(
      each(
        'ring',
        null,
        ring,
        group.map(({ row }) => row.circuit),
      ),
    );
  return lines;
}

function each(kind: BomKind, part: string | null, description: string, usedBy: readonly string[]): Draft {
  return { kind, part, description, net: usedBy.length, unit: 'each', usedBy, without: [], spare: true };
}

function plugLines(pages: readonly ConnectorPage[]): Draft[] {
  const open = pages
    .filter(({ tapped }) => !tapped)
    .flatMap((page) =>
      page.cavities.filter(({ needsPlug }) => needsPlug).map(({ plug, cavity }) => ({ page, plug, cavity })),
    );
  return [...grouped(open, ({ page, plug }) => plug ?? `? ${page.ref}`).values()].map((group) => {
    const [{ plug, page }] = group as [(typeof group)[number]];
    const places = group.map((one) => `${one.page.ref}-${one.cavity}`);
    return each('plug', plug, plug === null ? `cavity plug of ${page.ref}, part not given` : 'cavity plug', places);
  });
}

function spliceLines({ splices, fromTo }: Sheets): Draft[] {
  const taps = fromTo.flatMap((row) =>
    [row.from, row.to].filter(({ joint }) => joint === 'tap').map(() => row.circuit),
  );
  return [
    each(
      'splice',
      null,
      `splice, ${SPLICE_HABITS.method}, with ${SPLICE_HABITS.sealing}`,
      splices.map(({ splice }) => splice),
    ),
    each('splice', null, `splice onto a conductor of the vehicle, with ${SPLICE_HABITS.sealing}`, taps),
  ];
}

function partLines({ pairing, conductors, settings }: PlanContext): Draft[] {
  const wanted = (pairing.map.harness?.parts ?? []).filter(
    ({ when }) => settings.mask === null || (pairing.options.maskOf(when) & settings.mask) !== 0n,
  );
  const parts = wanted.map((part): Draft => ({
    kind: 'part',
    part: part.part ?? null,
    description: `${part.kind} ${part.id}, ${part.title}`,
    net: 1,
    unit: 'each',
    usedBy: [part.id],
    without: [],
    spare: false,
  }));
  const known = new Set(wanted.map(({ id }) => id));
  const inLine = conductors.filter(({ circuit }) => circuit.fuse?.place === 'in-line' && !known.has(circuit.fuse.id));
  const fuses = [...grouped(inLine, ({ circuit }) => String(circuit.fuse!.fuseA))].map(([ampere, group]): Draft =>
    each(
      'fuse',
      null,
      `in-line fuse ${ampere} A with holder`,
      group.map(({ circuit }) => circuit.id),
    ),
  );
  return [...parts, ...fuses];
}

function coveringLines(segments: readonly SegmentRow[]): Draft[] {
  const covered = segments.filter(({ covering, circuits }) => covering !== null && circuits.length > 0);
  return [...grouped(covered, ({ covering }) => covering!)].map(([covering, group]): Draft => ({
    kind: 'covering',
    part: null,
    description: `${covering}, for ${Math.ceil(Math.max(...group.map(({ bundleMm }) => bundleMm)))} mm at most`,
    net: group.reduce((sum, { lengthM }) => sum + lengthM, 0),
    unit: 'm',
    usedBy: group.map(({ segment }) => segment),
    without: [],
    spare: true,
  }));
}

function labelLine(fromTo: readonly FromToRow[]): Draft {
  return each(
    'label',
    null,
    LABEL.material,
    fromTo.flatMap(({ circuit }) => [`${circuit}/from`, `${circuit}/to`]),
  );
}
