import type { Finding } from '../checks/index.ts';
import type { Comparison } from '../compare/index.ts';
import type { Pairing } from '../model/index.ts';
import type { SpecDocument } from './document/index.ts';
import { firmwareArchive } from './firmware/index.ts';
import { buildParts, buildScope, cautionText, markOf, stampOf, type SpecIssue } from './record/index.ts';
import { reviewRecord } from './review/index.ts';
import { interfaceDbcs, translationSpec } from './translation/index.ts';
import { wiringSpec } from './wiring/index.ts';
import {
  SPEC_FORMATS,
  renderDocument,
  type RenderResources,
  type RenderedFile,
  type SpecFormat,
} from './writers/index.ts';

/** What is handed over: documents for people, the DBC of what the interface modules send, and their firmware. */
export const SPEC_IDS = ['wiring', 'translation', 'interface-dbc', 'firmware', 'review'] as const;
export type SpecId = (typeof SPEC_IDS)[number];

/** A form of some spec: of documents, a DBC file, or C source in an archive. */
export type HandOverFormat = SpecFormat | 'dbc' | 'c';

export interface Spec {
  readonly id: SpecId;
  readonly title: string;
  readonly formats: readonly HandOverFormat[];
}

export const SPECS: readonly Spec[] = [
  { id: 'wiring', title: 'Wiring spec', formats: SPEC_FORMATS },
  { id: 'translation', title: 'Translation spec', formats: SPEC_FORMATS },
  { id: 'interface-dbc', title: 'DBC of what the interface modules send', formats: ['dbc'] },
  { id: 'firmware', title: 'Firmware of the interface modules', formats: ['c'] },
  { id: 'review', title: 'Review record', formats: ['html', 'pdf', 'json'] },
];

/** Spreadsheets and programs want one table of everything; people want a page after another. */
function arrangementFor(format: SpecFormat): SpecIssue['arrangement'] {
  return format === 'xlsx' || format === 'csv' || format === 'json' ? 'sheets' : 'pages';
}

function documentOf(
  id: Exclude<SpecId, 'interface-dbc' | 'firmware'>,
  pairing: Pairing,
  findings: readonly Finding[],
  issue: SpecIssue,
  comparison: Comparison | undefined,
): SpecDocument {
  switch (id) {
    case 'wiring':
      return wiringSpec(pairing, findings, issue);
    case 'translation':
      return translationSpec(pairing, findings, issue);
    case 'review':
      return reviewRecord(pairing, findings, issue, comparison);
  }
}

/** The stamp, the mark and the caution of a DBC file: it has no pages to print them on. */
function dbcComment(pairing: Pairing, findings: readonly Finding[], issue: SpecIssue): string {
  const mark = markOf(findings);
  const { revision, digest, date, tool } = stampOf(pairing, issue);
  return [
    ...(mark === null ? [] : [`${mark.text}: ${mark.reason}`]),
    `${pairing.map.title}, revision ${revision}, ${date}, ${tool}.`,
    `Digest of the map: ${digest}.`,
    cautionText('every export'),
  ]
    .join('\n')
    .replaceAll('’', "'");
}

/**
 * Writes one spec in one form. `findings` are those of a run over the same pairing; `comparison` is that with an earlier revision,
 * for a review record. Gives no file for a form the spec does not
 * have. @throws UnknownBuildError, DocumentFaultError, FontError.
 */
export async function writeSpec(
  id: SpecId,
  format: HandOverFormat,
  pairing: Pairing,
  findings: readonly Finding[],
  issue: SpecIssue,
  resources: RenderResources,
  comparison?: Comparison,
): Promise<readonly RenderedFile[]> {
  if (id === 'interface-dbc') {
    if (format !== 'dbc') return [];
    const { mask } = buildScope(pairing, issue.build);
    return interfaceDbcs(pairing, { comment: dbcComment(pairing, findings, issue), mask }).map(({ name, text }) => ({
      name: [name.replace(/\.dbc$/, ''), ...buildParts(issue)].join('-').replaceAll(/[^A-Za-z0-9._-]+/g, '-') + '.dbc',
      bytes: new TextEncoder().encode(text),
    }));
  }
  if (id === 'firmware') return format === 'c' ? firmwareArchive(pairing, findings, issue) : [];
  if (!SPECS.some((spec) => spec.id === id && spec.formats.includes(format)) || format === 'dbc' || format === 'c')
    return [];
  const { files } = await renderDocument(
    documentOf(id, pairing, findings, { ...issue, arrangement: arrangementFor(format) }, comparison),
    format,
    resources,
  );
  return files;
}
