import type { PlacedEnd, Strand } from './layout.ts';

/** Where things stand across the cloth, in px from its left edge. */
export interface Columns {
  readonly width: number;
  readonly tab: number;
  /** Where a strand begins at the left and ends at the right. */
  readonly left: number;
  readonly right: number;
  /** Left and right edge of each interface module's band, by its id. */
  readonly bands: ReadonlyMap<string, readonly [number, number]>;
  readonly bandsFrom: number;
  readonly bandsTo: number;
  /** The rail of each bus that a bus strand uses, by `side:bus`. */
  readonly rails: ReadonlyMap<string, number>;
  readonly markLeft: number;
  readonly markRight: number;
}

const RAIL_GAP = 8;
const NARROWEST = 720;
/** Width that each further interface module takes at least. */
const PER_MODULE = 170;

/** Less room than the cloth takes by itself, where two stand side by side; in px. */
export interface Room {
  readonly leastWidth?: number;
  readonly tab?: number;
  readonly leastLabel?: number;
}

/** Columns for a view of this width: names at the edges, the bands in the middle, rails for buses beside them. */
export function columnsOf(
  viewWidth: number,
  zoom: number,
  named: boolean,
  modules: readonly string[],
  buses: readonly string[],
  room: Room = {},
): Columns {
  const scale = Math.max(1, zoom);
  const width = Math.max(
    viewWidth,
    ((room.leastWidth ?? NARROWEST) + PER_MODULE * Math.max(0, modules.length - 1)) * scale,
  );
  const tab = named ? (room.tab ?? tabWidth(width / scale)) * (zoom < 1 ? Math.max(0.8, zoom) : zoom) : 0;
  const label = named ? clamp(width * 0.2, (room.leastLabel ?? 120) * scale, 260 * scale) : 0;
  const left = named ? tab + label + 10 : 176;
  const right = named ? width - left : width - 150;
  const middle = (left + right) / 2;
  const count = Math.max(1, modules.length);
  const bandWidth = clamp((right - left) * 0.34, 96 * scale, 220 * scale) / (count > 1 ? 1.4 : 1);
  const gap = 26;
  const total = bandWidth * count + gap * (count - 1);
  const from = middle - total / 2;
  const bands = new Map(
    modules.map((id, at): [string, readonly [number, number]] => {
      const start = from + at * (bandWidth + gap);
      return [id, [start, start + bandWidth]];
    }),
  );
  const bandsTo = modules.length === 0 ? from : from + total;
  const rails = new Map<string, number>();
  const counts = { host: 0, donor: 0 };
  for (const bus of buses) {
    const side = bus.startsWith('host:') ? 'host' : 'donor';
    const off = 16 + RAIL_GAP * counts[side];
    rails.set(bus, side === 'host' ? from - off : bandsTo + off);
    counts[side] += 1;
  }
  const clear = (railCount: number): number => 16 + RAIL_GAP * railCount + 16;
  return {
    width,
    tab,
    left,
    right,
    bands,
    bandsFrom: from,
    bandsTo,
    rails,
    markLeft: from - clear(counts.host),
    markRight: bandsTo + clear(counts.donor),
  };
}

/** Wide views have room for the titles of modules, narrow ones for their ids. */
function tabWidth(viewWidth: number): number {
  if (viewWidth > 1300) return 176;
  return viewWidth > 1150 ? 140 : 92;
}

function clamp(x: number, low: number, high: number): number {
  return Math.min(high, Math.max(low, x));
}

/** A socket at the edge of a band: where a strand enters or leaves, at a bus port or at a pin. */
export interface Socket {
  readonly x: number;
  readonly y: number;
  readonly edge: 'left' | 'right';
  readonly kind: 'port' | 'pin';
  readonly label: string | null;
}

/** A strand as lines: the ways outside the band, the faint ones in it, and where it passes in front of a band. */
export interface StrandShape {
  readonly ways: readonly string[];
  readonly inside: readonly string[];
  readonly sockets: readonly Socket[];
  /** Stretches of bands that the strand passes in front of: from, to, y. */
  readonly bridges: readonly (readonly [number, number, number])[];
  /** Where several conductors become one. */
  readonly splices: readonly (readonly [number, number])[];
}

const NOTHING: StrandShape = { ways: [], inside: [], sockets: [], bridges: [], splices: [] };
const TURN = 6;

/** How a strand crosses; its shape tells the carrier. y runs from the top of its row. */
export function strandShape(strand: Strand, columns: Columns, lineHeight: number): StrandShape {
  const yOf = ({ line }: PlacedEnd): number => (line + 0.5) * lineHeight;
  switch (strand.carrier) {
    case 'hard-wire':
      return hardShape(strand, columns, yOf);
    case 'interface':
      return interfaceShape(strand, columns, yOf);
    case 'bus':
      return busShape(strand, columns, yOf, strand.lines * lineHeight);
  }
}

type YOf = (end: PlacedEnd) => number;

function hardShape({ left, right }: Strand, columns: Columns, yOf: YOf): StrandShape {
  const [firstLeft] = left;
  const [firstRight] = right;
  if (firstLeft && firstRight) {
    const y = yOf(firstLeft);
    const rest = [
      ...left.slice(1).map((end) => joining(columns.left, columns.markLeft - 22, yOf(end), y)),
      ...right.slice(1).map((end) => joining(columns.right, columns.markRight + 22, yOf(end), y)),
    ];
    const splices: [number, number][] = [];
    if (left.length > 1) splices.push([columns.markLeft - 22, y]);
    if (right.length > 1) splices.push([columns.markRight + 22, y]);
    return {
      ...NOTHING,
      ways: [`M${columns.left} ${y}H${columns.right}`, ...rest],
      bridges: [...columns.bands.values()].map(([from, to]) => [from, to, y] as const),
      splices,
    };
  }
  const ends = left.length > 0 ? left : right;
  const edge = left.length > 0 ? columns.left : columns.right;
  const turn = left.length > 0 ? columns.markLeft + 14 : columns.markRight - 14;
  return { ...NOTHING, ways: loops(ends.map(yOf), edge, turn) };
}

