import type { Change, FieldDifference } from '../../compare/index.ts';
import type { Column, Row } from '../document/index.ts';

export const CHANGE_COLUMNS: readonly Column[] = [
  { key: 'kind', title: 'Change', kind: 'text', weight: 9 },
  { key: 'what', title: 'Of', kind: 'text', weight: 12 },
  { key: 'subject', title: 'Subject', kind: 'code', weight: 30, role: 'key' },
  { key: 'fields', title: 'Before → after', kind: 'text', weight: 46 },
  { key: 'consequences', title: 'What follows', kind: 'text', weight: 42 },
];

/** Longest value printed in full on paper. */
const LONGEST = 160;

/** A value of a document as a line: texts as they are, all else as JSON, cut where it would fill a page. */
export function valueWords(value: unknown): string {
  if (value === undefined) return 'nothing';
  const text = typeof value === 'string' ? value : JSON.stringify(value);
  return text.length > LONGEST ? `${text.slice(0, LONGEST)}… (${text.length} characters)` : text;
}

function fieldWords({ path, from, to }: FieldDifference): string {
  return `${path === '' ? 'all of it' : path}: ${valueWords(from)} → ${valueWords(to)}`;
}

/** One row a change. A route which only its surroundings changed has consequences and no fields. */
export function changeRow({ kind, what, subject, was, fields, consequences }: Change): Row {
  return {
    cells: [
      kind,
      what,
      was === null ? subject : `${was} → ${subject}`,
      fields.length > 0
        ? fields.map(fieldWords).join('\n')
        : kind === 'changed'
          ? 'not itself: what it stands on changed'
          : '–',
      consequences.length > 0 ? consequences.join('\n') : '–',
    ],
  };
}
