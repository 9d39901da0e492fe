import { NO_FILTER, type LoomFilter } from './filter.ts';

export const LEAST_ZOOM = 0.1;
export const MOST_ZOOM = 1.6;

/** What the loom remembers while the window lives. */
export interface LoomState {
  readonly filter: LoomFilter;
  readonly folded: ReadonlySet<string>;
  readonly zoom: number;
  readonly cursor: string | null;
  readonly scrollTop: number;
  readonly sideOpen: boolean;
  readonly sideWidth: number;
  readonly stripOpen: boolean;
}

export const FIRST_LOOM: LoomState = {
  filter: NO_FILTER,
  folded: new Set(),
  zoom: 1,
  cursor: null,
  scrollTop: 0,
  sideOpen: true,
  sideWidth: 360,
  stripOpen: true,
};

/** A zoom within its ends. */
export function zoomWithin(zoom: number): number {
  return Math.min(MOST_ZOOM, Math.max(LEAST_ZOOM, Math.round(zoom * 100) / 100));
}
