import { deriveHarness, type Pairing } from '../model/index.ts';
import {
  busesPhysical,
  DEFAULT_SETTINGS,
  planConductors,
  terminatorsOf,
  type BusPhysical,
  type Terminator,
} from '../wiring/index.ts';
import { busMemory } from './bus-segments.ts';
import type { BusMemory } from './bus-types.ts';
import { partition } from './combinations.ts';
import type { CheckContext } from './context.ts';

/** One piece of bus, physically, in the combinations of `mask`. `buses`: the one asked about first, then what is joined with it. */
export interface PhysicalCase {
  readonly buses: readonly BusPhysical[];
  readonly mask: bigint;
  readonly terminators: readonly Terminator[];
  readonly removed: readonly Terminator[];
}

interface Copper {
  readonly buses: Map<bigint, readonly BusPhysical[]>;
  readonly cases: Map<string, readonly PhysicalCase[]>;
  pairLengths: ReadonlyMap<string, number> | null;
}

const coppers = new WeakMap<object, Copper>();

function copperOf({ copper }: BusMemory): Copper {
  let is = coppers.get(copper);
  if (!is) coppers.set(copper, (is = { buses: new Map(), cases: new Map(), pairLengths: null }));
  return is;
}

/**
 * The cases of a bus (`side:bus`) in which it comes first by name of those it is one piece with: each piece is judged once. Empty when
 * there is no such bus.
 */
export function physicalCases(context: CheckContext, ref: string): readonly PhysicalCase[] {
  const memory = busMemory(context);
  const copper = copperOf(memory);
  const known = copper.cases.get(ref);
  if (known) return known;
  const { pairing } = context;
  const all = pieceOf(inCombinations(pairing, memory, pairing.options.all), ref);
  const masks = [
    ...all.flatMap(({ terminators, removedTerminators, stubs }) => [...terminators, ...removedTerminators, ...stubs]),
    ...memory.joins,
  ].map(({ mask }) => mask);
  const cases = partition(pairing.options.all, masks).flatMap((mask): PhysicalCase[] => {
    const buses = pieceOf(inCombinations(pairing, memory, mask), ref);
    if (buses.length === 0 || buses.some((other) => other.ref < ref)) return [];
    const removed = buses.flatMap(({ removedTerminators }) => removedTerminators);
    return [
      {
        buses,
        mask,
        terminators: terminatorsOf(buses),
        removed: [...new Map(removed.filter((one) => (one.mask & mask) !== 0n).map((one) => [one.at, one])).values()],
      },
    ];
  });
  copper.cases.set(ref, cases);
  return cases;
}

/** Cases that say the same become one, with the combinations of all. */
export function mergeCases<T extends { readonly mask: bigint }>(cases: readonly T[], says: (one: T) => string): T[] {
  const merged = new Map<string, T>();
  for (const one of cases) {
    const key = says(one);
    const known = merged.get(key);
    merged.set(key, known ? { ...known, mask: known.mask | one.mask } : one);
  }
  return [...merged.values()];
}

function pieceOf(buses: readonly BusPhysical[], ref: string): readonly BusPhysical[] {
  const own = buses.find((bus) => bus.ref === ref);
  if (!own) return [];
  return [own, ...own.joined.flatMap((other) => buses.find((bus) => bus.ref === other) ?? [])];
}

function inCombinations(pairing: Pairing, memory: BusMemory, mask: bigint): readonly BusPhysical[] {
  const copper = copperOf(memory);
  const known = copper.buses.get(mask);
  if (known) return known;
  const pairLengthM = (port: string): number | null => (copper.pairLengths ??= pairLengths(pairing)).get(port) ?? null;
  const are = busesPhysical(pairing, { pairLengthM, mask, joins: memory.joins });
  copper.buses.set(mask, are);
  return are;
}

/** Lengths of the ports' added pairs; only a harness with segments has any. */
function pairLengths(pairing: Pairing): ReadonlyMap<string, number> {
  if ((pairing.map.harness?.segments ?? []).length === 0) return new Map();
  const { conductors } = planConductors(pairing, deriveHarness(pairing), DEFAULT_SETTINGS);
  return new Map(
    conductors.flatMap(({ circuit, lengthM }) =>
      lengthM !== null && circuit.key.startsWith('bus:') && circuit.key.endsWith('/high')
        ? [[circuit.key.slice('bus:'.length, -'/high'.length), lengthM] as const]
        : [],
    ),
  );
}
