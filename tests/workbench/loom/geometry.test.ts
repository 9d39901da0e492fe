import { describe, expect, test } from 'vitest';
import { busesOfStrands, columnsOf, strandShape } from '../../../src/workbench/places/loom/geometry.ts';
import type { Strand } from '../../../src/workbench/places/loom/layout.ts';
import { loomOf, samplePairing } from './sample.ts';

const pairing = samplePairing();
const strands = loomOf(pairing)
  .flatMap((group) => group.rows)
  .filter((row): row is Strand => row.kind === 'strand');
const buses = busesOfStrands(strands);
const columns = columnsOf(1000, 1, true, [...pairing.interfaceModules.keys()], buses);
const [bandFrom, bandTo] = [...columns.bands.values()][0]!;

describe('the shapes of strands', () => {
  test('columns lie in order: edge, marks, rails, band, and mirrored', () => {
    const rails = [...columns.rails];
    for (const width of [600, 900, 1400, 2200]) {
      const { left, markLeft, bandsFrom, bandsTo, markRight, right } = columnsOf(width, 1, true, ['a', 'b'], buses);
      expect([left, markLeft, bandsFrom, bandsTo, markRight, right]).toEqual(
        [left, markLeft, bandsFrom, bandsTo, markRight, right].toSorted((a, b) => a - b),
      );
    }
    for (const [bus, x] of rails)
      expect(bus.startsWith('host:') ? x < bandFrom && x > columns.markLeft : x > bandTo && x < columns.markRight).toBe(
        true,
      );
  });

  test('a hard wire from side to side is one straight line from edge to edge in front of the band', () => {
    const across = strands.filter(
      ({ carrier, left, right }) => carrier === 'hard-wire' && left.length === 1 && right.length === 1,
    );
    expect(across.length).toBeGreaterThan(20);
    for (const strand of across) {
      const { ways, bridges, sockets } = strandShape(strand, columns, 22);
      expect(ways).toEqual([`M${columns.left} 11H${columns.right}`]);
      expect(bridges).toEqual([[bandFrom, bandTo, 11]]);
      expect(sockets).toEqual([]);
    }
  });

  test('an interface strand stops at the band, with a socket for each end', () => {
    for (const strand of strands.filter(({ carrier }) => carrier === 'interface')) {
      const { ways, sockets } = strandShape(strand, columns, 22);
      const ends = strand.left.length + strand.right.length;
      expect(ways).toHaveLength(ends);
      expect(sockets).toHaveLength(ends);
      for (const { x, edge, kind, label } of sockets) {
        expect(x).toBe(edge === 'left' ? bandFrom : bandTo);
        expect(kind === 'port' ? /^[A-C]$/.test(label ?? '') : label !== null).toBe(true);
      }
    }
  });

  test('a bus strand turns down into the rail of its bus and never crosses the band', () => {
    const own = strands.filter(({ carrier }) => carrier === 'bus');
    expect(own).toHaveLength(5);
    for (const strand of own) {
      const { ways } = strandShape(strand, columns, 22);
      const rails = [...strand.left, ...strand.right].map(({ bus }) => columns.rails.get(bus!)!);
      ways.forEach((way, at) => expect(way).toMatch(new RegExp(`${rails[at]} 17V22$`)));
    }
  });

  test('buses of bus strands are each named once, the host’s first', () => {
    expect(buses).toEqual(['host:chassis-can', 'donor:powertrain-can']);
  });
});
