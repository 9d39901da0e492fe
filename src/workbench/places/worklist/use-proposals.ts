import { useEffect, useState } from 'react';
import type { NeedProposals } from '../../../edit/index.ts';
import type { PairingDocuments } from '../../../model/index.ts';
import { proposalsFor } from '../../actions/proposing.ts';
import { useWorkbenchStore } from '../../state/store.ts';

export interface Proposals {
  /** Null until they are known the first time. */
  readonly needs: readonly NeedProposals[] | null;
  /** While newer ones are being worked out. */
  readonly stale: boolean;
  readonly failure: string | null;
}

/** Proposals for the documents, kept in step with them; those of before stay until the new ones are there. */
export function useProposals(documents: PairingDocuments): Proposals {
  const store = useWorkbenchStore();
  const [answer, setAnswer] = useState<{
    readonly documents: PairingDocuments | null;
    readonly needs: readonly NeedProposals[] | null;
    readonly failure: string | null;
  }>({ documents: null, needs: null, failure: null });
  useEffect(() => {
    let wanted = true;
    void proposalsFor(store, documents).then((found) => {
      if (!wanted) return;
      if ('failure' in found) setAnswer((before) => ({ ...before, documents, failure: found.failure }));
      else setAnswer({ documents, needs: found, failure: null });
    });
    return () => {
      wanted = false;
    };
  }, [store, documents]);
  return { needs: answer.needs, stale: answer.documents !== documents, failure: answer.failure };
}
