import { createStore, type StoreApi } from 'zustand';
import type { PairingDocuments } from '../../model/index.ts';
import type { ConnectorPage } from '../../wiring/index.ts';
import type { OpenPairing, WorkbenchStore } from '../state/store.ts';
import type { PlanAnswer, PlanFrame, PlanRequest, ShownConductor } from '../worker/harness-protocol.ts';

/** The added harness as planned. */
export interface PlannedHarness extends PlanFrame {
  readonly conductors: readonly ShownConductor[];
  readonly connectors: readonly ConnectorPage[];
  /** The documents and builds it was planned for. */
  readonly documents: PairingDocuments;
  readonly mask: bigint | null;
  readonly elapsedMs: number;
}

export interface Planning {
  readonly plan: PlannedHarness | null;
  /** A newer plan is under way; `plan` is of an earlier state. */
  readonly stale: boolean;
  readonly failure: string | null;
}

interface Asked {
  readonly version: number;
  readonly serial: number;
  readonly documents: PairingDocuments;
  readonly mask: bigint | null;
}

/** Keeps a plan of the added harness, worked out off the window's thread; one at a time, the newest state wins. */
class Planner {
  readonly state: StoreApi<Planning> = createStore(() => ({ plan: null, stale: true, failure: null }));
  private readonly worker: Worker;
  private version = 0;
  private asked: Asked | null = null;
  private busy = false;
  private conductors: ShownConductor[] = [];
  private connectors: ConnectorPage[] = [];
  private wanted: { readonly open: OpenPairing; readonly mask: bigint | null } | null = null;

  constructor() {
    this.worker = new Worker(new URL('../worker/harness.worker.ts', import.meta.url), { type: 'module' });
    this.worker.onmessage = ({ data }: MessageEvent<PlanAnswer>) => this.take(data);
    this.worker.onerror = ({ message }) => {
      this.busy = false;
      this.state.setState({ failure: message, stale: false });
    };
  }

  /** Asks for the plan of this state of the documents, unless it is the one at hand or under way. */
  want(open: OpenPairing, mask: bigint | null): void {
    this.wanted = { open, mask };
    if (this.isAsked(open, mask)) return;
    const of = this.asked?.serial;
    this.state.setState(of === open.serial ? { stale: true } : { plan: null, stale: true, failure: null });
    if (!this.busy) this.send(open, mask);
  }

  private isAsked(open: OpenPairing, mask: bigint | null): boolean {
    const { asked } = this;
    return asked?.serial === open.serial && asked.documents === open.history.documents && asked.mask === mask;
  }

  private send(open: OpenPairing, mask: bigint | null): void {
    const { documents } = open.history;
    const before = this.asked?.documents;
    this.version += 1;
    this.busy = true;
    this.conductors = [];
    this.connectors = [];
    this.asked = { version: this.version, serial: open.serial, documents, mask };
    const request: PlanRequest = {
      version: this.version,
      map: documents.map,
      host: before?.host === documents.host ? null : documents.host,
      donor: before?.donor === documents.donor ? null : documents.donor,
      mask,
    };
    this.worker.postMessage(request);
  }

  private take(answer: PlanAnswer): void {
    const { asked, wanted } = this;
    if (!asked || answer.version !== asked.version) return;
    if (answer.kind === 'conductors') {
      this.conductors.push(...answer.conductors);
      return;
    }
    if (answer.kind === 'connectors') {
      this.connectors.push(...answer.connectors);
      return;
    }
    this.busy = false;
    const isNewest = wanted !== null && this.isAsked(wanted.open, wanted.mask);
    if (wanted?.open.serial === asked.serial) {
      if (answer.kind === 'failed') this.state.setState({ failure: answer.message, stale: !isNewest });
      else {
        const { documents, mask } = asked;
        const { frame, elapsedMs } = answer;
        const { conductors, connectors } = this;
        const plan = { ...frame, conductors, connectors, documents, mask, elapsedMs };
        this.state.setState({ plan, stale: !isNewest, failure: null });
      }
    }
    if (!isNewest && wanted) this.send(wanted.open, wanted.mask);
  }
}

const planners = new WeakMap<WorkbenchStore, Planner>();

/** The planner of a window, started when it is first asked. */
export function plannerOf(store: WorkbenchStore): Planner {
  const known = planners.get(store) ?? new Planner();
  planners.set(store, known);
  return known;
}
