import type { Overlay } from '../state/store.ts';
import { Sheet } from './Sheet.tsx';

type AskOverlay = Extract<Overlay, { kind: 'ask' }>;

/** A question with a few answers; Escape gives none. */
export function AskDialog({ title, text, choices, settle }: AskOverlay) {
  return (
    <Sheet title={title} onClose={() => settle(null)}>
      <p className="sheet-text">{text}</p>
      <div className="sheet-actions">
        {choices.map(({ id, label, tone }) => (
          <button
            key={id}
            type="button"
            className={`button ${tone ?? ''}`}
            autoFocus={tone === 'primary'}
            onClick={() => settle(id)}
          >
            {label}
          </button>
        ))}
      </div>
    </Sheet>
  );
}
