import { describe, expect, test } from 'vitest';
import { applyEdits, CrossloomMap, pair, type Edit, type Pairing } from '../../../src/model/index.ts';
import { applyTrial, editChoice } from '../../../src/workbench/places/harness/circuit-edits.ts';
import { addBranch, firstNodes } from '../../../src/workbench/places/harness/first-nodes.ts';
import { moveNode } from '../../../src/workbench/places/harness/move-node.ts';
import { editNode, editSegment } from '../../../src/workbench/places/harness/segment-edits.ts';
import { placeAtNode, placeByTool, splitSegment } from '../../../src/workbench/places/harness/splice-edits.ts';
import { smallPairing } from '../../wiring/small-pairing.ts';
import { samplePairing } from '../loom/sample.ts';
import { indexOf } from './planned.ts';

const sample = samplePairing();
const index = indexOf(sample);

function edited(pairing: Pairing, edits: readonly Edit[]): Pairing {
  const documents = { map: pairing.map, host: pairing.host.platform, donor: pairing.donor.platform };
  // Read through the schema: what the window writes must be a map that opens again.
  const map = CrossloomMap.parse(applyEdits(documents, edits).map);
  return pair(map, pairing.host, pairing.donor);
}

function circuit(pairing: Pairing, id: string) {
  return indexOf(pairing).byId.get(id)!.conductor;
}

function choice(map: CrossloomMap, id: string) {
  return map.harness!.circuits.find((entry) => entry.id === id);
}

describe('a circuit', () => {
  test('that has an entry gets its field changed, and nothing else', () => {
    const edits = editChoice(sample.map, circuit(sample, '104').circuit, { loadA: 15 }, { size: '10mm2' });
    const after = edited(sample, edits);
    expect(choice(after.map, '104')).toEqual({
      ...choice(sample.map, '104')!,
      loadA: 15,
      conductor: { ...choice(sample.map, '104')!.conductor, size: '10mm2' },
    });
    expect(editChoice(sample.map, circuit(sample, '104').circuit, {}, { size: '6mm2' })).toEqual([]);
  });

  test('without an entry gets one under its own number', () => {
    const small = smallPairing();
    const other = indexOf(small).plan.conductors.find(({ conductor }) => conductor.circuit.id !== '101')!;
    const { id, key } = other.conductor.circuit;
    const after = edited(small, editChoice(small.map, other.conductor.circuit, {}, { size: '1.5mm2' }));
    expect(choice(after.map, id)).toEqual({ id, of: key, conductor: { size: '1.5mm2' } });
    expect(circuit(after, id).size.text).toBe('1.5mm2');
    expect(circuit(after, id).sizeBy).toBe('circuit');
  });

  test('of a map without a harness gets a harness for its entry', () => {
    const { harness: _, ...bare } = smallPairing().map;
    const small = pair(
      { ...bare, routes: bare.routes.slice(0, 1), interfaceModules: [] },
      smallPairing().host,
      smallPairing().donor,
    );
    const [shown] = indexOf(small).plan.conductors;
    const after = edited(small, editChoice(small.map, shown!.conductor.circuit, { loadA: 1 }));
    expect(after.map.harness!.circuits).toHaveLength(1);
    expect(circuit(after, shown!.conductor.circuit.id).currentA).toBe(1);
  });

  test('an ambient is written at the segments that make it, and at no other', () => {
    // 104 runs through segments of 95, 95 and 110 °C.
    const shown = index.byId.get('104')!;
    const hotter = applyTrial(sample.map, shown, { ambientC: 120 });
    expect(hotter.edits).toHaveLength(1);
    expect(circuit(edited(sample, hotter.edits), '104').ambientC).toBe(120);
    const cooler = applyTrial(sample.map, shown, { ambientC: 90 });
    expect(cooler.edits).toHaveLength(3);
    expect(circuit(edited(sample, cooler.edits), '104').ambientC).toBe(90);
    expect(hotter.says.join()).toContain('for all that runs there');
  });
});

describe('a segment and a node', () => {
  test('a length changes what runs there; an emptied field goes', () => {
    const longer = edited(sample, editSegment(sample.map, 's-b1-b2', 'lengthM', 0.95));
    expect(circuit(longer, '104').lengthM).toBeCloseTo(1.8, 9);
    const bare = edited(sample, editSegment(sample.map, 's-b1-b2', 'covering', undefined));
    expect('covering' in bare.map.harness!.segments.find(({ id }) => id === 's-b1-b2')!).toBe(false);
    expect(editSegment(sample.map, 'none', 'lengthM', 1)).toEqual([]);
  });

  test('a segment without an id is found by the name the plan gives it', () => {
    const segments = [
      { from: 'a', to: 'b', lengthM: 1 },
      { from: 'a', to: 'b', lengthM: 2 },
    ];
    const nodes = [
      { id: 'a', kind: 'branch' as const },
      { id: 'b', kind: 'branch' as const },
    ];
    const small = smallPairing({ harness: { connectors: [], nodes, segments, circuits: [] } });
    const after = edited(small, editSegment(small.map, 'a-b+2', 'lengthM', 5));
    expect(after.map.harness!.segments.map(({ lengthM }) => lengthM)).toEqual([1, 5]);
  });

  test('the hole of a pass-through', () => {
    const after = edited(sample, editNode(sample.map, 'p1', 'holeMm', 12));
    expect(indexOf(after).plan.segments.find(({ segment }) => segment === 's-b3-p1')!.passes).toBe(false);
  });

  test('every connector, stud and part gets a node, once', () => {
    const small = smallPairing();
    const edits = firstNodes(small.map, indexOf(small));
    const after = edited(small, edits);
    const held = after.map.harness!.nodes.map(({ connector, ground, part }) => connector ?? ground ?? part);
    expect(new Set(held).size).toBe(held.length);
    expect(held).toEqual(expect.arrayContaining(['X1', 'host:C9', 'donor:D2', 'host:G101', 'k1']));
    expect(firstNodes(after.map, indexOf(after))).toEqual([]);
    expect(firstNodes(sample.map, index)).toEqual([]);
    expect(addBranch(sample.map).id).toBe('b6');
  });
});

