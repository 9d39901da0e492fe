import type { Flow } from './flow.ts';

/** What a key does on the cloth. */
export type KeyAction =
  | { readonly kind: 'cursor'; readonly id: string }
  | { readonly kind: 'fold'; readonly group: string }
  | { readonly kind: 'unfold'; readonly group: string }
  | { readonly kind: 'enter'; readonly id: string }
  | { readonly kind: 'search' }
  | { readonly kind: 'next' }
  | { readonly kind: 'previous' }
  | { readonly kind: 'clear' };

const PAGE = 12;

/** The action of a key when the cursor stands on a row; null when the key means nothing here. */
export function actionOfKey(key: string, flow: Flow, cursor: string | null): KeyAction | null {
  const { rows } = flow;
  const at = cursor === null ? -1 : (flow.indexOf.get(cursor) ?? -1);
  const row = rows[at];
  const to = (index: number): KeyAction | null => {
    const next = rows[Math.max(0, Math.min(rows.length - 1, index))];
    return next ? { kind: 'cursor', id: next.id } : null;
  };
  switch (key) {
    case 'ArrowDown':
    case 'j':
      return to(at + 1);
    case 'ArrowUp':
    case 'k':
      return to(at < 0 ? 0 : at - 1);
    case 'PageDown':
      return to(at + PAGE);
    case 'PageUp':
      return to(at - PAGE);
    case 'Home':
      return to(0);
    case 'End':
      return to(rows.length - 1);
    case 'ArrowRight':
      if (row?.kind !== 'group') return null;
      return row.folded ? { kind: 'unfold', group: row.group.id } : to(at + 1);
    case 'ArrowLeft':
      if (!row) return null;
      if (row.kind === 'row') return { kind: 'cursor', id: `group:${row.group.id}` };
      return row.folded ? null : { kind: 'fold', group: row.group.id };
    case ' ':
      if (!row) return null;
      return { kind: row.kind === 'group' && row.folded ? 'unfold' : 'fold', group: row.group.id };
    case 'Enter':
      return row ? { kind: 'enter', id: row.id } : null;
    case '/':
      return { kind: 'search' };
    case 'n':
      return { kind: 'next' };
    case 'N':
      return { kind: 'previous' };
    case 'Escape':
      return { kind: 'clear' };
    default:
      return null;
  }
}
