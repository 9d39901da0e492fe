import { sideRef } from '../../model/index.ts';
import type { Drawing, Paint, Point, Shape } from '../document/index.ts';
import type { Wiring } from './wiring.ts';

const BOX_W = 66;
const BOX_H = 22;
const GAP = 8;
const PER_ROW = 6;
const LEFT = 96;
const XM_W = 96;

/**
 * Buses as bars with the modules of this pairing above them, removed ones left out; the interface modules at the right, joined to
 * every bus that they have a port on; pins, feed and ground counted in their box.
 */
export function blockDiagram({ pairing }: Wiring): Drawing {
  const shapes: Shape[] = [];
  const buses = [pairing.host, pairing.donor].flatMap((side) =>
    side.platform.buses.map((bus) => ({ side, bus, ref: sideRef(side.name, bus.id) })),
  );
  const right = LEFT + PER_ROW * (BOX_W + GAP);
  const bars = new Map<string, number>();
  let y = 12;
  for (const { side, bus, ref } of buses) {
    const present = side.platform.modules.filter(
      (module) => (module.buses ?? []).includes(bus.id) && pairing.fateOf(side.name, module.id) !== 'removed',
    );
    const rows = Math.max(1, Math.ceil(present.length / PER_ROW));
    const barY = y + rows * (BOX_H + GAP) + 6;
    present.forEach((module, at) => {
      const x = LEFT + (at % PER_ROW) * (BOX_W + GAP);
      const boxY = y + Math.floor(at / PER_ROW) * (BOX_H + GAP);
      // A stub from a box further up runs in the gap at its left, so that it crosses no other box.
      const stubX = x - GAP / 2;
      shapes.push(line({ x, y: boxY + BOX_H / 2 }, { x: stubX, y: boxY + BOX_H / 2 }, 'muted', 0.7));
      shapes.push(line({ x: stubX, y: boxY + BOX_H / 2 }, { x: stubX, y: barY }, 'muted', 0.7));
      shapes.push(
        ...box(
          x,
          boxY,
          BOX_W,
          BOX_H,
          module.title,
          `${side.name}:${module.id}`,
          pairing.fateOf(side.name, module.id) === 'added' ? 'accent' : 'ink',
        ),
      );
    });
    shapes.push(line({ x: LEFT - 8, y: barY }, { x: right + 14, y: barY }, 'ink', 2.2));
    shapes.push(text({ x: LEFT - 12, y: barY - 2 }, bus.title ?? bus.id, 6.5, 'end', 'ink'));
    shapes.push(text({ x: LEFT - 12, y: barY + 6 }, `${ref}, ${bus.bitRate / 1000} kbit/s`, 5, 'end', 'muted'));
    bars.set(ref, barY);
    y = barY + 18;
  }
  const height = Math.max(y, 60);
  const xmX = right + 40;
  const owners = pairing.map.interfaceModules;
  const each = owners.length === 0 ? 0 : (height - 16) / owners.length;
  owners.forEach((owner, at) => {
    const top = 8 + at * each;
    shapes.push({
      kind: 'rect',
      x: xmX,
      y: top,
      width: XM_W,
      height: each - 8,
      radius: 3,
      fill: 'shade',
      stroke: { paint: 'accent', width: 1.2 },
    });
    const lines = [
      owner.id,
      ...wrapped(owner.title, 22),
      `${owner.pins.length} pins`,
      `feed ${owner.feed ?? 'to be decided'}`,
      `ground ${owner.ground ?? 'to be decided'}`,
    ];
    lines.forEach((said, index) =>
      shapes.push(
        text(
          { x: xmX + XM_W / 2 + 4, y: top + 12 + index * 9 },
          said,
          index === 0 ? 7.5 : 5.5,
          'middle',
          index === 0 ? 'accent' : 'ink',
        ),
      ),
    );
    for (const port of owner.ports) {
      const barY = bars.get(port.bus);
      if (barY === undefined) continue;
      const inside = Math.max(top + 4, Math.min(top + each - 12, barY));
      shapes.push({
        kind: 'polyline',
        points: [
          { x: right + 14, y: barY },
          { x: right + 24, y: barY },
          { x: right + 24, y: inside },
          { x: xmX, y: inside },
        ],
        stroke: { paint: 'accent', width: 1.2 },
      });
      shapes.push(text({ x: xmX + 3, y: inside + 2 }, port.id, 6, 'start', 'accent'));
    }
  });
  return {
    width: xmX + XM_W + 8,
    height,
    unitMm: 0.4,
    description: `Block diagram: ${buses.map(({ ref }) => ref).join(', ') || 'no bus'}; interface modules ${owners.map(({ id, ports }) => `${id} on ${ports.map(({ bus }) => bus).join(', ')}`).join('; ') || 'none'}`,
    shapes,
  };
}

export function box(
  x: number,
  y: number,
  width: number,
  height: number,
  title: string,
  below: string,
  paint: Paint,
): readonly Shape[] {
  const lines = wrapped(title, Math.floor(width / 3.1)).slice(0, 2);
  const size = 5.2;
  const first = y + (lines.length === 1 ? 9.5 : 7);
  return [
    { kind: 'rect', x, y, width, height, radius: 2, fill: 'paper', stroke: { paint, width: 0.8 } },
    ...lines.map((said, at): Shape => text({ x: x + width / 2, y: first + at * 6 }, said, size, 'middle', 'ink')),
    text({ x: x + width / 2, y: y + height - 2.2 }, cut(below, Math.floor(width / 2.6)), 4.2, 'middle', 'muted'),
  ];
}

/** Words in lines of at most so many characters; the last line is cut. */
export function wrapped(said: string, most: number): readonly string[] {
  const lines: string[] = [];
  let now = '';
  for (const word of said.split(' ')) {
    if (now !== '' && now.length + 1 + word.length > most) {
      lines.push(now);
      now = word;
    } else now = now === '' ? word : `${now} ${word}`;
  }
  if (now !== '') lines.push(now);
  const kept = lines.slice(0, 2);
  if (lines.length > 2) kept[1] = `${kept[1]!} …`;
  return kept.map((one) => cut(one, most));
}

export function cut(said: string, most: number): string {
  return said.length <= most ? said : `${said.slice(0, Math.max(1, most - 1))}…`;
}

export function line(from: Point, to: Point, paint: Paint, width: number): Shape {
  return { kind: 'line', from, to, stroke: { paint, width } };
}

export function text(at: Point, said: string, size: number, anchor: 'start' | 'middle' | 'end', paint: Paint): Shape {
  return { kind: 'text', at, text: said, size, anchor, paint };
}
