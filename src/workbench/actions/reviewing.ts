import { useEffect } from 'react';
import type { Finding } from '../../checks/index.ts';
import type { WalkStep } from '../../compare/index.ts';
import { signOffDigest, type PairingDocuments } from '../../model/index.ts';
import { placeMemory, usePlaceMemory } from '../parts/place-memory.ts';
import type { OpenPairing, WorkbenchStore } from '../state/store.ts';
import { useWorkbenchStore } from '../state/store.ts';
import type { ComparisonOutcome, ReviewAnswerMessage, ReviewRequest } from '../worker/review-protocol.ts';

/** The earlier revision that this one is compared with. */
export interface ReviewBase {
  /** Where it was read from, for people. */
  readonly from: string;
  readonly documents: PairingDocuments;
}

/** What the reviewing thread last found. */
export interface Walked {
  readonly documents: PairingDocuments;
  readonly base: ReviewBase | null;
  readonly steps: readonly WalkStep[];
  readonly comparison: ComparisonOutcome | null;
  readonly baseFindings: readonly Finding[];
}

export interface ReviewState {
  readonly base: ReviewBase | null;
  readonly walked: Walked | null;
  readonly failure: string | null;
  /** The pairing all of this belongs to. */
  readonly serial: number;
}

const FIRST: ReviewState = { base: null, walked: null, failure: null, serial: -1 };
const NAME = 'reviewed';

/** Keeps the walk in step with the findings; started once for a window, when somebody first wants it. */
class Reviewing {
  private readonly worker = new Worker(new URL('../worker/review.worker.ts', import.meta.url), { type: 'module' });
  private version = 0;
  private busy = false;
  private sent: { readonly documents: PairingDocuments; readonly serial: number } | null = null;
  private sentBase: ReviewBase | null | undefined = undefined;
  private sentFindings: readonly Finding[] | null = null;

  constructor(private readonly store: WorkbenchStore) {
    this.worker.onmessage = ({ data }: MessageEvent<ReviewAnswerMessage>) => this.take(data);
    store.subscribe(() => this.look());
    placeMemory(store, NAME, () => FIRST).subscribe(() => this.look());
    this.look();
  }

  private look(): void {
    const { open, checked } = this.store.getState();
    const memory = placeMemory(this.store, NAME, () => FIRST);
    if (open && memory.getState().serial !== open.serial) {
      memory.setState({ ...FIRST, serial: open.serial });
      return;
    }
    if (!open || !checked || checked.stale || checked.failure !== null || this.busy) return;
    const { base } = memory.getState();
    if (
      this.sent?.documents === open.history.documents &&
      this.sentBase === base &&
      this.sentFindings === checked.findings
    )
      return;
    this.send(open, checked.findings, base);
  }

  private send(open: OpenPairing, findings: readonly Finding[], base: ReviewBase | null): void {
    const { documents } = open.history;
    const before = this.sent?.serial === open.serial ? this.sent.documents : null;
    this.version += 1;
    this.busy = true;
    const request: ReviewRequest = {
      version: this.version,
      map: documents.map,
      host: before?.host === documents.host ? null : documents.host,
      donor: before?.donor === documents.donor ? null : documents.donor,
      findings,
      ...(this.sentBase === base ? {} : { base: base?.documents ?? null }),
    };
    this.sent = { documents, serial: open.serial };
    this.sentBase = base;
    this.sentFindings = findings;
    this.worker.postMessage(request);
  }

  private take(data: ReviewAnswerMessage): void {
    if (data.version !== this.version) return;
    this.busy = false;
    const memory = placeMemory(this.store, NAME, () => FIRST);
    const { open } = this.store.getState();
    if (this.sent && open?.serial === this.sent.serial) {
      if (data.kind === 'failed') memory.setState({ failure: data.message });
      else {
        const { steps, comparison, baseFindings } = data;
        memory.setState({
          failure: null,
          walked: {
            documents: this.sent.documents,
            base: this.sentBase ?? null,
            steps,
            comparison,
            baseFindings,
          },
        });
      }
    }
    this.look();
  }
}

const started = new WeakMap<WorkbenchStore, Reviewing>();

/** The state of the review; the walk is worked out while `wanted`. */
export function useReview(wanted = true): ReviewState {
  const store = useWorkbenchStore();
  const [state] = usePlaceMemory<ReviewState>(NAME, () => FIRST);
  useEffect(() => {
    if (wanted && !started.has(store)) started.set(store, new Reviewing(store));
  }, [store, wanted]);
  return state;
}

/** Takes another revision to compare with; null: none. */
export function compareWith(store: WorkbenchStore, base: ReviewBase | null): void {
  placeMemory(store, NAME, () => FIRST).setState({ base });
}

/** The revision compared with; null: none. */
export function baseOf(store: WorkbenchStore): ReviewBase | null {
  const { base, serial } = placeMemory(store, NAME, () => FIRST).getState();
  return serial === store.getState().open?.serial ? base : null;
}

const digests = new WeakMap<PairingDocuments, string>();

/** What a sign-off of these documents stands for. */
export function digestToSign(documents: PairingDocuments): string {
  const known = digests.get(documents);
  if (known !== undefined) return known;
  const digest = signOffDigest(documents.map, documents.host, documents.donor);
  digests.set(documents, digest);
  return digest;
}
