import type { CrossloomMap, Edit, HarnessSegment } from '../../../model/index.ts';
import type { ShownConductor } from '../../worker/harness-protocol.ts';
import { choiceOf, editChoice } from './circuit-edits.ts';
import { segmentPosition } from './segment-edits.ts';

/** Nodes that a person made for splices. */
export function spliceNodes(map: CrossloomMap): readonly string[] {
  return (map.harness?.nodes ?? []).filter(({ kind }) => kind === 'splice').map(({ id }) => id);
}

/** Edits that leave the place of a splice to the tool: no joined circuit is led through a splice node any more. */
export function placeByTool(map: CrossloomMap, joined: readonly ShownConductor[]): readonly Edit[] {
  const places = new Set(spliceNodes(map));
  return joined.flatMap(({ conductor: { circuit } }) => {
    const through = choiceOf(map, circuit)?.through;
    const kept = through?.filter((node) => !places.has(node));
    if (!through || !kept || kept.length === through.length) return [];
    return editChoice(map, circuit, { through: kept.length === 0 ? undefined : kept });
  });
}

/** Edits that place a splice at a splice node: the first circuit it joins is led through it, no other through another. */
export function placeAtNode(map: CrossloomMap, joined: readonly ShownConductor[], node: string): readonly Edit[] {
  const [first] = joined;
  if (!first) return [];
  const places = new Set(spliceNodes(map));
  const { circuit } = first.conductor;
  const own = (choiceOf(map, circuit)?.through ?? []).filter((one) => !places.has(one));
  return [...placeByTool(map, joined.slice(1)), ...editChoice(map, circuit, { through: [...own, node] })];
}

/** A new splice node in a segment, so far from where the segment begins; the segment becomes two. Null when it has no room. */
export function splitSegment(
  map: CrossloomMap,
  segmentId: string,
  fromStartM: number,
): { readonly node: string; readonly edits: readonly Edit[] } | null {
  const position = segmentPosition(map, segmentId);
  const harness = map.harness;
  if (position === null || !harness) return null;
  const segment = harness.segments[position]!;
  const restM = rounded(segment.lengthM - fromStartM);
  if (!(fromStartM > 0) || restM <= 0) return null;
  const node = freeId(
    harness.nodes.map(({ id }) => id),
    'sp',
  );
  const [from, to] = [segment.from, segment.to].map((id) => harness.nodes.find((one) => one.id === id));
  const share = fromStartM / segment.lengthM;
  const between = (axis: 'x' | 'y'): { readonly [key in 'x' | 'y']?: number } => {
    const [a, b] = [from?.[axis], to?.[axis]];
    return a === undefined || b === undefined ? {} : { [axis]: rounded(a + (b - a) * share) };
  };
  const { id, from: _from, to: _to, lengthM: _lengthM, ...rest } = segment;
  const second: HarnessSegment = {
    ...(id === undefined
      ? {}
      : {
          id: freeId(
            harness.segments.flatMap((one) => one.id ?? []),
            id,
          ),
        }),
    from: node,
    to: segment.to,
    lengthM: restM,
    ...rest,
  };
  const path = ['harness', 'segments', { at: position }] as const;
  return {
    node,
    edits: [
      {
        do: 'insert',
        in: 'map',
        path: ['harness', 'nodes'],
        value: {
          id: node,
          kind: 'splice',
          ...between('x'),
          ...between('y'),
          ...(from?.zone !== undefined && from.zone === to?.zone ? { zone: from.zone } : {}),
        },
      },
      { do: 'set', in: 'map', path: [...path, 'to'], to: node },
      { do: 'set', in: 'map', path: [...path, 'lengthM'], to: rounded(fromStartM) },
      { do: 'insert', in: 'map', path: ['harness', 'segments'], value: second as never },
    ],
  };
}

/** Tenths of a millimetre; nobody measures finer. */
function rounded(value: number): number {
  return Math.round(value * 10_000) / 10_000;
}

function freeId(taken: readonly string[], stem: string): string {
  const used = new Set(taken);
  for (let count = 1; ; count += 1) {
    const id = `${stem}${/\d$/.test(stem) ? '-' : ''}${count}`;
    if (!used.has(id)) return id;
  }
}
