import type { Finding } from '../../../checks/index.ts';
import { nameOf } from '../../../wiring/index.ts';
import type { ShownConductor } from '../../worker/harness-protocol.ts';

/** One column of the circuits table. */
export interface CircuitColumn {
  readonly id: string;
  readonly title: string;
  /** Narrowest width in rem, and its share of what is left over. */
  readonly width: number;
  readonly grows: number;
  readonly isNumber: boolean;
  text(shown: ShownConductor): string;
  /** Sorts by this when it is not the text. */
  order?(shown: ShownConductor): number;
}

/** What a circuit is for: its functions, else the title of what it carries, else the words of its label. */
export function purposeOf({ facts, conductor: { circuit } }: ShownConductor): string {
  if (facts.functions.length > 0) return facts.functions.join(', ');
  const title = facts.signals.map((signal) => /^(?:host|donor):\S+ (.+)$/.exec(signal)?.[1] ?? signal)[0];
  return title ?? circuit.label ?? circuit.kind;
}

export function colourOf({ conductor }: ShownConductor): string {
  return nameOf(conductor.colourBase, conductor.colourTracer);
}

/** A size as people write it: `0.5 mm²`, `20 AWG`. */
export function sizeText({ family, figure }: ShownConductor['conductor']['size']): string {
  return family === 'awg' ? `${figure} AWG` : `${figure} mm²`;
}

/** The fuse in front: `10 A host:F12`. */
export function fuseText({ conductor: { circuit } }: ShownConductor): string {
  if (circuit.fuse === null) return '';
  return `${circuit.fuse.fuseA === null ? '?' : circuit.fuse.fuseA} A ${circuit.fuse.place === 'in-line' ? 'in line' : circuit.fuse.id}`;
}

/** Volts with the digits that matter at the drops of a harness. */
export function voltText(volt: number): string {
  return volt < 0.0005 ? '<0.001' : volt.toFixed(3);
}

export const CIRCUIT_COLUMNS: readonly CircuitColumn[] = [
  {
    id: 'circuit',
    title: 'Circuit',
    width: 4.4,
    grows: 0,
    isNumber: false,
    text: ({ conductor }) => conductor.circuit.id,
  },
  { id: 'function', title: 'Function', width: 10.4, grows: 3, isNumber: false, text: purposeOf },
  { id: 'from', title: 'From', width: 5.9, grows: 1, isNumber: false, text: ({ facts }) => facts.from.place },
  { id: 'to', title: 'To', width: 5.9, grows: 1, isNumber: false, text: ({ facts }) => facts.to.place },
  {
    id: 'size',
    title: 'Size',
    width: 4.9,
    grows: 0,
    isNumber: true,
    text: ({ conductor }) => sizeText(conductor.size),
    order: ({ conductor }) => conductor.size.areaMm2,
  },
  { id: 'colour', title: 'Colour', width: 4.8, grows: 0, isNumber: false, text: colourOf },
  {
    id: 'length',
    title: 'Length m',
    width: 4.7,
    grows: 0,
    isNumber: true,
    text: ({ conductor }) => (conductor.lengthM === null ? '?' : conductor.lengthM.toFixed(2)),
    order: ({ conductor }) => conductor.lengthM ?? -1,
  },
  {
    id: 'fuse',
    title: 'Fuse',
    width: 7,
    grows: 0,
    isNumber: false,
    text: fuseText,
    order: ({ conductor }) => conductor.circuit.fuse?.fuseA ?? -1,
  },
  {
    id: 'drop',
    title: 'Drop V',
    width: 3.9,
    grows: 0,
    isNumber: true,
    text: ({ conductor: { loopDropV } }) => (loopDropV === null ? '?' : voltText(loopDropV)),
    order: ({ conductor }) => conductor.loopDropV ?? -1,
  },
  {
    id: 'builds',
    title: 'Builds',
    width: 5.5,
    grows: 0.4,
    isNumber: false,
    text: ({ facts }) => facts.options.join('; '),
  },
  {
    id: 'route',
    title: 'Route',
    width: 7,
    grows: 1,
    isNumber: false,
    text: ({ conductor }) => conductor.circuit.routeIds.join(' '),
  },
];

export interface CircuitSort {
  readonly column: string;
  readonly down: boolean;
}

const RANK = { stop: 0, fix: 1, look: 2 } as const;

/** Circuits with all the words of the query in any column, in the order asked for. Circuits without findings sort last. */
export function filterCircuits(
  conductors: readonly ShownConductor[],
  query: string,
  sort: CircuitSort,
  findings: ReadonlyMap<string, readonly Finding[]>,
  onlyWithFindings: boolean,
): readonly ShownConductor[] {
  const words = query.toLowerCase().split(/\s+/).filter(Boolean);
  const matching = conductors.filter((shown) => {
    if (onlyWithFindings && !findings.has(shown.facts.key)) return false;
    if (words.length === 0) return true;
    const text = `${CIRCUIT_COLUMNS.map((column) => column.text(shown)).join(' ')} ${shown.facts.signals.join(' ')} ${shown.facts.key}`;
    const lower = text.toLowerCase();
    return words.every((word) => lower.includes(word));
  });
  const column = CIRCUIT_COLUMNS.find(({ id }) => id === sort.column);
  const order = (shown: ShownConductor): string | number => {
    if (sort.column === 'findings') {
      const worst = findings.get(shown.facts.key)?.[0];
      return worst ? RANK[worst.severity] : 9;
    }
    return column?.order?.(shown) ?? column?.text(shown).toLowerCase() ?? '';
  };
  const keyed = matching.map((shown) => [order(shown), shown] as const);
  keyed.sort(([a], [b]) => compare(a, b) * (sort.down ? -1 : 1));
  return keyed.map(([, shown]) => shown);
}

const collator = new Intl.Collator('en', { numeric: true });

function compare(a: string | number, b: string | number): number {
  return typeof a === 'number' && typeof b === 'number' ? a - b : collator.compare(String(a), String(b));
}
