import type { Electrical } from '../../model/index.ts';
import { CLASS_DEFAULTS, GROUND_SHIFT_V, LOW_SIDE_ON_V, OPERATING_SUPPLY_V } from '../tables/electrical-classes.ts';

/** An end's electrical character with the gaps filled from practice, and which gaps those were. */
export interface Character {
  readonly given: Electrical;
  readonly of: Electrical;
  readonly assumed: readonly (keyof Electrical)[];
}

/** Fills what a platform does not state with the careful end of practice. */
export function complete(given: Electrical): Character {
  const defaults = CLASS_DEFAULTS[given.class] ?? {};
  const assumed = (Object.keys(defaults) as (keyof Electrical)[]).filter((field) => given[field] === undefined);
  return { given, of: { ...defaults, ...given }, assumed };
}

/** What a driver puts on the conductor in one state: a level behind a resistance, or nothing but leakage. */
export interface Output {
  readonly volt: number | null;
  readonly ohm: number;
}

export interface States {
  /** Conducting, or driving high. */
  readonly on: Output;
  readonly off: Output;
}

const OPEN: Output = { volt: null, ohm: Infinity };

/** The two states of a switching driver at a supply voltage. Null for drivers which do not switch. */
export function statesOf({ of }: Character, supplyV: number): States | null {
  const ohm = of.sourceOhm ?? 0;
  switch (of.class) {
    case 'switched-battery':
    case 'pwm-battery': {
      const volt = Math.min(Math.max(supplyV, of.minV ?? 0), of.maxV ?? Infinity);
      return { on: { volt, ohm }, off: OPEN };
    }
    case 'feed':
      return { on: { volt: Math.min(of.maxV ?? supplyV, supplyV), ohm }, off: OPEN };
    case 'switched-ground':
    case 'open-collector':
    case 'pwm-ground':
    case 'hall-frequency':
      return { on: { volt: LOW_SIDE_ON_V, ohm }, off: OPEN };
    case 'power-ground':
      return { on: { volt: 0, ohm }, off: OPEN };
    case 'push-pull-5v':
      return { on: { volt: of.maxV!, ohm }, off: { volt: of.minV!, ohm } };
    case 'push-pull-12v':
      return { on: { volt: Math.min(of.maxV ?? supplyV, supplyV), ohm }, off: { volt: of.minV!, ohm } };
    default:
      return null;
  }
}

/** Level that a switching driver puts on the conductor while it is on. */
export function onLevelOf({ of }: Character): 'high' | 'low' {
  switch (of.class) {
    case 'switched-ground':
    case 'open-collector':
    case 'pwm-ground':
    case 'hall-frequency':
    case 'power-ground':
      return 'low';
    default:
      return 'high';
  }
}

/** The receiver's pull: a level behind a resistance; the pull-up to battery follows the supply. Null without one. */
export function pullOf({ of }: Character, supplyV: number): { readonly volt: number; readonly ohm: number } | null {
  if (of.pullOhm === undefined) return null;
  if (of.class === 'input-pull-up-12v') return { volt: supplyV, ohm: of.pullOhm };
  const volt = of.pullToV ?? 0;
  return { volt: volt >= OPERATING_SUPPLY_V.min ? supplyV : volt, ohm: of.pullOhm };
}

/** Levels at the receiver over the whole supply range, ground shift and leakage at their worst. In volts. */
export interface Levels {
  readonly high: { readonly min: number; readonly max: number };
  readonly low: { readonly min: number; readonly max: number };
  /** Level while the driver is on: conducting, or driving high. */
  readonly onIs: 'high' | 'low';
  /** Greatest current that the driver sinks or feeds through the pull, in amperes. */
  readonly currentA: number;
}

/** Levels by what the driver means to put out; where the receiver cannot tell them apart they overlap. Null for drivers which do not switch. */
export function levelsAt(
  driver: Character,
  receiver: Character,
  extraPull?: { readonly volt: (supplyV: number) => number; readonly ohm: number },
): Levels | null {
  const seen: { on: number[]; off: number[] } = { on: [], off: [] };
  let currentA = 0;
  for (const supplyV of [OPERATING_SUPPLY_V.min, OPERATING_SUPPLY_V.max]) {
    const states = statesOf(driver, supplyV);
    if (!states) return null;
    const pulls = [pullOf(receiver, supplyV), extraPull ? { volt: extraPull.volt(supplyV), ohm: extraPull.ohm } : null];
    for (const state of ['on', 'off'] as const) {
      for (const shiftV of [-GROUND_SHIFT_V, GROUND_SHIFT_V]) {
        const volt = Math.min(supplyV + GROUND_SHIFT_V, levelOf(states[state], pulls, shiftV, driver));
        seen[state].push(volt);
        if (states[state].volt !== null)
          for (const pull of pulls) if (pull) currentA = Math.max(currentA, Math.abs(pull.volt - volt) / pull.ohm);
      }
    }
  }
  const on = { min: Math.min(...seen.on), max: Math.max(...seen.on) };
  const off = { min: Math.min(...seen.off), max: Math.max(...seen.off) };
  const onIs = onLevelOf(driver);
  return onIs === 'high' ? { high: on, low: off, onIs, currentA } : { high: off, low: on, onIs, currentA };
}

type Pull = { readonly volt: number; readonly ohm: number } | null;

/** Node voltage by conductances; leakage of an open output flows from battery for a high-side, to ground for a low-side driver. */
function levelOf(output: Output, pulls: readonly Pull[], shiftV: number, driver: Character): number {
  if (output.volt !== null && output.ohm === 0) return Math.max(0, output.volt + shiftV);
  let conductance = output.volt === null ? 0 : 1 / output.ohm;
  let current = output.volt === null ? 0 : (output.volt + shiftV) / output.ohm;
  for (const pull of pulls) {
    if (!pull) continue;
    conductance += 1 / pull.ohm;
    current += pull.volt / pull.ohm;
  }
  if (conductance === 0) return 0;
  const leakage = output.volt === null ? (driver.of.leakageA ?? 0) : 0;
  const high =
    driver.of.class === 'switched-battery' || driver.of.class === 'pwm-battery' || driver.of.class === 'feed';
  return Math.max(0, (current + (high ? leakage : -leakage)) / conductance);
}
