import { useWorkbenchStore } from '../../state/store.ts';
import { acceptMany, addInterfaceModule, declareFrameFields } from './accepting.ts';
import { isAcceptable, type ListedNeed } from './view.ts';

interface AcceptBarProps {
  /** The needs the filters leave. */
  readonly entries: readonly ListedNeed[];
  readonly marked: readonly ListedNeed[];
  readonly least: number;
  readonly onLeast: (least: number) => void;
  readonly stale: boolean;
  readonly failure: string | null;
  readonly lacksInterface: boolean;
  readonly onAcceptMarked: () => void;
  readonly onLeaveOut: () => void;
  readonly onClear: () => void;
}

/** Accepts many proposals at once: the marked ones, or all that score enough. */
export function AcceptBar(props: AcceptBarProps) {
  const { entries, marked, least, onLeast, stale, failure, lacksInterface } = props;
  const store = useWorkbenchStore();
  if (failure !== null) return <p className="accept-bar bad">The proposals failed: {failure}</p>;
  if (marked.length > 0)
    return (
      <div className="accept-bar" role="group" aria-label={`${marked.length} needs marked`}>
        <strong>{marked.length} marked</strong>
        <button type="button" className="button primary" onClick={props.onAcceptMarked}>
          Accept the best for {marked.filter((entry) => isAcceptable(entry, 0)).length}
        </button>
        <button type="button" className="button" onClick={props.onLeaveOut}>
          Leave out…
        </button>
        <button type="button" className="button quiet" onClick={props.onClear}>
          Clear
        </button>
      </div>
    );
  const fields = entries.filter(({ isFrameField }) => isFrameField).length;
  const acceptable = entries.filter((entry) => isAcceptable(entry, least));
  return (
    <div className="accept-bar" role="group" aria-label="Accept many">
      <label>
        Best proposals of at least{' '}
        <input
          type="number"
          className="field number"
          min={0}
          max={120}
          step={5}
          value={least}
          onChange={(event) => onLeast(Math.max(0, event.target.valueAsNumber || 0))}
        />{' '}
        points
      </label>
      <button
        type="button"
        className="button"
        disabled={acceptable.length === 0 || stale}
        onClick={() =>
          void acceptMany(
            store,
            acceptable.map(({ need }) => need.ref),
            least,
          )
        }
      >
        Accept {acceptable.length}
      </button>
      {lacksInterface ? (
        <button
          type="button"
          className="button primary"
          title="Most proposals go through one; its ports join the buses of both sides"
          onClick={() => addInterfaceModule(store)}
        >
          Add an interface module
        </button>
      ) : null}
      {fields > 0 ? (
        <button
          type="button"
          className="button"
          title="They are made afresh by whoever sends the frame; declared as the protection of their messages they are needs no longer"
          onClick={() => declareFrameFields(store)}
        >
          Declare {fields} counters and checksums
        </button>
      ) : null}
      <span className="soft push" role="status">
        {stale ? 'working out proposals …' : ''}
      </span>
    </div>
  );
}
