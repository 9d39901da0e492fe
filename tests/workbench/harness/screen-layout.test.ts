import { describe, expect, test } from 'vitest';
import { layOnScreen, scaleToFit } from '../../../src/workbench/places/harness/screen-layout.ts';
import { MOST_SCALE, zoomedAt } from '../../../src/workbench/places/harness/use-camera.ts';
import { largePairing } from '../../wiring/large-pairing.ts';
import { samplePairing } from '../loom/sample.ts';
import { planOf } from './planned.ts';

const drawings = [
  ['the sample', planOf(samplePairing()).drawing],
  ['400 circuits', planOf(largePairing(400)).drawing],
] as const;
const VIEWS = [
  { width: 860, height: 420 },
  { width: 1300, height: 560 },
];

describe.each(drawings)('%s', (_name, drawing) => {
  test.each(VIEWS)('fits a view of $width × $height with its lettering', (view) => {
    const { extent } = layOnScreen(drawing, scaleToFit(drawing, view));
    expect(extent.width).toBeLessThanOrEqual(view.width);
    expect(extent.height).toBeLessThanOrEqual(view.height);
    expect(Math.max(extent.width / view.width, extent.height / view.height)).toBeGreaterThan(0.7);
  });

  test.each([0.8, 2, 6])('no label touches another, at scale %f', (scale) => {
    const layout = layOnScreen(drawing, scale);
    const boxes = layout.nodes.flatMap(({ label }) => (label ? [label.box] : []));
    const touching = boxes.flatMap((a, at) =>
      boxes
        .slice(at + 1)
        .filter(
          (b) =>
            a.left < b.left + b.width &&
            b.left < a.left + a.width &&
            a.top < b.top + b.height &&
            b.top < a.top + a.height,
        ),
    );
    expect(touching).toEqual([]);
  });

  test('zoomed in, every node has its label', () => {
    expect(layOnScreen(drawing, MOST_SCALE).nodes.filter(({ label }) => label === null)).toEqual([]);
  });
});

test('a zoom leaves the point under the pointer where it is, and ends at its ends', () => {
  const view = { x: 40, y: -10, scale: 2 };
  const zoomed = zoomedAt(view, 1.5, 300, 200);
  expect((300 - zoomed.x) / zoomed.scale).toBeCloseTo((300 - view.x) / view.scale, 9);
  expect((200 - zoomed.y) / zoomed.scale).toBeCloseTo((200 - view.y) / view.scale, 9);
  expect(zoomedAt(view, 1e9, 0, 0).scale).toBe(24);
  expect(zoomedAt(view, 1e-9, 0, 0).scale).toBe(0.2);
});
