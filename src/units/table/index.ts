import type { Affine } from '../../number/index.ts';
import type { Dimension } from '../dimension.ts';
import { QUANTITIES, type QuantityName } from '../quantity.ts';
import { ELECTRICAL } from './electrical.ts';
import { FLOW } from './flow.ts';
import { MECHANICS } from './mechanics.ts';
import { MOTION } from './motion.ts';
import { PULSES } from './pulses.ts';
import type { Row } from './row.ts';

/** A unit of the table. `code` is its UCUM code (annotations in braces are our own); documents hold codes. */
export interface Unit {
  readonly code: string;
  readonly title: string;
  /** What people read beside a value: "°C" for Cel. Empty for the bare number 1. */
  readonly symbol: string;
  /** What it measures; units convert only within one quantity. */
  readonly quantity: QuantityName;
  readonly dimension: Dimension;
  /** True for a value on a scale with a chosen zero (temperature, gauge pressure), false for an amount or a difference. */
  readonly point: boolean;
  /** SI value = factor · value + offset, exact; angles by the π of table/row.ts. */
  readonly toSi: Affine;
  readonly source: string;
}

function unitOf(row: Row): Unit {
  const quantity = QUANTITIES[row.quantity];
  return {
    code: row.code,
    title: row.title,
    symbol: row.symbol,
    quantity: row.quantity,
    dimension: quantity.dimension,
    point: quantity.point,
    toSi: { factor: row.factor, offset: row.offset },
    source: row.source,
  };
}

/** Every unit known, grouped by quantity. */
export const UNITS: readonly Unit[] = [...MOTION, ...MECHANICS, ...FLOW, ...ELECTRICAL, ...PULSES].map(unitOf);

const BY_CODE: ReadonlyMap<string, Unit> = new Map(UNITS.map((unit) => [unit.code, unit]));

/** The unit with exactly this code, or null. */
export function unitByCode(code: string): Unit | null {
  return BY_CODE.get(code) ?? null;
}

/** The symbol people read beside a value ("km/h", "°C"); a text that is no code comes back as it is. */
export function unitSymbol(code: string): string {
  return BY_CODE.get(code)?.symbol ?? code;
}
