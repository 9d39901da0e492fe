import { usePlaceMemory } from '../../parts/place-memory.ts';

export const TABS = ['circuits', 'connectors', 'segments', 'nodes', 'splices', 'open'] as const;
export type Tab = (typeof TABS)[number];

/** Where the drawing stands in its view, in CSS pixels; `scale` in pixels a millimetre of the drawing. */
export interface Viewport {
  readonly x: number;
  readonly y: number;
  readonly scale: number;
}

/** What the place remembers while the window lives. */
export interface HarnessMemory {
  readonly tab: Tab;
  readonly query: string;
  readonly onlyWithFindings: boolean;
  readonly sort: { readonly column: string; readonly down: boolean };
  /** Place of the build in the list of combinations; null: all builds. */
  readonly build: number | null;
  /** The connector whose face is shown when none is selected. */
  readonly connector: string | null;
  readonly viewport: Viewport | null;
  /** Nodes are moved by dragging, instead of the drawing. */
  readonly movesNodes: boolean;
  /** Share of the height that the drawing takes. */
  readonly split: number;
}

export function useHarnessMemory(): readonly [HarnessMemory, (change: Partial<HarnessMemory>) => void] {
  return usePlaceMemory<HarnessMemory>('harness', () => ({
    tab: 'circuits',
    query: '',
    onlyWithFindings: false,
    sort: { column: 'circuit', down: false },
    build: null,
    connector: null,
    viewport: null,
    movesNodes: false,
    split: 0.55,
  }));
}
