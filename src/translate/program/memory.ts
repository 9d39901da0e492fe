import type { Node, RouteProgram } from './types.ts';

/** Whether a node keeps something from one tick to the next. */
export function hasMemory(node: Node): boolean {
  switch (node.kind) {
    case 'bands':
    case 'rate-limit':
    case 'smooth':
    case 'debounce':
    case 'delay':
      return true;
    case 'segments':
    case 'table':
    case 'from-float':
    case 'all-of':
    case 'any-of':
    case 'highest':
    case 'lowest':
    case 'sum':
    case 'difference':
    case 'first-valid':
    case 'choose':
      return false;
  }
}

/** Whether a program must run at every tick, changed sources or not. */
export function runsEveryTick(program: RouteProgram): boolean {
  return program.nodes.some(hasMemory);
}
