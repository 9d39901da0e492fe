import { linesOf, MAX_LINE_CHARACTERS, parseCandumpLine } from '../../can/index.ts';
import { type Pairing, sideRef } from '../../model/index.ts';
import type { BusNames } from './bus-names.ts';

/** An interface of a log taken for a bus by the frames it carries. */
export interface InferredBus {
  readonly interfaceName: string;
  readonly bus: string;
  /** Different frame ids seen on it that only this bus has. */
  readonly ids: number;
}

/** Interface names looked at; a log has few. */
const MOST_INTERFACES = 32;

/**
 * Which bus each interface of a log must be that `names` does not know, by the frame ids in the first part of its text. An interface
 * is taken for a bus when it carries ids that only this bus of the pairing has, none that only another has, and when no other
 * interface stands for the same bus. Everything else is left open.
 */
export function inferBuses(pairing: Pairing, names: BusNames, beginning: readonly string[]): readonly InferredBus[] {
  const seen = new Map<string, Set<string>>();
  const taken = new Set<string>();
  for (const text of beginning) {
    const lines = linesOf(
      MAX_LINE_CHARACTERS,
      (line, number) => {
        const frame = parseCandumpLine(line, number);
        if (frame?.kind !== 'data') return;
        const { interfaceName } = frame;
        const bus = names.busOf(interfaceName);
        if (bus !== null) {
          taken.add(bus);
          return;
        }
        let ids = seen.get(interfaceName);
        if (ids === undefined) {
          if (seen.size === MOST_INTERFACES || interfaceName.includes('=')) return;
          ids = new Set();
          seen.set(interfaceName, ids);
        }
        ids.add(idKey(frame.idFormat, frame.frameId));
      },
      () => undefined,
    );
    lines.push(text);
    lines.end();
  }
  const owners = ownersOf(pairing);
  const inferred = [...seen].flatMap(([interfaceName, ids]): InferredBus[] => {
    const own = [...ids].flatMap((id) => {
      const buses = owners.get(id);
      return buses?.size === 1 ? [...buses] : [];
    });
    const [bus] = own;
    return bus !== undefined && own.every((other) => other === bus) ? [{ interfaceName, bus, ids: own.length }] : [];
  });
  return inferred.filter(({ bus }) => !taken.has(bus) && inferred.filter((other) => other.bus === bus).length === 1);
}

/** The buses that each frame id is sent on, by either side's platform. */
function ownersOf(pairing: Pairing): ReadonlyMap<string, ReadonlySet<string>> {
  const owners = new Map<string, Set<string>>();
  for (const side of ['host', 'donor'] as const) {
    for (const { message } of pairing.side(side).messages.values()) {
      const key = idKey(message.idFormat, Number.parseInt(message.frameId, 16));
      const bus = sideRef(side, message.bus);
      const known = owners.get(key);
      if (known) known.add(bus);
      else owners.set(key, new Set([bus]));
    }
  }
  return owners;
}

function idKey(idFormat: string, frameId: number): string {
  return `${idFormat} ${frameId}`;
}
