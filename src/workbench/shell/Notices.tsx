import { useEffect } from 'react';
import { dismiss } from '../actions/notices.ts';
import { useWorkbench, useWorkbenchStore, type Notice } from '../state/store.ts';

const SHOWN_MS = 6000;

function NoticeCard({ notice }: { readonly notice: Notice }) {
  const store = useWorkbenchStore();
  useEffect(() => {
    if (notice.tone === 'bad') return undefined;
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

/** What happened, until it is read. */
export function Notices() {
  const notices = useWorkbench((state) => state.notices);
  return (
    <div className="notices" role="status" aria-live="polite">
      {notices.map((notice) => (
        <NoticeCard key={notice.id} notice={notice} />
      ))}
    </div>
  );
}
