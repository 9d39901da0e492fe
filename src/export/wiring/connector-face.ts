import { COLOUR_CODES, type ConnectorPage } from '../../wiring/index.ts';
import type { Drawing, Shape } from '../document/index.ts';

const CELL_W = 34;
const CELL_H = 26;
const EDGE = 8;

/**
 * The cavities of a housing as a grid, row by row as the documents list them: number, circuit, a swatch of the conductor’s
 * colours; plugged cavities crossed, cavities that stay the vehicle’s hatched. It is no likeness of the housing.
 */
export function connectorFace(page: ConnectorPage): Drawing {
  const shapes: Shape[] = [];
  const columns = Math.max(1, page.faceColumns);
  const rows = Math.max(1, ...page.cavities.map(({ row }) => row + 1));
  shapes.push({
    kind: 'rect',
    x: 2,
    y: 2,
    width: columns * CELL_W + 2 * EDGE - 4,
    height: rows * CELL_H + 2 * EDGE - 4,
    radius: 5,
    stroke: { paint: 'ink', width: 1.2 },
  });
  for (const cavity of page.cavities) {
    const x = EDGE + cavity.column * CELL_W;
    const y = EDGE + cavity.row * CELL_H;
    const [first] = cavity.conductors;
    shapes.push({
      kind: 'rect',
      x: x + 1.5,
      y: y + 1.5,
      width: CELL_W - 3,
      height: CELL_H - 3,
      radius: 2,
      ...(first ? { fill: 'shade' as const } : {}),
      stroke: {
        paint: cavity.state === 'not-on-connector' ? 'stop' : first ? 'ink' : 'rule',
        width: first ? 0.8 : 0.6,
      },
    });
    shapes.push({
      kind: 'text',
      at: { x: x + 3.5, y: y + 8 },
      text: cavity.cavity,
      size: 5.5,
      weight: 'bold',
      paint: first ? 'ink' : 'muted',
    });
    if (first) {
      const named = cavity.conductors.length > 1 ? `${first.circuit} +${cavity.conductors.length - 1}` : first.circuit;
      shapes.push({
        kind: 'text',
        at: { x: x + CELL_W / 2, y: y + 16.2 },
        text: named.length > 9 ? `${named.slice(0, 8)}…` : named,
        size: 5.5,
        anchor: 'middle',
        face: 'mono',
      });
      shapes.push(...swatch(x + 4, y + CELL_H - 7, CELL_W - 8, first.colour));
    } else if (cavity.needsPlug) {
      shapes.push({
        kind: 'line',
        from: { x: x + 12, y: y + 10 },
        to: { x: x + CELL_W - 12, y: y + CELL_H - 5 },
        stroke: { paint: 'muted', width: 0.8 },
      });
      shapes.push({
        kind: 'line',
        from: { x: x + CELL_W - 12, y: y + 10 },
        to: { x: x + 12, y: y + CELL_H - 5 },
        stroke: { paint: 'muted', width: 0.8 },
      });
    } else if (cavity.state === 'vehicle') {
      shapes.push({
        kind: 'text',
        at: { x: x + CELL_W / 2, y: y + 17 },
        text: 'vehicle',
        size: 4.5,
        anchor: 'middle',
        paint: 'muted',
      });
    }
  }
  const filled = page.cavities.filter(({ conductors }) => conductors.length > 0);
  return {
    width: columns * CELL_W + 2 * EDGE,
    height: rows * CELL_H + 2 * EDGE,
    unitMm: 0.36,
    description: `${page.ref}, ${page.cavities.length} cavities in ${rows} rows: ${filled.map(({ cavity, conductors }) => `${cavity} circuit ${conductors.map(({ circuit }) => circuit).join(' and ')}`).join('; ') || 'none used'}`,
    shapes,
  };
}

/** Base colour with the tracer as a stripe along it. */
function swatch(x: number, y: number, width: number, colour: string): readonly Shape[] {
  const [base, tracer] = colour.split('-').map((code) => COLOUR_CODES[code]?.hex);
  if (base === undefined) return [];
  return [
    { kind: 'rect', x, y, width, height: 3.6, fill: base, stroke: { paint: 'muted', width: 0.3 } },
    ...(tracer === undefined ? [] : [{ kind: 'rect', x, y: y + 1.2, width, height: 1.2, fill: tracer } as const]),
  ];
}
