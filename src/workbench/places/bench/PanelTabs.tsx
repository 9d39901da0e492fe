import type { CaptureReport } from '../../../translate/index.ts';
import { useWorkbenchStore } from '../../state/store.ts';
import { benchMemory, useBench } from './bench-state.ts';

/** How many differences a capture has, of all kinds. */
export function differencesOf({ totals }: CaptureReport): number {
  return Object.values(totals).reduce((sum, each) => sum + each, 0);
}

/** What the lower half shows. */
export function PanelTabs() {
  const memory = benchMemory(useWorkbenchStore());
  const { panel, input, summary } = useBench(({ panel, input, summary }) => ({ panel, input, summary }));
  if (input?.kind !== 'logs') return <h2>Routes at the cursor</h2>;
  const capture = summary?.capture ?? null;
  return (
    <div className="segments" role="group" aria-label="What is shown below">
      <button type="button" aria-pressed={panel === 'routes'} onClick={() => memory.setState({ panel: 'routes' })}>
        Routes at the cursor
      </button>
      <button type="button" aria-pressed={panel === 'capture'} onClick={() => memory.setState({ panel: 'capture' })}>
        Capture{capture === null || capture.frames.sent === 0 ? '' : ` ${differencesOf(capture).toLocaleString('en')}`}
      </button>
    </div>
  );
}
