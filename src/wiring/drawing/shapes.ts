import type { DrawnNode, DrawnSegment } from './drawn.ts';
import { textWidthMm } from './place-labels.ts';
import type { DrawnPoint, DrawnShape, ShapeSubject } from './shape-types.ts';

/** Height of the lettering in mm: readable on A3, and still on A4. */
export const TEXT_MM = 2.8;
const LINE_MM = TEXT_MM * 1.25;

/** A length as it stands beside its segment, in metres. */
export function lengthText(lengthM: number): string {
  return `${Number(lengthM.toFixed(3))} m`;
}

/** A segment: a line as wide as its bundle asks, its length beside it. Dashed where it is not to scale. */
export function segmentShapes(segment: DrawnSegment): readonly DrawnShape[] {
  const about: ShapeSubject = { kind: 'segment', id: segment.id };
  const [from, to] = segment.points;
  const width = Math.min(2.4, Math.max(0.5, segment.bundleMm / 8));
  const middle = segment.lengthAt;
  const text = lengthText(segment.lengthM);
  const box = { width: textWidthMm(text, TEXT_MM), height: TEXT_MM * 1.2 };
  return [
    {
      about,
      kind: 'line',
      from,
      to,
      stroke: { paint: 'ink', width, ...(segment.toScale ? {} : { dash: [3, 1.5] }) },
    },
    {
      about,
      kind: 'rect',
      x: middle.x - box.width / 2,
      y: middle.y - box.height / 2,
      width: box.width,
      height: box.height,
      fill: 'paper',
    },
    { about, kind: 'text', at: middle, text, size: TEXT_MM, anchor: 'middle', baseline: 'middle', paint: 'muted' },
  ];
}

/** A node: a sign by its kind, its label, and a thin line to it when it stands away. */
export function nodeShapes(node: DrawnNode, led: boolean): readonly DrawnShape[] {
  const about: ShapeSubject = { kind: 'node', id: node.id };
  const { left, top, width, height } = node.labelBox;
  const near = {
    x: Math.min(Math.max(node.at.x, left), left + width),
    y: Math.min(Math.max(node.at.y, top), top + height),
  };
  return [
    ...(led ? [{ about, kind: 'line', from: node.at, to: near, stroke: { paint: 'rule', width: 0.2 } } as const] : []),
    ...sign(node, about),
    ...node.label.map((text, line): DrawnShape => ({
      about,
      kind: 'text',
      at: { x: left + width / 2, y: top + line * LINE_MM + LINE_MM / 2 },
      text,
      size: TEXT_MM,
      anchor: 'middle',
      baseline: 'middle',
      weight: line === 0 ? 'bold' : 'regular',
      paint: line === 0 ? 'ink' : 'muted',
    })),
  ];
}

const INK = { paint: 'ink', width: 0.4 } as const;

function sign(node: DrawnNode, about: ShapeSubject): readonly DrawnShape[] {
  const { x, y } = node.at;
  switch (node.kind) {
    case 'connector':
      return [{ about, kind: 'rect', x: x - 2.5, y: y - 1.8, width: 5, height: 3.6, stroke: INK, fill: 'paper' }];
    case 'part':
      return [{ about, kind: 'rect', x: x - 2, y: y - 2, width: 4, height: 4, radius: 1, stroke: INK, fill: 'shade' }];
    case 'splice':
      return [
        polygon(about, [
          { x, y: y - 2 },
          { x: x + 2, y },
          { x, y: y + 2 },
          { x: x - 2, y },
        ]),
      ];
    case 'stud':
      return [2, 1.3, 0.6].map((half, index) => ({
        about,
        kind: 'line',
        from: { x: x - half, y: y + index * 0.8 },
        to: { x: x + half, y: y + index * 0.8 },
        stroke: INK,
      }));
    case 'pass-through':
      return [{ about, kind: 'circle', centre: { x, y }, radius: 2, stroke: INK, fill: 'paper' }];
    case 'branch':
      return [{ about, kind: 'circle', centre: { x, y }, radius: 0.9, fill: 'ink' }];
  }
}

function polygon(about: ShapeSubject, points: readonly DrawnPoint[]): DrawnShape {
  return { about, kind: 'polyline', points, closed: true, stroke: INK, fill: 'shade' };
}

/** A bar for the scale: the longest of 5, 2, 1, 0.5, 0.2, 0.1 m that is not over 80 mm. */
export function scaleBar(mmPerM: number, x: number, y: number, toScale: boolean): readonly DrawnShape[] {
  const about: ShapeSubject = { kind: 'scale', id: 'scale' };
  const lengthM = [5, 2, 1, 0.5, 0.2, 0.1].find((one) => one * mmPerM <= 80) ?? 0.1;
  const end = x + lengthM * mmPerM;
  return [
    { about, kind: 'line', from: { x, y }, to: { x: end, y }, stroke: { paint: 'ink', width: 0.6 } },
    { about, kind: 'line', from: { x, y: y - 1 }, to: { x, y: y + 1 }, stroke: { paint: 'ink', width: 0.4 } },
    { about, kind: 'line', from: { x: end, y: y - 1 }, to: { x: end, y: y + 1 }, stroke: { paint: 'ink', width: 0.4 } },
    {
      about,
      kind: 'text',
      at: { x: end + 2, y },
      text: `${lengthM} m${toScale ? ', along the segments' : '; dashed segments are not to scale'}`,
      size: TEXT_MM,
      baseline: 'middle',
    },
  ];
}
