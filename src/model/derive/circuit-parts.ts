import type { HarnessPart } from '../document/map.ts';

/** Terminals of a part by the role they play; the first name of a list that the part gives is used, else the first. */
interface TerminalNames {
  readonly entry: readonly string[];
  readonly exit: readonly string[];
}

/**
 * Relay terminals by their marks: 30 common, 87 closed when energised, 87a closed at rest, 85 and 86 coil
 * (DIN 72552 and ISO 7588 marks, from memory). Other parts are passive and are named from entry to exit.
 */
const names: Readonly<Record<HarnessPart['kind'], TerminalNames>> = {
  relay: { entry: ['30', 'common'], exit: ['87', 'normally-open'] },
  diode: { entry: ['anode', 'A'], exit: ['cathode', 'K'] },
  resistor: { entry: ['1', 'in'], exit: ['2', 'out'] },
  fuse: { entry: ['1', 'in'], exit: ['2', 'out'] },
  'in-line-connector': { entry: ['1', 'in'], exit: ['2', 'out'] },
  terminator: { entry: ['high', '1'], exit: ['low', '2'] },
};
const closedAtRest: readonly string[] = ['87a', 'normally-closed'];
const coil: readonly string[] = ['86', 'coil', 'coil+'];
const otherCoil: readonly string[] = ['85', 'coil-'];

function firstGiven(part: HarnessPart, candidates: readonly string[]): string {
  return candidates.find((name) => part.at?.[name] !== undefined) ?? candidates[0]!;
}

/** The terminal a conductor enters a part by. An in-line connector has one cavity a route, when it names it. */
export function entryTerminal(part: HarnessPart, routeId: string): string {
  if (part.kind === 'in-line-connector' && part.at?.[routeId] !== undefined) return `${routeId}/in`;
  return firstGiven(part, names[part.kind].entry);
}

/** The terminal a conductor leaves a part by. */
export function exitTerminal(part: HarnessPart, routeId: string): string {
  if (part.kind === 'in-line-connector' && part.at?.[routeId] !== undefined) return `${routeId}/out`;
  if (part.kind === 'relay' && part.contact === 'normally-closed') return firstGiven(part, closedAtRest);
  return firstGiven(part, names[part.kind].exit);
}

/**
 * The coil terminal that `coilBy` drives, and the other one. 86 is driven unless the part joins 86 elsewhere.
 */
export function coilTerminals(part: HarnessPart): { readonly driven: string; readonly other: string } {
  const a = firstGiven(part, coil);
  const b = firstGiven(part, otherCoil);
  const joined = part.terminals ?? {};
  return joined[a] !== undefined && joined[b] === undefined ? { driven: b, other: a } : { driven: a, other: b };
}

/** Coil voltage where a part does not state it: the nominal of the system this product covers. */
const NOMINAL_V = 12;

/** Current of a relay's coil in amperes, from its resistance at its voltage; null when no resistance is given. */
export function coilCurrentA(part: HarnessPart): number | null {
  return part.ohm === undefined || part.ohm === 0 ? null : (part.volt ?? NOMINAL_V) / part.ohm;
}