describe('a splice', () => {
  const joined = index.bySplice.get('splice:host:X1/41')!.map((key) => index.byKey.get(key)!);

  test('is placed at a new node in a segment: lengths follow, the sum of the segment stays', () => {
    const split = splitSegment(sample.map, 's-b5-nY5', 0.3)!;
    const after = edited(sample, [...split.edits, ...placeAtNode(sample.map, joined, split.node)]);
    const plan = indexOf(after);
    expect(plan.splices.get('splice:host:X1/41')).toMatchObject({ node: 'sp1', placedBy: 'hand' });
    // 0.3 m more to the stub, 0.3 m less to the lever, 0.3 m more back to the transponder.
    expect(circuit(after, '113').lengthM).toBeCloseTo(circuit(sample, '113').lengthM! + 0.3, 9);
    expect(circuit(after, '114').lengthM).toBeCloseTo(circuit(sample, '114').lengthM! - 0.3, 9);
    expect(circuit(after, '115').lengthM).toBeCloseTo(circuit(sample, '115').lengthM! + 0.3, 9);
    const sum = (map: CrossloomMap): number => map.harness!.segments.reduce((total, { lengthM }) => total + lengthM, 0);
    expect(sum(after.map)).toBeCloseTo(sum(sample.map), 9);
    // Everything else keeps its length: the two halves are the segment that was.
    expect(circuit(after, '117').lengthM).toBeCloseTo(circuit(sample, '117').lengthM!, 9);
    const back = edited(
      after,
      placeByTool(
        after.map,
        plan.bySplice.get('splice:host:X1/41')!.map((key) => plan.byKey.get(key)!),
      ),
    );
    expect(indexOf(back).splices.get('splice:host:X1/41')!.placedBy).toBe('least-copper');
  });

  test.each([0, 0.7, 0.9, -1, NaN])('no room in the segment %f m along', (alongM) => {
    expect(splitSegment(sample.map, 's-b5-nY5', alongM)).toBeNull();
  });

  test('that the tool places has nothing to be taken back', () => {
    expect(placeByTool(sample.map, joined)).toEqual([]);
  });
});

describe('a node that is moved', () => {
  const { drawing } = index.plan;
  const at = (pairing: Pairing, id: string) => indexOf(pairing).plan.drawing.nodes.find((node) => node.id === id)!.at;

  test('changes its own place alone, and is drawn in the direction it was dragged to at its true length', () => {
    const [b4, before] = [at(sample, 'b4'), at(sample, 'nX3')];
    const edits = moveNode(sample.map, drawing, 'nX3', { x: b4.x + 30, y: b4.y - 12 });
    expect(
      edits.map(({ path }) =>
        path.slice(2).map((step) => (typeof step === 'string' ? step : 'id' in step ? step.id : '')),
      ),
    ).toEqual([
      ['nX3', 'x'],
      ['nX3', 'y'],
    ]);
    const after = edited(sample, edits);
    expect(indexOf(after).plan.drawing.layout).toBe('by hand');
    const [from, to] = [at(after, 'b4'), at(after, 'nX3')];
    expect(Math.atan2(to.y - from.y, to.x - from.x)).toBeCloseTo(Math.atan2(-12, 30), 2);
    const mmPerM = (pairing: Pairing): number => indexOf(pairing).plan.drawing.mmPerM;
    expect(Math.hypot(to.x - from.x, to.y - from.y) / mmPerM(after)).toBeCloseTo(
      Math.hypot(before.x - b4.x, before.y - b4.y) / mmPerM(sample),
      6,
    );
  });

  test('where no node has a place yet, all are written as they are drawn', () => {
    const nodes = sample.map.harness!.nodes.map(({ x: _x, y: _y, ...node }) => node);
    const unplaced = samplePairing((map) => ({ ...map, harness: { ...map.harness!, nodes } }));
    const drawn = indexOf(unplaced).plan.drawing;
    expect(drawn.layout).toBe('automatic');
    const edits = moveNode(unplaced.map, drawn, 'nX3', drawn.nodes.find(({ id }) => id === 'nX3')!.at);
    expect(edits).toHaveLength(2 * nodes.length);
    expect(indexOf(edited(unplaced, edits)).plan.drawing.layout).toBe('by hand');
  });
});
