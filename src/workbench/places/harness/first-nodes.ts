import type { CrossloomMap, Edit, HarnessNode } from '../../../model/index.ts';
import type { PlanIndex } from './plan-index.ts';

/** Edits that give every connector, stud and part which a circuit reaches a node, where the harness has none for it yet. */
export function firstNodes(map: CrossloomMap, index: PlanIndex): readonly Edit[] {
  const nodes = map.harness?.nodes ?? [];
  const taken = new Set(nodes.map(({ id }) => id));
  const held = new Set(nodes.flatMap(({ connector, ground, part }) => [connector, ground, part]));
  const placed = new Map((map.harness?.parts ?? []).map(({ id, node }) => [id, node]));
  const made: HarnessNode[] = [];
  const make = (name: string, node: Omit<HarnessNode, 'id'>): void => {
    if (held.has(name)) return;
    held.add(name);
    const stem = `n-${name.replace(/[^A-Za-z0-9_+/-]+/g, '-')}`.slice(0, 100);
    let id = stem;
    for (let count = 2; taken.has(id); count += 1) id = `${stem}-${count}`;
    taken.add(id);
    made.push({ id, ...node });
  };
  for (const { ref, title } of index.plan.connectors) make(ref, { kind: 'connector', connector: ref, title });
  for (const ground of index.byGround.keys()) make(ground, { kind: 'stud', ground });
  for (const [part, keys] of index.byPart) {
    const sitsInConnector = keys.some((key) => {
      const { from, to } = index.byKey.get(key)!.conductor.circuit;
      return [from, to].some((end) => end.kind === 'part' && end.part === part && end.connector !== null);
    });
    if (!sitsInConnector && placed.get(part) === undefined) make(part, { kind: 'part', part });
  }
  if (map.harness === undefined)
    return [
      {
        do: 'set',
        in: 'map',
        path: ['harness'],
        to: { connectors: [], nodes: made, segments: [], circuits: [] } as never,
      },
    ];
  return made.map((node): Edit => ({ do: 'insert', in: 'map', path: ['harness', 'nodes'], value: node as never }));
}

/** A new branch point. */
export function addBranch(map: CrossloomMap): { readonly id: string; readonly edits: readonly Edit[] } {
  const taken = new Set((map.harness?.nodes ?? []).map(({ id }) => id));
  let count = 1;
  while (taken.has(`b${count}`)) count += 1;
  const id = `b${count}`;
  return { id, edits: [{ do: 'insert', in: 'map', path: ['harness', 'nodes'], value: { id, kind: 'branch' } }] };
}
