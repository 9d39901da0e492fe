import type { CrossloomMap } from '../../../model/index.ts';
import { change } from '../../actions/change.ts';
import { goTo } from '../../actions/navigate.ts';
import { useWorkbenchStore } from '../../state/store.ts';
import { firstNodes } from './first-nodes.ts';
import { useHarnessMemory } from './memory.ts';
import type { PlanIndex } from './plan-index.ts';

/** No circuit yet: where circuits come from, and what to do next. */
export function EmptyHarness() {
  const store = useWorkbenchStore();
  return (
    <div className="empty">
      <p>
        The added harness has no circuit yet. Circuits are not drawn by hand: every hard-wired route, every pin, port,
        feed and ground of an interface module, and every part spliced in makes its own.
      </p>
      <p>Accept proposals for what is still needed, or give the interface module its pins.</p>
      <button type="button" className="button primary" onClick={() => goTo(store, 'worklist')}>
        Go to the Worklist
      </button>
      <button type="button" className="button" onClick={() => goTo(store, 'text')}>
        Write the map in Text
      </button>
    </div>
  );
}

/** Circuits, but no node to lie between: lengths, drops and the drawing wait for them. */
export function NoDrawing({ map, index }: { readonly map: CrossloomMap; readonly index: PlanIndex }) {
  const store = useWorkbenchStore();
  const [, remember] = useHarnessMemory();
  return (
    <div className="empty">
      <p>
        The map does not say where the harness runs: there is nothing to draw, and no length to compute a drop or a cut
        from.
      </p>
      <p>
        Give each connector, part and stud a node, then join the nodes by segments with the lengths measured on the
        vehicle.
      </p>
      <button
        type="button"
        className="button primary"
        onClick={() => {
          if (change(store, 'add a node for each connector, part and stud', firstNodes(map, index)))
            remember({ tab: 'segments', viewport: null });
        }}
      >
        Add a node for each connector, part and stud
      </button>
    </div>
  );
}
