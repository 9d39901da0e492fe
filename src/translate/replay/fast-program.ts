import type { Node, Output, RouteProgram } from '../program/types.ts';
import { type Unary, unary } from './fast-nodes.ts';
import { MARK } from './marks.ts';

/** Gives the value of a program now, or a mark. */
export type Run = () => number;

/** Makes a program runnable on doubles. `reads` give its sources, or marks. Only for programs that `fitsDoubles`. */
export function fastProgram(program: RouteProgram, reads: readonly Run[]): Run {
  const finish = finishing(program.output);
  const [first] = reads;
  if (isPipeline(program) && first !== undefined) {
    const steps = program.nodes.map((node) => unary(node as Parameters<typeof unary>[0]));
    return pipeline(first, finish === null ? steps : [...steps, finish]);
  }
  return general(program, reads, finish);
}

/** One source, and every node takes what the one before it gives. */
function isPipeline({ sources, nodes, result }: RouteProgram): boolean {
  return (
    sources.length === 1 &&
    result === nodes.length &&
    nodes.every((node, index) => 'from' in node && node.from === index)
  );
}

function pipeline(read: Run, steps: readonly Unary[]): Run {
  const [a, b] = steps;
  if (a === undefined) return read;
  if (b === undefined) return () => a(read());
  if (steps.length === 2) return () => b(a(read()));
  return () => {
    let x = read();
    for (const step of steps) x = step(x);
    return x;
  };
}

function general(program: RouteProgram, reads: readonly Run[], finish: Unary | null): Run {
  const sourceCount = reads.length;
  const slots = new Float64Array(sourceCount + program.nodes.length);
  const nodes = program.nodes.map((node) => nodeOn(node, slots));
  const { result } = program;
  return () => {
    for (let index = 0; index < sourceCount; index += 1) slots[index] = reads[index]!();
    for (let index = 0; index < nodes.length; index += 1) slots[sourceCount + index] = nodes[index]!();
    const x = slots[result]!;
    return finish === null ? x : finish(x);
  };
}

function nodeOn(node: Node, slots: Float64Array): Run {
  switch (node.kind) {
    case 'segments':
    case 'table':
    case 'from-float':
    case 'bands':
    case 'rate-limit':
    case 'smooth':
    case 'debounce':
    case 'delay': {
      const step = unary(node);
      const { from } = node;
      return () => step(slots[from]!);
    }
    case 'all-of':
      return decided(node.of, slots, 0);
    case 'any-of':
      return decided(node.of, slots, 1);
    case 'highest':
      return folded(node.of, slots, (a, b) => (a >= b ? a : b));
    case 'lowest':
      return folded(node.of, slots, (a, b) => (a <= b ? a : b));
    case 'sum':
      return folded(node.of, slots, (a, b) => a + b);
    case 'difference':
      return folded(node.of, slots, (a, b) => a - b);
    case 'first-valid': {
      const { of } = node;
      return () => {
        for (const slot of of) if (slots[slot]! < MARK) return slots[slot]!;
        return slots[of[0]!]!;
      };
    }
    case 'choose': {
      const { selector, cases } = node;
      const slotOf = cases.map((result) => ('slot' in result ? result.slot : -1));
      const valueOf = cases.map((result) => ('slot' in result ? 0 : Number(result.value)));
      return () => {
        const position = slots[selector]!;
        if (position >= MARK) return position;
        const slot = slotOf[position]!;
        return slot >= 0 ? slots[slot]! : valueOf[position]!;
      };
    }
  }
}

/** `all-of` (deciding 0) and `any-of` (deciding 1): one deciding value settles it, else the first mark does. */
function decided(of: readonly number[], slots: Float64Array, deciding: 0 | 1): Run {
  return () => {
    let mark = 0;
    for (const slot of of) {
      const x = slots[slot]!;
      if (x === deciding) return deciding;
      if (x >= MARK && mark === 0) mark = x;
    }
    return mark === 0 ? 1 - deciding : mark;
  };
}

function folded(of: readonly number[], slots: Float64Array, two: (a: number, b: number) => number): Run {
  const [first = 0, ...rest] = of;
  return () => {
    let x = slots[first]!;
    if (x >= MARK) return x;
    for (const slot of rest) {
      const y = slots[slot]!;
      if (y >= MARK) return y;
      x = two(x, y);
    }
    return x;
  };
}

/** What is left to do between the last slot and the field; null: nothing. */
function finishing(output: Output): Unary | null {
  switch (output.kind) {
    case 'field': {
      if (output.avoid.length === 0) return null;
      const avoid = new Set(output.avoid.map(Number));
      return (x) => {
        let raw = x;
        while (avoid.has(raw)) raw -= 1;
        return raw;
      };
    }
    case 'float-field': {
      const { factor, offset, lo, hi } = output;
      const single = output.number === 'float32';
      return (x) => {
        if (x >= MARK) return x;
        const product = x * factor;
        const sum = product + offset;
        const kept = sum < lo ? lo : sum > hi ? hi : sum;
        return single ? Math.fround(kept) : kept;
      };
    }
    case 'switched-wire':
    case 'measured-wire':
      return null;
  }
}
