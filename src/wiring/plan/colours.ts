import type { Circuit, CircuitEnd } from '../../model/index.ts';
import { COLOUR_HABITS, COLOUR_ORDER } from '../tables/colours.ts';

export interface ColourChoice {
  readonly base: string;
  readonly tracer: string | null;
  readonly by: 'given' | 'assigned';
}

function connectorOf(end: CircuitEnd): string | null {
  return end.kind === 'cavity' ? end.connector : end.kind === 'part' ? (end.connector ?? end.part) : null;
}

/** A colour by what the conductor is; null for a signal. */
function habit(circuit: Circuit): string | null {
  const classes = [circuit.fromElectrical?.class, circuit.toElectrical?.class];
  if (classes.includes('can-high')) return COLOUR_HABITS.canHigh;
  if (classes.includes('can-low')) return COLOUR_HABITS.canLow;
  if (circuit.kind === 'ground' || classes.includes('power-ground')) return COLOUR_HABITS.ground;
  if (classes.includes('sensor-return')) return COLOUR_HABITS.sensorReturn;
  if (circuit.kind === 'feed' || classes.includes('feed')) return COLOUR_HABITS.feed;
  return null;
}

/** Every base with every tracer, plain ones first. */
const ALL: readonly (readonly [string, string | null])[] = [
  ...COLOUR_ORDER.map((base) => [base, null] as const),
  ...COLOUR_ORDER.flatMap((base) =>
    COLOUR_ORDER.filter((tracer) => tracer !== base).map((tracer) => [base, tracer] as const),
  ),
];
/** Black and red without tracer are left to grounds and feeds. */
const SIGNAL = ALL.filter(([base, tracer]) => tracer !== null || (base !== 'BK' && base !== 'RD'));

/** FNV-1a: where in the list a signal starts to look, so that a new circuit does not shift the colours of the others. */
function startOf(key: string): number {
  let hash = 0x811c9dc5;
  for (let index = 0; index < key.length; index += 1) hash = Math.imul(hash ^ key.charCodeAt(index), 0x01000193) >>> 0;
  return hash % SIGNAL.length;
}

/**
 * Colours of all conductors: as given, else by what it is, else one not yet used in either of its connectors. When a connector
 * has used up all of them a colour repeats.
 */
export function assignColours(circuits: readonly Circuit[]): ReadonlyMap<string, ColourChoice> {
  const used = new Map<string, Set<string>>();
  const take = (circuit: Circuit, colour: string): void => {
    for (const end of [circuit.from, circuit.to]) {
      const connector = connectorOf(end);
      if (connector === null) continue;
      const set = used.get(connector);
      if (set) set.add(colour);
      else used.set(connector, new Set([colour]));
    }
  };
  const chosen = new Map<string, ColourChoice>();
  for (const circuit of circuits) {
    const { colour } = circuit.conductor;
    if (colour === null) continue;
    const [base, ...tracers] = colour.split('-');
    chosen.set(circuit.key, { base: base!, tracer: tracers.length === 0 ? null : tracers.join('-'), by: 'given' });
    take(circuit, colour);
  }
  for (const circuit of circuits) {
    if (chosen.has(circuit.key)) continue;
    const base = habit(circuit);
    const list = base === null ? SIGNAL : ALL.filter(([one]) => one === base);
    const start = base === null ? startOf(circuit.key) : 0;
    const isFree = ([one, tracer]: readonly [string, string | null]): boolean =>
      [circuit.from, circuit.to].every((end) => {
        const connector = connectorOf(end);
        return connector === null || !used.get(connector)?.has(nameOf(one, tracer));
      });
    let pick = list[start % list.length]!;
    for (let step = 0; step < list.length; step += 1) {
      const candidate = list[(start + step) % list.length]!;
      if (!isFree(candidate)) continue;
      pick = candidate;
      break;
    }
    chosen.set(circuit.key, { base: pick[0], tracer: pick[1], by: 'assigned' });
    take(circuit, nameOf(pick[0], pick[1]));
  }
  return chosen;
}

/** Base and tracer as they are printed: `WH` or `WH-BU`. */
export function nameOf(base: string, tracer: string | null): string {
  return tracer === null ? base : `${base}-${tracer}`;
}
