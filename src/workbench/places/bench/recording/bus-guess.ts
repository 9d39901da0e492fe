import { candumpReader } from '../../../../can/index.ts';
import { sideRef, type Pairing } from '../../../../model/index.ts';
import type { BusNames } from '../../../../translate/index.ts';

/** A bus that an interface of a log most likely was on, by the frame ids seen there. */
export interface BusGuess {
  readonly name: string;
  /** `side:bus`. */
  readonly bus: string;
  /** Frame ids seen that the bus has, of all that were seen. */
  readonly fits: number;
  readonly of: number;
}

/** At least this share of the ids must be those of the bus, and no other bus may have half as many. */
const LEAST_SHARE = 0.8;
const LEAST_IDS = 3;

/**
 * Guesses the buses of interfaces that stand for none, from the beginning of a log. Nothing is guessed where two buses fit, or where
 * too few ids are seen; two interfaces are never given the same bus.
 */
export function guessBuses(pairing: Pairing, names: BusNames, beginning: Uint8Array): readonly BusGuess[] {
  const reader = candumpReader();
  const seen = new Map<string, Set<string>>();
  for (const frame of reader.push(beginning).frames) {
    if (frame.kind !== 'data' || names.busOf(frame.interfaceName) !== null) continue;
    const ids = seen.get(frame.interfaceName) ?? new Set<string>();
    ids.add(keyOf(frame.frameId, frame.idFormat === 'extended'));
    seen.set(frame.interfaceName, ids);
  }
  const known = idsOfBuses(pairing);
  const guesses = [...seen].flatMap(([name, ids]): BusGuess[] => {
    const fits = [...known]
      .map(([bus, own]) => ({ bus, count: [...ids].filter((id) => own.has(id)).length }))
      .sort((a, b) => b.count - a.count);
    const [best, next] = fits;
    if (best === undefined || ids.size < LEAST_IDS || best.count < LEAST_SHARE * ids.size) return [];
    if (next !== undefined && next.count * 2 >= best.count) return [];
    return [{ name, bus: best.bus, fits: best.count, of: ids.size }];
  });
  return guesses.filter(({ bus }) => guesses.filter((other) => other.bus === bus).length === 1);
}

function idsOfBuses(pairing: Pairing): ReadonlyMap<string, ReadonlySet<string>> {
  const buses = new Map<string, Set<string>>();
  for (const side of ['host', 'donor'] as const) {
    for (const { message } of pairing.side(side).messages.values()) {
      const bus = sideRef(side, message.bus);
      const ids = buses.get(bus) ?? new Set<string>();
      ids.add(keyOf(Number.parseInt(message.frameId, 16), message.idFormat === 'extended'));
      buses.set(bus, ids);
    }
  }
  return buses;
}

function keyOf(frameId: number, extended: boolean): string {
  return `${extended ? 'x' : ''}${frameId}`;
}
