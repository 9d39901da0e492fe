import { useState, type FormEvent } from 'react';
import { leaveOut } from '../actions/leave-out.ts';
import { Sheet } from '../shell/Sheet.tsx';
import { useWorkbenchStore } from '../state/store.ts';

/** Asks why needs (by their references) are left out. */
export function LeaveOutSheet({ needs, onClose }: { readonly needs: readonly string[]; readonly onClose: () => void }) {
  const store = useWorkbenchStore();
  const [reason, setReason] = useState('');
  const [fault, setFault] = useState<string | null>(null);
  const submit = (event: FormEvent): void => {
    event.preventDefault();
    if (reason.trim() === '') {
      setFault('Give the reason: the next reader must be able to judge it.');
      return;
    }
    leaveOut(store, needs, reason);
    onClose();
  };
  return (
    <Sheet
      title={needs.length === 1 ? 'Leave this need out' : `Leave ${needs.length} needs out`}
      onClose={onClose}
      width="wide"
    >
      <form className="form-rows" onSubmit={submit} noValidate>
        <p className="sheet-text mono">{needs.length === 1 ? needs[0]! : `${needs.length} needs`}</p>
        <p className="soft">It counts as answered, stays in the map with its reason, and can be taken back.</p>
        <label>
          Reason
          <textarea
            className="field"
            value={reason}
            autoFocus
            aria-required="true"
            placeholder="for example: no rear heater in this chassis"
            onChange={(event) => setReason(event.target.value)}
          />
        </label>
        {fault === null ? null : (
          <p className="bad" role="alert">
            {fault}
          </p>
        )}
        <div className="sheet-actions">
          <button type="button" className="button" onClick={onClose}>
            Cancel
          </button>
          <button type="submit" className="button primary">
            Leave out
          </button>
        </div>
      </form>
    </Sheet>
  );
}
