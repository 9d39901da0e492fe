import type { Route, Wire, WireEntry } from '../../model/index.ts';
import type { FromToRow } from '../../wiring/index.ts';
import type { Block, Drawing, Shape } from '../document/index.ts';
import { box, cut, line, text } from './block-diagram.ts';
import type { Wiring } from './wiring.ts';

const ROW = 40;
const WIDTH = 560;
const DRIVER_X = 46;
const DRIVER_W = 92;
const READER_W = 92;
/** Chains in one figure, so that it fits a page. */
const MOST_ROWS = 8;

interface Chain {
  readonly route: Route;
  readonly source: WireEntry;
  readonly target: WireEntry;
  readonly hops: readonly FromToRow[];
}

/**
 * Every interlock function on hard wires as a chain of series contacts, from supply or ground at the left to the reader at the
 * right: the driver’s contact in its position at rest, the conductors with their cavities, the reader. Chains that end in the same
 * reader stand together and must all be closed for it to act.
 */
export function interlockFigures(wiring: Wiring): readonly Block[] {
  const chains = chainsOf(wiring);
  const figures: Block[] = [];
  for (let at = 0; at < chains.length; at += MOST_ROWS) {
    const own = chains.slice(at, at + MOST_ROWS);
    figures.push({
      kind: 'figure',
      id: `interlock-chains-${figures.length + 1}`,
      title: chains.length > MOST_ROWS ? `Interlock chains, part ${figures.length + 1}` : 'Interlock chains',
      drawing: drawingOf(wiring, own),
      note: 'Contacts drawn at rest. Each conductor with its circuit number between the places it ends at. Rows that end in one frame are read by one module; at a coil its battery side and its ground side are in series.',
    });
  }
  return figures.length > 0
    ? figures
    : [{ kind: 'paragraph', text: 'No interlock function runs over hard wires in the builds covered.' }];
}

function chainsOf({ pairing, plan, scope }: Wiring): readonly Chain[] {
  const byRoute = new Map<string, FromToRow[]>();
  for (const row of plan.fromTo) {
    for (const id of row.routeIds) byRoute.set(id, [...(byRoute.get(id) ?? []), row]);
  }
  const chains = pairing.map.routes.flatMap((route): Chain[] => {
    const rows = (byRoute.get(route.id) ?? []).filter(({ criticality }) => criticality === 'interlock');
    const source = pairing.find(route.from[0] ?? '');
    const target = pairing.find(route.to);
    if (route.carrier !== 'hard-wire' || rows.length === 0 || source?.kind !== 'wire' || target?.kind !== 'wire')
      return [];
    if (!scope.holds(pairing.options.maskOf(route.when))) return [];
    return [{ route, source, target, hops: rows }];
  });
  // Chains of one reader together, in the order in which the reader is first met.
  const order = [...new Set(chains.map(readerKey))];
  return order.flatMap((key) => chains.filter((chain) => readerKey(chain) === key));
}

function readerKey({ target }: Chain): string {
  return `${target.side}:${target.wire.module}`;
}

function drawingOf(wiring: Wiring, chains: readonly Chain[]): Drawing {
  const shapes: Shape[] = [];
  const readerX = WIDTH - READER_W - 6;
  chains.forEach((chain, at) => {
    const y = 8 + at * ROW;
    const mid = y + 16;
    shapes.push(...supply(chain.source, mid));
    shapes.push(...driver(wiring, chain.source, y, mid));
    shapes.push(...conductors(chain, mid, DRIVER_X + DRIVER_W, readerX));
    const same = at > 0 && readerKey(chains[at - 1]!) === readerKey(chain);
    if (!same) {
      const count = chains.slice(at).findIndex((other) => readerKey(other) !== readerKey(chain));
      const rows = count < 0 ? chains.length - at : count;
      const { side, wire } = chain.target;
      const title = wiring.pairing.side(side).modules.get(wire.module)?.title ?? wire.module;
      shapes.push(...box(readerX, y + 2, READER_W, rows * ROW - 12, title, readerKey(chain), 'stop'));
    }
    shapes.push(
      text(
        { x: DRIVER_X + DRIVER_W + 4, y: y + 33 },
        cut(`${chain.route.id} · ${chain.target.wire.title} · ${chain.target.wire.electrical.class}`, 110),
        4.8,
        'start',
        'muted',
      ),
    );
  });
  return {
    width: WIDTH,
    height: 8 + chains.length * ROW,
    unitMm: 0.45,
    description: `Interlock chains: ${chains.map(({ route, source, target, hops }) => `${source.wire.title} over ${hops.map(({ circuit }) => circuit).join(', ')} to ${target.wire.title} (${route.id})`).join('; ')}`,
    shapes,
  };
}

const FROM_GROUND: ReadonlySet<string> = new Set(['switched-ground', 'open-collector', 'pwm-ground']);

