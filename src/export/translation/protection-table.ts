import type { Message, Protection } from '../../model/index.ts';
import type { Column, Row } from '../document/index.ts';
import { protectionVectors } from './protection.ts';

export const VECTOR_COLUMNS: readonly Column[] = [
  { key: 'case', title: 'Case', kind: 'text', weight: 30 },
  { key: 'counter', title: 'Counter', kind: 'text', weight: 7 },
  { key: 'payload', title: 'Payload, checksum field at 0 (hex)', kind: 'code', weight: 34 },
  { key: 'checksum', title: 'Checksum', kind: 'code', weight: 11 },
  { key: 'frame', title: 'Frame as sent (hex)', kind: 'code', weight: 34 },
];

const CASES = ['all other bits 0, first counter value', 'bytes 11 22 33 …, next counter value'] as const;

/** The worked frames of a protected message as rows; one row that says why where there are none. */
export function vectorCells(message: Message, protection: Protection): readonly Row[] {
  const { vectors, faults } = protectionVectors(message, protection);
  if (vectors.length === 0) return [{ cells: ['cannot be computed', '–', faults.join('; '), '–', '–'] }];
  return vectors.map(({ payload, counter, checksum, frame }, at): Row => ({
    cells: [CASES[at] ?? '–', counter === null ? 'none' : String(counter), payload, checksum, frame],
  }));
}
