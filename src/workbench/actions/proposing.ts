import type { Acceptance, NeedProposals } from '../../edit/index.ts';
import type { PairingDocuments } from '../../model/index.ts';
import type { WorkbenchStore } from '../state/store.ts';
import type { ProposeAnswer, ProposeRequest } from '../worker/propose-protocol.ts';
import { beginTask } from './tasks.ts';

type Unsent = ProposeRequest extends infer R
  ? R extends ProposeRequest
    ? Omit<R, 'version' | 'map' | 'host' | 'donor'>
    : never
  : never;

interface Waiting {
  readonly settle: (answer: ProposeAnswer) => void;
  readonly onProgress: (fraction: number) => void;
}

/** A thread that works out proposals; one for each window, started when it is first asked. */
class Proposer {
  private worker = this.start();
  private version = 0;
  private readonly waiting = new Map<number, Waiting>();
  private sent: PairingDocuments | null = null;

  ask(documents: PairingDocuments, what: Unsent, onProgress: (fraction: number) => void): Promise<ProposeAnswer> {
    this.version += 1;
    const { version } = this;
    const request = {
      ...what,
      version,
      map: documents.map,
      host: this.sent?.host === documents.host ? null : documents.host,
      donor: this.sent?.donor === documents.donor ? null : documents.donor,
    } as ProposeRequest;
    this.sent = documents;
    this.worker.postMessage(request);
    return new Promise((resolve) => this.waiting.set(version, { settle: resolve, onProgress }));
  }

  /** Ends what is under way. */
  stop(): void {
    this.worker.terminate();
    this.worker = this.start();
    this.sent = null;
    for (const [version, { settle }] of this.waiting) settle({ kind: 'failed', version, message: 'stopped' });
    this.waiting.clear();
  }

  private start(): Worker {
    const worker = new Worker(new URL('../worker/propose.worker.ts', import.meta.url), { type: 'module' });
    worker.onmessage = ({ data }: MessageEvent<ProposeAnswer>) => {
      const waiting = this.waiting.get(data.version);
      if (data.kind === 'progress') waiting?.onProgress(data.fraction);
      else {
        this.waiting.delete(data.version);
        waiting?.settle(data);
      }
    };
    return worker;
  }
}

const proposers = new WeakMap<WorkbenchStore, Proposer>();

function proposerOf(store: WorkbenchStore): Proposer {
  const known = proposers.get(store) ?? new Proposer();
  proposers.set(store, known);
  return known;
}

/** Proposals for every need that is open, worked out off the window's thread. */
export async function proposalsFor(
  store: WorkbenchStore,
  documents: PairingDocuments,
): Promise<readonly NeedProposals[] | { readonly failure: string }> {
  const answer = await proposerOf(store).ask(documents, { kind: 'propose' }, () => undefined);
  if (answer.kind === 'proposed') return answer.needs;
  return { failure: answer.kind === 'failed' ? answer.message : 'an answer to another question came' };
}

/** The edits that accept the best proposals of these needs; null when the user stopped it. */
export async function acceptanceOf(
  store: WorkbenchStore,
  documents: PairingDocuments,
  needs: readonly string[],
  least: number,
): Promise<Acceptance | null> {
  const proposer = proposerOf(store);
  const task = beginTask(store, 'Drafting routes', () => proposer.stop());
  try {
    const answer = await proposer.ask(documents, { kind: 'accept', needs, least }, task.progress);
    if (answer.kind === 'accepted') return answer.acceptance;
    if (answer.kind === 'failed' && answer.message !== 'stopped') throw new Error(answer.message);
    return null;
  } finally {
    task.end();
  }
}
