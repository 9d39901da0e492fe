import { useStore } from 'zustand';
import { useShallow } from 'zustand/react/shallow';
import type { PairingDocuments } from '../../../model/index.ts';
import { placeMemory } from '../../parts/place-memory.ts';
import { useWorkbenchStore, type WorkbenchStore } from '../../state/store.ts';
import type { BenchSummary, LogPart, Moment } from '../../worker/bench-protocol.ts';
import type { Span } from './recording/columns.ts';
import type { LaneHead, LanePoints } from './recording/lane.ts';
import type { StimulusPlan } from './recording/stimulus.ts';

/** A log, and where it lies when the page does not hold it itself. */
export interface ChosenLog extends LogPart {
  readonly path: string | null;
}

/** What is replayed: logs that were recorded together, or a made-up course. */
export type BenchInput =
  | { readonly kind: 'logs'; readonly logs: readonly ChosenLog[] }
  | { readonly kind: 'stimulus'; readonly plan: StimulusPlan };

/** A stretch of time that is seen, in microseconds of the log's clock. */
export interface View {
  readonly fromUs: number;
  readonly toUs: number;
}

export type RouteFilter = 'traced' | 'loss' | 'clipped' | 'all';

/** What the place remembers while the window lives. */
export interface BenchState {
  /** The pairing it belongs to; another one opened begins anew. */
  readonly serial: number;
  readonly phase: 'empty' | 'running' | 'ready';
  readonly input: BenchInput | null;
  /** Position of the build among the combinations of the options. */
  readonly build: number;
  /** What interface names of logs stand for: `can0` → `host:chassis-can`. */
  readonly buses: Readonly<Record<string, string>>;
  readonly progress: { readonly fraction: number; readonly timeUs: number } | null;
  readonly failure: string | null;
  readonly summary: BenchSummary | null;
  /** The documents as they were replayed. */
  readonly documents: PairingDocuments | null;
  readonly view: View | null;
  readonly cursorUs: number;
  readonly moment: Moment | null;
  readonly heads: readonly LaneHead[];
  readonly points: readonly LanePoints[];
  readonly pointsSpan: Span | null;
  /** Routes traced beside the selected one. */
  readonly traced: readonly string[];
  readonly stepBy: 'traced' | 'all';
  /** The logs are compared as a capture of all buses. */
  readonly compare: boolean;
  readonly panel: 'routes' | 'capture';
  readonly filter: RouteFilter;
  readonly text: string;
}

const FIRST: Omit<BenchState, 'serial'> = {
  phase: 'empty',
  input: null,
  build: 0,
  buses: {},
  progress: null,
  failure: null,
  summary: null,
  documents: null,
  view: null,
  cursorUs: 0,
  moment: null,
  heads: [],
  points: [],
  pointsSpan: null,
  traced: [],
  stepBy: 'traced',
  compare: false,
  panel: 'routes',
  filter: 'all',
  text: '',
};

/** The memory of the place; begun anew for another pairing. */
export function benchMemory(store: WorkbenchStore) {
  const serial = store.getState().open?.serial ?? 0;
  const memory = placeMemory<BenchState>(store, 'bench', () => ({ ...FIRST, serial }));
  if (memory.getState().serial !== serial) memory.setState({ ...FIRST, serial });
  return memory;
}

/** A part of what the place remembers; the component draws again only when that part changes. */
export function useBench<T extends object>(pick: (state: BenchState) => T): T {
  return useStore(benchMemory(useWorkbenchStore()), useShallow(pick));
}
