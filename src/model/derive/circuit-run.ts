import type { Conductor } from '../document/common.ts';
import type { Electrical } from '../document/electrical.ts';
import type { Route } from '../document/map.ts';
import type { CircuitEnd, CircuitFuse, CircuitKind, CircuitProblem } from './circuit-types.ts';

/** A conductor wanted between two places, before places that are shared get a splice. */
export interface Run {
  readonly key: string;
  readonly kind: CircuitKind;
  readonly from: CircuitEnd;
  readonly to: CircuitEnd;
  readonly routes: readonly Route[];
  readonly fromElectrical: Electrical | null;
  readonly toElectrical: Electrical | null;
  /** Conductors of the platforms that it carries on, source first: their size, colour and insulation are the default. */
  readonly platformConductors: readonly (Conductor | undefined)[];
  readonly twistGroup: string | null;
  readonly fuse: CircuitFuse | null;
  readonly of: string | null;
  readonly loadA: number | null;
  readonly inrushA: number | null;
  readonly mask: bigint;
  readonly documents: readonly string[];
  readonly missing: readonly string[];
}

export interface Runs {
  readonly runs: Run[];
  readonly problems: CircuitProblem[];
}

/** Fields of a run that most runs leave empty. */
export const plain = {
  routes: [],
  fromElectrical: null,
  toElectrical: null,
  platformConductors: [],
  twistGroup: null,
  fuse: null,
  of: null,
  loadA: null,
  inrushA: null,
  documents: [],
  missing: [],
} as const;

export function documentsOf(side: string, documents: readonly string[] | undefined): string[] {
  return (documents ?? []).map((id) => `${side}:${id}`);
}
