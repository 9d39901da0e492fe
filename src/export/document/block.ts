import type { Drawing } from './drawing.ts';
import type { Table } from './table.ts';
import type { RichText } from './text.ts';

/** One element of a section, in reading order. */
export type Block =
  | { readonly kind: 'paragraph'; readonly text: RichText }
  | { readonly kind: 'heading'; readonly level: 2 | 3; readonly text: string; readonly id?: string }
  | KeyValues
  | Table
  | List
  | Caution
  | Figure
  | { readonly kind: 'code'; readonly text: string; readonly title?: string }
  | { readonly kind: 'formula'; readonly text: string; readonly title?: string }
  | { readonly kind: 'pageBreak' };

/** Names with their values, two columns without a header. */
export interface KeyValues {
  readonly kind: 'keyValues';
  readonly title?: string;
  readonly entries: readonly { readonly label: string; readonly value: RichText }[];
}

/** `check` entries have an open box for a pen. */
export interface List {
  readonly kind: 'list';
  readonly style: 'bullet' | 'number' | 'check';
  readonly entries: readonly RichText[];
}

/** A box that cannot be overlooked. The tone is printed as a word too. */
export interface Caution {
  readonly kind: 'caution';
  readonly tone: 'stop' | 'caution' | 'note';
  readonly text: RichText;
}

export interface Figure {
  readonly kind: 'figure';
  readonly id: string;
  readonly title: string;
  readonly drawing: Drawing;
  readonly note?: RichText;
}

/** The word that a caution box starts with. */
export function cautionWord(tone: Caution['tone']): string {
  switch (tone) {
    case 'stop':
      return 'Stop';
    case 'caution':
      return 'Caution';
    case 'note':
      return 'Note';
  }
}
