import type { Circuit } from '../../model/index.ts';
import type { SizeChoice, SizeReason } from '../conductor/minimum-size.ts';
import type { ConductorSize } from '../conductor/size.ts';
import type { Way } from '../harness/graph.ts';
import type { DropDuty } from '../tables/drop-limits.ts';

/** One conductor of the added harness with all that was computed for it. Units stand in the names. */
export interface PlannedConductor {
  readonly circuit: Circuit;
  readonly way: Way | null;
  /** Along the segments, or as a person measured; without allowance. */
  readonly lengthM: number | null;
  readonly lengthBy: 'segments' | 'measured' | null;
  readonly serviceM: number;
  /** Length factor of the twist; 1 when not twisted. */
  readonly twistFactor: number;
  /** Rounded up to a whole step of the shop. Null when the length is not known. */
  readonly cutLengthMm: number | null;
  readonly size: ConductorSize;
  readonly sizeBy: 'circuit' | 'route' | 'platform' | 'computed' | 'assumed';
  /** The smallest size that meets the demands, and which demand made it so. */
  readonly minimum: SizeChoice;
  /** Demands which the size set does not meet; empty when it holds. */
  readonly sizeFaults: readonly SizeReason[];
  readonly colourBase: string;
  readonly colourTracer: string | null;
  readonly colourBy: 'given' | 'assigned';
  readonly insulation: string;
  readonly insulationC: number;
  readonly ambientC: number;
  readonly ambientBy: 'segments' | 'assumed';
  readonly currentA: number;
  readonly currentBy: 'stated' | 'pull' | 'fuse' | 'assumed';
  /** Current-carrying conductors on its fullest segment, itself included. */
  readonly carrying: number;
  readonly ampacityA: number;
  readonly temperatureC: number;
  readonly duty: DropDuty | null;
  /** This conductor alone, in volts. */
  readonly dropV: number | null;
  /** With the stub before it, the hops in line and its return, in volts; what the limit is for. */
  readonly loopDropV: number | null;
  readonly limitV: number | null;
  /** Ids of the conductors whose drop counts with it. */
  readonly loop: readonly string[];
  /** What must be found out, of the documents and of the harness. */
  readonly missing: readonly string[];
}
