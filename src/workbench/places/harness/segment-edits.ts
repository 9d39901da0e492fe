import { harnessGraph } from '../../../wiring/index.ts';
import type { CrossloomMap, Edit, Harness, HarnessNode, HarnessSegment } from '../../../model/index.ts';

const positions = new WeakMap<Harness, ReadonlyMap<string, number>>();

/** Place of a segment in the document's list, by the id the plan gives it; null when there is none. */
export function segmentPosition({ harness }: CrossloomMap, id: string): number | null {
  if (!harness) return null;
  let known = positions.get(harness);
  if (!known) {
    const place = new Map(harness.segments.map((segment, at) => [segment, at]));
    known = new Map(harnessGraph(harness).segments.map((entry) => [entry.id, place.get(entry.segment)!]));
    positions.set(harness, known);
  }
  return known.get(id) ?? null;
}

/** The segment as the document has it, by the id the plan gives it. */
export function segmentOf(map: CrossloomMap, id: string): HarnessSegment | null {
  const position = segmentPosition(map, id);
  return position === null ? null : map.harness!.segments[position]!;
}

export function nodeOf(map: CrossloomMap, id: string): HarnessNode | null {
  return map.harness?.nodes.find((node) => node.id === id) ?? null;
}

/** Writes a field of a segment; undefined takes it away. */
export function editSegment(
  map: CrossloomMap,
  id: string,
  field: 'lengthM' | 'covering' | 'maxC' | 'clampEveryM' | 'note',
  value: number | string | undefined,
): readonly Edit[] {
  const position = segmentPosition(map, id);
  if (position === null) return [];
  return writeField(['harness', 'segments', { at: position }], map.harness!.segments[position]!, field, value);
}

/** Writes a field of a node; undefined takes it away. */
export function editNode(
  map: CrossloomMap,
  id: string,
  field: 'title' | 'holeMm' | 'zone' | 'x' | 'y' | 'note' | 'connector' | 'ground' | 'part',
  value: number | string | undefined,
): readonly Edit[] {
  const node = nodeOf(map, id);
  return node === null ? [] : writeField(['harness', 'nodes', { id }], node, field, value);
}

function writeField(
  path: Edit['path'],
  entry: object,
  field: string,
  value: number | string | undefined,
): readonly Edit[] {
  const before = (entry as Readonly<Record<string, unknown>>)[field];
  if (before === value) return [];
  if (value === undefined) return [{ do: 'remove', in: 'map', path: [...path, field] }];
  return [{ do: 'set', in: 'map', path: [...path, field], to: value }];
}
