import { ampacity, type Surroundings } from './ampacity.ts';
import { drop } from './drop.ts';
import type { ConductorSize } from './size.ts';

/** What made the size: the continuous current, the fuse before it, the drop, the terminals, or that thinner breaks by hand. */
export type SizeReason = 'current' | 'fuse' | 'drop' | 'terminal' | 'mechanical';

export interface SizeDemand {
  readonly currentA: number;
  /** Rating of the fuse that must protect it; null without one. */
  readonly fuseA: number | null;
  /** Length of this conductor and, when its return is of the same kind, the return's too. In metres. */
  readonly loopM: number;
  readonly limitV: number;
  readonly around: Surroundings;
  /** Conductor temperature for the drop, °C. */
  readonly temperatureC: number;
  readonly mechanicalMm2: number;
  /** Smallest cross-section that the terminals at both ends accept; null when not known. */
  readonly terminalMm2: number | null;
}

export interface SizeChoice {
  /** The smallest size that meets all demands; null when none of the series does. */
  readonly size: ConductorSize | null;
  readonly reason: SizeReason;
  /** The smallest size each demand alone asks for. */
  readonly smallest: Readonly<Record<SizeReason, ConductorSize | null>>;
}

type Demands = Readonly<Record<SizeReason, (size: ConductorSize) => boolean>>;

/** In the order in which a reason is named when two demands ask for the same size. */
const REASONS: readonly SizeReason[] = ['mechanical', 'terminal', 'drop', 'current', 'fuse'];

function demandsOf(demand: SizeDemand): Demands {
  return {
    mechanical: ({ areaMm2 }) => areaMm2 >= demand.mechanicalMm2 - TINY,
    terminal: ({ areaMm2 }) => demand.terminalMm2 === null || areaMm2 >= demand.terminalMm2 - TINY,
    current: (size) => ampacity(size, demand.around).ampere >= demand.currentA - TINY,
    fuse: (size) => demand.fuseA === null || ampacity(size, demand.around).ampere >= demand.fuseA - TINY,
    drop: ({ ohmPerM20C }) =>
      drop(demand.currentA, [{ ohmPerM20C, lengthM: demand.loopM, temperatureC: demand.temperatureC }], []).dropV <=
      demand.limitV + TINY,
  };
}

/** Demands which a given size does not meet; empty when it holds. */
export function unmetBy(size: ConductorSize, demand: SizeDemand): readonly SizeReason[] {
  const meets = demandsOf(demand);
  return REASONS.filter((reason) => !meets[reason](size));
}

/** Smallest size of a series (thinnest first) that meets every demand, and which demand made it so large. */
export function minimumSize(sizes: readonly ConductorSize[], demand: SizeDemand): SizeChoice {
  const meets = demandsOf(demand);
  const smallest = Object.fromEntries(
    REASONS.map((reason) => [reason, sizes.find((size) => meets[reason](size)) ?? null]),
  ) as Record<SizeReason, ConductorSize | null>;
  const unmet = REASONS.find((reason) => smallest[reason] === null);
  if (unmet !== undefined) return { size: null, reason: unmet, smallest };
  const reason = REASONS.reduce((worst, one) => (smallest[one]!.areaMm2 > smallest[worst]!.areaMm2 ? one : worst));
  return { size: smallest[reason], reason, smallest };
}

/** Slack for rounding of doubles, far below any printed digit. */
const TINY = 1e-9;
