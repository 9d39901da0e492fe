import type { Block } from './block.ts';
import type { Table } from './table.ts';
import type { RichText } from './text.ts';

/** Paper of a document or of a section. Sizes: ISO 216. */
export interface PageFormat {
  readonly paper: 'A4' | 'A3';
  readonly orientation: 'portrait' | 'landscape';
}

/** What tells one issue of a document from another; printed at the head and foot of every page. */
export interface Stamp {
  readonly revision: string;
  /** Digest of what the document was made from, in full. */
  readonly digest: string;
  /** `2026-01-31` or `2026-01-31T09:30:00Z` (ISO 8601, UTC). The only clock a writer knows. */
  readonly date: string;
  /** Program and version that wrote it. */
  readonly tool: string;
}

/** Put on every page while something stands in the way of using the document. */
export interface Mark {
  /** A few words in capitals: `NOT FOR BUILD`. */
  readonly text: string;
  /** Why, in one sentence. */
  readonly reason: string;
}

export interface Section {
  readonly id: string;
  readonly title: string;
  readonly intro?: RichText;
  readonly blocks: readonly Block[];
  /** Starts on a fresh page. A section with a `page` of its own always does. */
  readonly startsPage?: boolean;
  readonly page?: PageFormat;
}

/**
 * A document as content, without a look: the specs build one, the writers print it as HTML, PDF, XLSX, CSV or JSON.
 * All texts are untrusted; writers escape.
 */
export interface SpecDocument {
  /** Name of the files made from it: lower-case letters, digits and hyphens. */
  readonly id: string;
  readonly title: string;
  readonly subtitle: string;
  readonly stamp: Stamp;
  /** Further facts of the title page, such as the platforms; the stamp is printed without being named here. */
  readonly facts: readonly { readonly label: string; readonly value: RichText }[];
  /** The first stands at the foot of every page. At least one. */
  readonly cautions: readonly string[];
  readonly mark: Mark | null;
  readonly page: PageFormat;
  readonly sections: readonly Section[];
}

/** Every table of a document with the section it stands in, in reading order. */
export function tablesOf(document: SpecDocument): readonly { readonly section: Section; readonly table: Table }[] {
  return document.sections.flatMap((section) =>
    section.blocks.flatMap((block) => (block.kind === 'table' ? [{ section, table: block }] : [])),
  );
}

/** The stamp and the facts as one list, as the title page shows them. */
export function allFacts(document: SpecDocument): readonly { readonly label: string; readonly value: RichText }[] {
  return [
    { label: 'Revision', value: document.stamp.revision },
    { label: 'Date', value: document.stamp.date },
    { label: 'Digest', value: [{ kind: 'mono', text: document.stamp.digest }] },
    { label: 'Written by', value: document.stamp.tool },
    ...document.facts,
  ];
}

/** The moment of the stamp in milliseconds since 1970 UTC; NaN when the date is not of the form the stamp asks for. */
export function stampTimeMs(stamp: Stamp): number {
  return /^\d{4}-\d{2}-\d{2}(T\d{2}:\d{2}(:\d{2}(\.\d{1,3})?)?Z)?$/.test(stamp.date) ? Date.parse(stamp.date) : NaN;
}