/** A conductor that comes to another one at x = `at`. */
function joining(edge: number, at: number, y: number, toY: number): string {
  const back = edge < at ? -TURN : TURN;
  return `M${edge} ${y}H${at + back}Q${at} ${y} ${at} ${y - TURN}V${toY}`;
}

/** Ends of one edge joined by a bow: the first with each of the others. */
function loops(ys: readonly number[], edge: number, turn: number): readonly string[] {
  const [first, ...rest] = ys;
  if (first === undefined) return [];
  if (rest.length === 0) return [`M${edge} ${first}H${turn}`];
  const back = edge < turn ? -TURN : TURN;
  return rest.map((y) => {
    const bend = Math.min(TURN, (y - first) / 2);
    return `M${edge} ${first}H${turn + back}Q${turn} ${first} ${turn} ${first + bend}V${y - bend}Q${turn} ${y} ${turn + back} ${y}H${edge}`;
  });
}

function interfaceShape({ left, right, route }: Strand, columns: Columns, yOf: YOf): StrandShape {
  const own = (route.by === undefined ? undefined : columns.bands.get(route.by)) ?? [...columns.bands.values()][0];
  if (!own)
    return { ...NOTHING, ways: [...left, ...right].map((end) => `M${columns.left} ${yOf(end)}H${columns.right}`) };
  const [from, to] = own;
  const socket = (end: PlacedEnd, edge: 'left' | 'right'): Socket => ({
    x: edge === 'left' ? from : to,
    y: yOf(end),
    edge,
    kind: end.bus === null ? 'pin' : 'port',
    label: end.joint,
  });
  const others = [...columns.bands.values()].filter((band) => band !== own);
  const passed = (end: PlacedEnd, edge: 'left' | 'right'): (readonly [number, number, number])[] =>
    others
      .filter(([start]) => (edge === 'left' ? start < from : start > from))
      .map(([start, stop]) => [start, stop, yOf(end)] as const);
  return {
    ...NOTHING,
    ways: [
      ...left.map((end) => `M${columns.left} ${yOf(end)}H${from}`),
      ...right.map((end) => `M${to} ${yOf(end)}H${columns.right}`),
    ],
    inside: insideWays(left.map(yOf), right.map(yOf), from, to),
    sockets: [...left.map((end) => socket(end, 'left')), ...right.map((end) => socket(end, 'right'))],
    bridges: [...left.flatMap((end) => passed(end, 'left')), ...right.flatMap((end) => passed(end, 'right'))],
  };
}

/** The way through the module's firmware: all ends meet on one line in the middle. */
function insideWays(left: readonly number[], right: readonly number[], from: number, to: number): readonly string[] {
  const all = [...left, ...right];
  const top = Math.min(...all);
  const bottom = Math.max(...all);
  const inset = Math.min(38, (to - from) / 3.4);
  const [a, b] = [from + inset, to - inset];
  const ways = left.map((y) => `M${from + 6} ${y}H${a}`).concat(right.map((y) => `M${b} ${y}H${to - 6}`));
  if (left.length > 1) ways.push(`M${a} ${Math.min(...left)}V${Math.max(...left)}`);
  if (right.length > 1) ways.push(`M${b} ${Math.min(...right)}V${Math.max(...right)}`);
  if (left.length > 0 && right.length > 0) {
    ways.push(`M${a} ${top}H${b}`);
    if (left.length === 1 && left[0] !== top) ways.push(`M${a} ${top}V${left[0]}`);
    if (right.length === 1 && right[0] !== top) ways.push(`M${b} ${top}V${right[0]}`);
  }
  return bottom === top && left.length + right.length === 1 ? [] : ways;
}

function busShape({ left, right }: Strand, columns: Columns, yOf: YOf, rowHeight: number): StrandShape {
  const toRail = (end: PlacedEnd, edge: 'left' | 'right'): string => {
    const start = edge === 'left' ? columns.left : columns.right;
    const rail =
      (end.bus === null ? undefined : columns.rails.get(end.bus)) ??
      (edge === 'left' ? columns.markLeft : columns.markRight);
    const y = yOf(end);
    const back = edge === 'left' ? -TURN : TURN;
    return `M${start} ${y}H${rail + back}Q${rail} ${y} ${rail} ${y + TURN}V${rowHeight}`;
  };
  return {
    ...NOTHING,
    ways: [...left.map((end) => toRail(end, 'left')), ...right.map((end) => toRail(end, 'right'))],
  };
}

/** Buses that bus strands use, host's first, each once and in a stable order. */
export function busesOfStrands(strands: readonly Strand[]): readonly string[] {
  const refs = new Set<string>();
  for (const strand of strands) {
    if (strand.carrier !== 'bus') continue;
    for (const { bus } of [...strand.left, ...strand.right]) if (bus !== null) refs.add(bus);
  }
  return [...refs].sort((a, b) => (a.startsWith('host') === b.startsWith('host') ? (a < b ? -1 : 1) : a < b ? 1 : -1));
}
