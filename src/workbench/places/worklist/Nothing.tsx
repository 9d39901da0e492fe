import type { PlaceId } from '../index.ts';
import type { WorklistView } from './view.ts';

/** Says why the list is empty and what to do next. */
export function Nothing({
  shows,
  needs,
  open,
  onPlace,
}: {
  readonly shows: WorklistView['shows'];
  readonly needs: number;
  readonly open: number;
  readonly onPlace: (place: PlaceId) => void;
}) {
  if (needs === 0)
    return (
      <div className="empty">
        <p>
          Nothing is needed yet. Needs appear when a module that sends something is marked removed while a module that
          reads it is retained.
        </p>
        <button type="button" className="button primary" onClick={() => onPlace('platforms')}>
          Mark fates in Platforms
        </button>
      </div>
    );
  if (shows === 'open' && open === 0)
    return (
      <div className="empty">
        <p>Every need is routed or left out with a reason. What the rules say of the routes is in Findings.</p>
        <button type="button" className="button primary" onClick={() => onPlace('findings')}>
          Go to Findings
        </button>
      </div>
    );
  return (
    <div className="empty">
      <p>
        {shows === 'met' ? 'No routed need passes the filters.' : `None of the ${open} open needs passes the filters.`}
      </p>
    </div>
  );
}
