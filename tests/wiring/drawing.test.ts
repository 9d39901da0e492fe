import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { buildHarness, type DrawnHarness } from '../../src/wiring/index.ts';
import { routedHarness, smallPairing } from './small-pairing.ts';

const draw = (harness: object): DrawnHarness => buildHarness(smallPairing({ harness })).drawing;
const measured = ({ segments, mmPerM }: DrawnHarness) =>
  segments.map(({ points: [a, b], lengthM }) => Math.hypot(b.x - a.x, b.y - a.y) / mmPerM / lengthM);

function overlap(a: { left: number; top: number; width: number; height: number }, b: typeof a): boolean {
  return a.left < b.left + b.width && b.left < a.left + a.width && a.top < b.top + b.height && b.top < a.top + a.height;
}

interface P {
  readonly x: number;
  readonly y: number;
}
/** Proper crossing by orientation: each segment has the other's ends on both of its sides. */
function cross(a: P, b: P, c: P, d: P): boolean {
  const turn = (p: P, q: P, r: P) => (q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x);
  const small = 1e-6;
  return turn(a, b, c) * turn(a, b, d) < -small && turn(c, d, a) * turn(c, d, b) < -small;
}
function crossings({ segments }: DrawnHarness): number {
  let count = 0;
  segments.forEach((one, index) => {
    for (const other of segments.slice(index + 1)) if (cross(...one.points, ...other.points)) count += 1;
  });
  return count;
}

describe('the drawn harness', () => {
  it('is true to scale along every segment, holds every node once, and no label lies on another', () => {
    const drawing = draw(routedHarness);
    expect([drawing.layout, drawing.toScale]).toEqual(['automatic', true]);
    for (const ratio of measured(drawing)) expect(ratio).toBeCloseTo(1, 6);
    expect(drawing.nodes.map(({ id }) => id).sort()).toEqual(
      (routedHarness.nodes as { id: string }[]).map(({ id }) => id).sort(),
    );
    drawing.nodes.forEach((one, index) => {
      for (const other of drawing.nodes.slice(index + 1)) expect(overlap(one.labelBox, other.labelBox)).toBe(false);
    });
    expect(crossings(drawing)).toBe(0);
  });

  it('lies within its sheet', () => {
    const { nodes, widthMm, heightMm } = draw(routedHarness);
    for (const {
      labelBox: { left, top, width, height },
    } of nodes) {
      expect(left).toBeGreaterThanOrEqual(0);
      expect(top).toBeGreaterThanOrEqual(0);
      expect(left + width).toBeLessThanOrEqual(widthMm);
      expect(top + height).toBeLessThanOrEqual(heightMm);
    }
  });

  it('of any tree crosses nothing and keeps its lengths', () => {
    const tree = fc.array(fc.record({ parent: fc.nat(), tenths: fc.integer({ min: 1, max: 40 }) }), {
      minLength: 1,
      maxLength: 40,
    });
    fc.assert(
      fc.property(tree, (links) => {
        const nodes = [0, ...links].map((_, index) => ({ id: `n${index}`, kind: 'branch' }));
        const segments = links.map(({ parent, tenths }, index) => ({
          from: `n${parent % (index + 1)}`,
          to: `n${index + 1}`,
          lengthM: tenths / 10,
        }));
        const drawing = draw({ connectors: [], circuits: [], nodes, segments });
        for (const ratio of measured(drawing)) expect(ratio).toBeCloseTo(1, 6);
        expect(crossings(drawing)).toBe(0);
      }),
      { numRuns: 60 },
    );
  });

  it('takes the directions a person gave, with the true lengths', () => {
    const nodes = [
      { id: 'a', kind: 'branch', x: 0, y: 0 },
      { id: 'b', kind: 'branch', x: 100, y: 0 },
      { id: 'c', kind: 'branch', x: 100, y: 50 },
    ];
    const segments = [
      { from: 'a', to: 'b', lengthM: 2 },
      { from: 'b', to: 'c', lengthM: 3 },
    ];
    const drawing = draw({ connectors: [], circuits: [], nodes, segments });
    expect(drawing.layout).toBe('by hand');
    for (const ratio of measured(drawing)) expect(ratio).toBeCloseTo(1, 6);
    const at = new Map(drawing.nodes.map(({ id, at: point }) => [id, point]));
    expect(at.get('b')!.y).toBeCloseTo(at.get('a')!.y, 6);
    expect(at.get('c')!.x).toBeCloseTo(at.get('b')!.x, 6);
    expect(at.get('c')!.y).toBeGreaterThan(at.get('b')!.y);
  });

  it('dashes the segment that closes a circle and says so', () => {
    const nodes = ['a', 'b', 'c'].map((id) => ({ id, kind: 'branch' }));
    const segments = [
      { from: 'a', to: 'b', lengthM: 1 },
      { from: 'b', to: 'c', lengthM: 1 },
      { from: 'c', to: 'a', lengthM: 5 },
    ];
    const drawing = draw({ connectors: [], circuits: [], nodes, segments });
    expect(drawing.toScale).toBe(false);
    expect(drawing.segments.filter(({ toScale }) => !toScale).map(({ id }) => id)).toEqual(['c-a']);
    expect(drawing.description).toContain('not to scale');
  });

  it('without nodes says that there is nothing to draw', () => {
    expect(draw({ connectors: [], circuits: [], nodes: [], segments: [] })).toMatchObject({
      layout: 'nothing to draw',
      shapes: [],
    });
  });
});
