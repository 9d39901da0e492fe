import { Component, type ReactNode } from 'react';
import { runCommand } from '../actions/commands.ts';
import { StoreContext } from '../state/store.ts';

/** Keeps a fault in one place from taking the window, and the unsaved work in it, with it. React asks for a class here. */
export class PlaceBoundary extends Component<{ readonly children: ReactNode }, { readonly fault: string | null }> {
  static override readonly contextType = StoreContext;
  declare context: React.ContextType<typeof StoreContext>;
  override state: { readonly fault: string | null } = { fault: null };

  static getDerivedStateFromError(error: unknown): { readonly fault: string } {
    return { fault: error instanceof Error ? error.message : String(error) };
  }

  override render(): ReactNode {
    const { fault } = this.state;
    if (fault === null) return this.props.children;
    const store = this.context;
    return (
      <div className="empty" role="alert">
        <p className="bad">This place could not be drawn: {fault}</p>
        <p>
          Nothing is lost: the documents are as they were and can be saved, and the other places work. Undo the last
          change if it began with that.
        </p>
        <div className="sheet-actions">
          <button type="button" className="button" onClick={() => this.setState({ fault: null })}>
            Draw it again
          </button>
          {(['undo', 'save'] as const).map((id) => (
            <button
              key={id}
              type="button"
              className="button"
              onClick={() => {
                if (store) void runCommand(store, id);
                if (id === 'undo') this.setState({ fault: null });
              }}
            >
              {id === 'undo' ? 'Undo the last change' : 'Save'}
            </button>
          ))}
        </div>
      </div>
    );
  }
}
