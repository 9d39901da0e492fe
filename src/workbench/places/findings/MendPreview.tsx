import type { Mend } from '../../../checks/index.ts';
import { pathInWords, valueAt, type Edit, type PairingDocuments } from '../../../model/index.ts';

const LONGEST = 160;

function shown(value: unknown): string {
  if (value === undefined) return 'nothing';
  const text = typeof value === 'string' ? value : JSON.stringify(value);
  return text.length > LONGEST ? `${text.slice(0, LONGEST)} …` : text;
}

function EditLine({ edit, documents }: { readonly edit: Edit; readonly documents: PairingDocuments }) {
  const where = `${edit.in} ${pathInWords(edit.path)}`;
  switch (edit.do) {
    case 'set':
      return (
        <li>
          <span className="mono">{where}</span>: <del>{shown(valueAt(documents[edit.in], edit.path))}</del> →{' '}
          <ins>{shown(edit.to)}</ins>
        </li>
      );
    case 'insert':
      return (
        <li>
          <span className="mono">{where}</span>: add <ins>{shown(edit.value)}</ins>
        </li>
      );
    case 'remove':
      return (
        <li>
          <span className="mono">{where}</span>: take out <del>{shown(valueAt(documents[edit.in], edit.path))}</del>
        </li>
      );
  }
}

/** What a mend would write, entry by entry. */
export function MendPreview({ mend, documents }: { readonly mend: Mend; readonly documents: PairingDocuments }) {
  return (
    <ul className="mend-preview bullets">
      {mend.edits.map((edit, index) => (
        <EditLine key={index} edit={edit} documents={documents} />
      ))}
    </ul>
  );
}
