import { expect, test } from 'vitest';
import { traceOf, type TraceStep } from '../../../src/workbench/places/harness/trace.ts';
import { samplePairing } from '../loom/sample.ts';
import { indexOf } from './planned.ts';

const pairing = samplePairing();
const index = indexOf(pairing);

function words(step: TraceStep): string {
  switch (step.kind) {
    case 'place':
      return step.facts.place;
    case 'conductor':
      return step.shown.conductor.circuit.id;
    case 'splice':
      return step.id;
    case 'part':
      return step.part;
  }
}

function trace(id: string): { line: string[]; branches: string[][] } {
  const found = traceOf(index, index.byId.get(id)!.conductor.circuit.key)!;
  return { line: found.steps.map(words), branches: found.branches.map(({ steps }) => steps.map(words)) };
}

test('a circuit of one conductor goes from connector to connector', () => {
  expect(trace('104')).toEqual({ line: ['host:X2-1', '104', 'donor:Y3-1'], branches: [] });
});

test('through a splice: the stub on one side, the other legs as branches', () => {
  expect(trace('114')).toEqual({
    line: ['host:X1-41', '113', 'splice:host:X1/41', '114', 'donor:Y5-3'],
    branches: [['115', 'donor:Y6-1']],
  });
});

test('the stub itself: both legs are branches of it', () => {
  expect(trace('113')).toEqual({
    line: ['host:X1-41', '113', 'splice:host:X1/41'],
    branches: [
      ['114', 'donor:Y5-3'],
      ['115', 'donor:Y6-1'],
    ],
  });
});

test('through a part in line, whichever hop is chosen', () => {
  const line = ['host:X1-3', '106', 'd1', '107', 'donor:Y1-3'];
  expect(trace('106').line).toEqual(line);
  expect(trace('107').line).toEqual(line);
});

test('from coil to contact of a relay that the interface module drives', () => {
  const { line } = trace('156');
  expect(line).toContain('k1');
  expect(line.indexOf('156')).toBeLessThan(line.indexOf('157'));
});

test('every circuit of the sample is reached from both of its ends, and its way is one run of joined segments', () => {
  const segments = new Map(index.plan.drawing.segments.map((segment) => [segment.id, segment]));
  for (const { conductor } of index.plan.conductors) {
    const found = traceOf(index, conductor.circuit.key)!;
    expect(found.line.has(conductor.circuit.key)).toBe(true);
    for (const end of [found.steps.at(0), found.steps.at(-1)]) {
      // A splice ends the line only where more than one leg leaves it: those are its branches.
      if (end!.kind === 'splice') expect(found.branches.length).toBeGreaterThan(1);
      else expect(end!.kind).toBe('place');
    }
    for (const step of found.steps) {
      if (step.kind !== 'conductor') continue;
      step.segments.forEach((id, at) => {
        const { from, to } = segments.get(id)!;
        expect(new Set([from, to])).toEqual(new Set([step.nodes[at], step.nodes[at + 1]]));
      });
    }
  }
});

test('a circuit that the plan does not have has no trace', () => {
  expect(traceOf(index, 'route:none/1')).toBeNull();
});
