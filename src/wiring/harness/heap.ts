/** A binary heap of node numbers by distance, for the shortest paths. */
export interface DistanceHeap {
  push(node: number, distance: number): void;
  /** The nearest node; null when empty. */
  pop(): { readonly node: number; readonly distance: number } | null;
}

export function distanceHeap(): DistanceHeap {
  const nodes: number[] = [];
  const distances: number[] = [];
  const swap = (a: number, b: number): void => {
    [nodes[a], nodes[b]] = [nodes[b]!, nodes[a]!];
    [distances[a], distances[b]] = [distances[b]!, distances[a]!];
  };
  return {
    push(node, distance) {
      let at = nodes.push(node) - 1;
      distances.push(distance);
      while (at > 0) {
        const parent = (at - 1) >> 1;
        if (distances[parent]! <= distances[at]!) break;
        swap(at, parent);
        at = parent;
      }
    },
    pop() {
      if (nodes.length === 0) return null;
      swap(0, nodes.length - 1);
      const node = nodes.pop()!;
      const distance = distances.pop()!;
      for (let at = 0; ;) {
        const left = 2 * at + 1;
        const right = left + 1;
        let least = at;
        if (left < nodes.length && distances[left]! < distances[least]!) least = left;
        if (right < nodes.length && distances[right]! < distances[least]!) least = right;
        if (least === at) break;
        swap(at, least);
        at = least;
      }
      return { node, distance };
    },
  };
}