/** What the contact switches: battery through a fuse, or ground. */
function supply({ wire }: WireEntry, mid: number): readonly Shape[] {
  const shapes: Shape[] = [line({ x: 24, y: mid }, { x: DRIVER_X, y: mid }, 'ink', 1)];
  if (FROM_GROUND.has(wire.electrical.class)) {
    shapes.push(line({ x: 24, y: mid }, { x: 24, y: mid + 4 }, 'ink', 1));
    [8, 5, 2].forEach((half, at) =>
      shapes.push(line({ x: 24 - half, y: mid + 4 + at * 2 }, { x: 24 + half, y: mid + 4 + at * 2 }, 'ink', 0.8)),
    );
    shapes.push(text({ x: 24, y: mid - 3 }, wire.ground ?? 'ground', 4.6, 'middle', 'muted'));
    return shapes;
  }
  shapes.push({
    kind: 'circle',
    centre: { x: 20, y: mid },
    radius: 4,
    stroke: { paint: 'ink', width: 0.8 },
    fill: 'paper',
  });
  shapes.push(text({ x: 20, y: mid + 2 }, '+', 6, 'middle', 'ink'));
  shapes.push(text({ x: 22, y: mid - 6 }, wire.feed ?? 'supply', 4.6, 'middle', 'muted'));
  return shapes;
}

/** The driver with its contact at rest: a gap for normally open, a bar for normally closed, a block for a solid-state output. */
function driver({ pairing }: Wiring, { wire, side }: WireEntry, y: number, mid: number): readonly Shape[] {
  const owner = pairing.side(side).modules.get(wire.module)?.title ?? wire.module;
  const middle = DRIVER_X + DRIVER_W / 2;
  const shapes: Shape[] = [
    {
      kind: 'rect',
      x: DRIVER_X,
      y: y + 2,
      width: DRIVER_W,
      height: 26,
      radius: 2,
      stroke: { paint: 'rule', width: 0.8, dash: [3, 2] },
    },
    text({ x: middle, y: y + 0.5 }, cut(owner, 34), 4.8, 'middle', 'ink'),
    ...contact(wire, middle, mid),
    text({ x: middle, y: y + 26 }, cut(contactWords(wire), 36), 4.4, 'middle', 'muted'),
  ];
  return shapes;
}

function contact(wire: Wire, x: number, y: number): readonly Shape[] {
  const ends: readonly Shape[] = [
    line({ x: DRIVER_X, y }, { x: x - 9, y }, 'ink', 1),
    line({ x: x + 9, y }, { x: DRIVER_X + DRIVER_W, y }, 'ink', 1),
  ];
  switch (wire.electrical.contact) {
    case 'normally-open':
      return [...ends, line({ x: x - 9, y }, { x: x + 8, y: y - 6 }, 'ink', 1.2)];
    case 'normally-closed':
      return [
        ...ends,
        line({ x: x - 9, y }, { x: x + 10, y: y - 1.5 }, 'ink', 1.2),
        line({ x: x + 9, y: y - 4 }, { x: x + 9, y }, 'ink', 1),
      ];
    case undefined:
      return [
        ...ends,
        { kind: 'rect', x: x - 9, y: y - 4, width: 18, height: 8, stroke: { paint: 'ink', width: 0.8 }, fill: 'paper' },
      ];
  }
}

function contactWords({ electrical, meaning, title }: Wire): string {
  const kind =
    electrical.contact === 'normally-open' ? 'closes' : electrical.contact === 'normally-closed' ? 'opens' : 'output';
  if (meaning !== undefined && 'active' in meaning)
    return electrical.contact === 'normally-closed' ? `open: ${meaning.inactive}` : `${kind}: ${meaning.active}`;
  return title;
}

/** The conductors in the order of the way, each between its two places. */
function conductors({ hops }: Chain, y: number, fromX: number, toX: number): readonly Shape[] {
  const shapes: Shape[] = [];
  const room = (toX - fromX) / Math.max(1, hops.length);
  hops.forEach((hop, at) => {
    const left = fromX + at * room;
    const right = left + room;
    shapes.push(line({ x: left, y }, { x: right, y }, 'ink', 1.4));
    shapes.push(...place(hop.from.place, left + 10, y, 'start'), ...place(hop.to.place, right - 10, y, 'end'));
    shapes.push(text({ x: (left + right) / 2, y: y - 3 }, cut(hop.circuit, 20), 6, 'middle', 'accent'));
    shapes.push(
      text(
        { x: (left + right) / 2, y: y + 7 },
        `${hop.sizeValue} ${hop.sizeUnit} ${hop.colour}`,
        4.6,
        'middle',
        'muted',
      ),
    );
  });
  return shapes;
}

function place(said: string, x: number, y: number, anchor: 'start' | 'end'): readonly Shape[] {
  return [
    { kind: 'circle', centre: { x, y }, radius: 2.2, stroke: { paint: 'ink', width: 0.8 }, fill: 'paper' },
    text({ x: anchor === 'start' ? x - 4 : x + 4, y: y - 5 }, cut(said, 22), 4.8, anchor, 'ink'),
  ];
}
