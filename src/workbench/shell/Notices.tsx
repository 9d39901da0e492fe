import { useEffect } from 'react';
import { dismiss } from '../actions/notices.ts';
import { useWorkbench, useWorkbenchStore, type Notice } from '../state/store.ts';

const SHOWN_MS = 6000;

/** What went wrong, and what is still to do, stays until it is dismissed. */
function mustBeRead({ tone, details }: Notice): boolean {
  return tone === 'bad' || details.length > 0;
}

function NoticeCard({ notice }: { readonly notice: Notice }) {
  const store = useWorkbenchStore();
  useEffect(() => {
    if (mustBeRead(notice)) return undefined;
    const timer = setTimeout(() => dismiss(store, notice.id), SHOWN_MS);
    return () => clearTimeout(timer);
  }, [store, notice]);
  return (
    <div className="notice" data-tone={notice.tone}>
      <div>
        <p>{notice.text}</p>
        {notice.details.length > 0 ? (
          <ul className="notice-details mono" tabIndex={0} aria-label="Details">
            {notice.details.slice(0, 50).map((detail, index) => (
              <li key={index}>{detail}</li>
            ))}
          </ul>
        ) : null}
      </div>
      <button type="button" className="button quiet" aria-label="Dismiss" onClick={() => dismiss(store, notice.id)}>
        ✕
      </button>
    </div>
  );
}

/**
 * What happened. What has to be read stands in a row of its own above the foot until it is dismissed, so that it covers
 * nothing; what only confirms floats for a while and lets the pointer through.
 */
export function Notices() {
  const notices = useWorkbench((state) => state.notices);
  return (
    <>
      <div className="notices kept" role="status" aria-live="polite">
        {notices.filter(mustBeRead).map((notice) => (
          <NoticeCard key={notice.id} notice={notice} />
        ))}
      </div>
      <div className="notices passing" role="status" aria-live="polite">
        {notices
          .filter((notice) => !mustBeRead(notice))
          .map((notice) => (
            <NoticeCard key={notice.id} notice={notice} />
          ))}
      </div>
    </>
  );
}
