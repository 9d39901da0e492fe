import type { ElectricalClass } from '../../model/index.ts';
import type { Series } from './preferred.ts';

export type FitVerdict = 'fits' | 'fits-with-conditioning' | 'does-not-fit';

/** A number that led to a verdict, with the limit it was held against. */
export interface Measure {
  readonly name: string;
  readonly value: number;
  readonly unit: 'V' | 'A' | 'Ohm' | 'Hz' | '%';
  readonly limit: number | null;
  readonly relation: 'at least' | 'at most' | null;
  readonly holds: boolean | null;
}

/** A component of a conditioning circuit: a preferred value, in its unit. */
export interface Component {
  readonly role: string;
  readonly value: number;
  readonly unit: 'Ohm' | 'F' | 'V' | 'A';
  readonly series: Series | null;
  /** Power it must stand at the highest supply, in watts; null where that says nothing. */
  readonly watt: number | null;
}

export const CONDITIONING_KINDS = [
  'pull-up',
  'pull-down',
  'divider',
  'low-pass',
  'inverter',
  'level-shift',
  'low-side-driver',
  'high-side-driver',
  'relay',
  'current-limit',
  'diode',
  'suppression',
  'buffer',
  'zero-crossing',
  'attenuator',
  'current-sense',
  'timer-input',
] as const;
export type ConditioningKind = (typeof CONDITIONING_KINDS)[number];

/** What must stand between driver and receiver. */
export interface Conditioning {
  readonly kind: ConditioningKind;
  /** One sentence with the values, for a page. */
  readonly what: string;
  readonly components: readonly Component[];
}

/** How a driver and a receiver go together. */
export interface ElectricalFit {
  readonly verdict: FitVerdict;
  readonly driver: ElectricalClass;
  readonly receiver: ElectricalClass;
  /** What happens when they are joined without conditioning. */
  readonly direct: 'works' | 'misreads' | 'does-nothing' | 'overloads' | 'damages';
  /** Level at the receiver while the driver is active, after conditioning; null for values that are no states. */
  readonly activeLevel: 'high' | 'low' | null;
  /** The receiver takes the other level for active, so the meaning is inverted unless somebody inverts it back. */
  readonly inverted: boolean;
  readonly measures: readonly Measure[];
  readonly conditioning: readonly Conditioning[];
  readonly because: string;
  /** Values that the platform does not state and for which practice was taken. */
  readonly assumed: readonly string[];
  readonly source: string;
}

/** `value` held against a limit; one without end is no limit. */
export function measure(
  name: string,
  value: number,
  unit: Measure['unit'],
  relation?: 'at least' | 'at most',
  limit?: number,
): Measure {
  const free = relation === undefined || limit === undefined || !Number.isFinite(limit);
  return {
    name,
    value,
    unit,
    limit: free ? null : limit,
    relation: free ? null : relation,
    holds: free ? null : relation === 'at least' ? value >= limit - 1e-9 : value <= limit + 1e-9,
  };
}

/** Number with an SI prefix for a page: 22 kΩ, 470 Ω, 100 nF. */
export function withPrefix(value: number, unit: 'Ohm' | 'F'): string {
  const symbol = unit === 'Ohm' ? 'Ω' : 'F';
  const prefixes = [
    ['M', 1e6],
    ['k', 1e3],
    ['', 1],
    ['m', 1e-3],
    ['µ', 1e-6],
    ['n', 1e-9],
    ['p', 1e-12],
  ] as const;
  const [prefix, scale] = prefixes.find(([, one]) => value >= one * (1 - 1e-12)) ?? ['p', 1e-12];
  return `${Number((value / scale).toPrecision(3))} ${prefix}${symbol}`;
}
