import {
  ERROR,
  type Node,
  NOT_AVAILABLE,
  type RouteProgram,
  SMOOTH_ONE,
  type Status,
  VALID,
  isUsableFloat,
} from './types.ts';
import { divideHalfAway, segmentAt, segmentValue } from './segments.ts';
import { rangeValue } from './ranges.ts';

/** A value in a slot: an integer, for float sources the float; with a status other than `VALID` the value means nothing. */
export interface Slot {
  readonly value: bigint | number;
  readonly status: Status;
}

/** A program with its memory, run once a tick (or, without memory, whenever a source has changed). */
export interface Runner {
  run(sources: readonly Slot[]): Slot;
}

const missing = (status: Status): Slot => ({ value: 0n, status });

/**
 * The plain interpreter: unbounded integers, nothing cached. It defines what a program means; the engine's fast runner and the C
 * source are tested against it, and it serves programs whose integers do not fit a double.
 */
export function wideRunner(program: RouteProgram): Runner {
  const memories = program.nodes.map(memoryOf);
  return {
    run(sources) {
      const slots: Slot[] = [...sources];
      program.nodes.forEach((node, index) => slots.push(runNode(node, slots, memories[index]!)));
      return written(program, slots[program.result]!);
    },
  };
}

/** The last value as it is written: kept off special raw values, or as the float of a float field. */
function written({ output }: RouteProgram, slot: Slot): Slot {
  if (slot.status !== VALID) return slot;
  switch (output.kind) {
    case 'field': {
      if (output.avoid.length === 0) return slot;
      let raw = slot.value as bigint;
      while (output.avoid.includes(raw)) raw -= 1n;
      return { value: raw, status: VALID };
    }
    case 'float-field': {
      const product = Number(slot.value) * output.factor;
      const sum = product + output.offset;
      const kept = sum < output.lo ? output.lo : sum > output.hi ? output.hi : sum;
      return { value: output.number === 'float32' ? Math.fround(kept) : kept, status: VALID };
    }
    case 'switched-wire':
    case 'measured-wire':
      return slot;
  }
}

interface Memory {
  started: boolean;
  value: bigint;
  candidate: bigint;
  count: number;
  ring: bigint[];
}

function memoryOf(): Memory {
  return { started: false, value: 0n, candidate: 0n, count: 0, ring: [] };
}

function runNode(node: Node, slots: readonly Slot[], memory: Memory): Slot {
  switch (node.kind) {
    case 'segments': {
      const { value, status } = slots[node.from]!;
      if (status !== VALID) return missing(status);
      const segment = segmentAt(node.segments, value as bigint);
      return segment === null
        ? missing(NOT_AVAILABLE)
        : { value: segmentValue(segment, value as bigint), status: VALID };
    }
    case 'table': {
      const { value, status } = slots[node.from]!;
      if (status !== VALID) return missing(status);
      const out = rangeValue(node, value as bigint);
      return out === null ? missing(NOT_AVAILABLE) : { value: out, status: VALID };
    }
    case 'from-float': {
      const { value, status } = slots[node.from]!;
      if (status !== VALID) return missing(status);
      return fromFloat(node, Number(value));
    }
    case 'bands':
    case 'rate-limit':
    case 'smooth':
    case 'debounce':
    case 'delay': {
      const { value, status } = slots[node.from]!;
      if (status !== VALID) {
        memory.started = false;
        return missing(status);
      }
      return { value: remember(node, value as bigint, memory), status: VALID };
    }
    case 'all-of':
    case 'any-of': {
      const deciding = node.kind === 'all-of' ? 0n : 1n;
      const inputs = node.of.map((slot) => slots[slot]!);
      if (inputs.some(({ value, status }) => status === VALID && value === deciding))
        return { value: deciding, status: VALID };
      return inputs.find(({ status }) => status !== VALID) ?? { value: 1n - deciding, status: VALID };
    }
    case 'highest':
    case 'lowest':
    case 'sum':
    case 'difference': {
      const inputs = node.of.map((slot) => slots[slot]!);
      const gone = inputs.find(({ status }) => status !== VALID);
      if (gone !== undefined) return missing(gone.status);
      const [first, ...rest] = inputs.map(({ value }) => value as bigint);
      return { value: rest.reduce((a, b) => two(node.kind, a, b), first!), status: VALID };
    }
    case 'first-valid': {
      const inputs = node.of.map((slot) => slots[slot]!);
      return inputs.find(({ status }) => status === VALID) ?? missing(inputs[0]!.status);
    }
    case 'choose': {
      const { value, status } = slots[node.selector]!;
      if (status !== VALID) return missing(status);
      const chosen = node.cases[Number(value)]!;
      return 'slot' in chosen ? slots[chosen.slot]! : { value: chosen.value, status: VALID };
    }
  }
}

function two(kind: 'highest' | 'lowest' | 'sum' | 'difference', a: bigint, b: bigint): bigint {
  switch (kind) {
    case 'highest':
      return a >= b ? a : b;
    case 'lowest':
      return a <= b ? a : b;
    case 'sum':
      return a + b;
    case 'difference':
      return a - b;
  }
}

function fromFloat({ factor, offset, lo, hi }: Extract<Node, { kind: 'from-float' }>, x: number): Slot {
  if (!isUsableFloat(x)) return missing(ERROR);
  const product = x * factor;
  const sum = product + offset;
  if (sum <= Number(lo)) return { value: lo, status: VALID };
  if (sum >= Number(hi)) return { value: hi, status: VALID };
  return { value: BigInt(sum < 0 ? -Math.floor(0.5 - sum) : Math.floor(sum + 0.5)), status: VALID };
}

type MemoryNode = Extract<Node, { kind: 'bands' | 'rate-limit' | 'smooth' | 'debounce' | 'delay' }>;

/** One tick of a node with memory. The first value after a start, or after a missing one, passes as it is. */
function remember(node: MemoryNode, x: bigint, memory: Memory): bigint {
  const first = !memory.started;
  memory.started = true;
  switch (node.kind) {
    case 'bands': {
      if (first) {
        memory.value = BigInt(node.up.filter((threshold) => x >= threshold).length);
        memory.candidate = memory.value;
        memory.count = 0;
        return memory.value;
      }
      let next = Number(memory.value);
      while (next < node.up.length && x >= node.up[next]!) next += 1;
      while (next > 0 && x < node.down[next - 1]!) next -= 1;
      return settled(memory, BigInt(next), node.dwellTicks);
    }
    case 'debounce':
      if (first) {
        memory.value = x;
        memory.candidate = x;
        memory.count = 0;
        return x;
      }
      return settled(memory, x, node.ticks);
    case 'rate-limit': {
      const wanted = x * node.finer;
      const change = wanted - memory.value;
      if (first) memory.value = wanted;
      else if (node.rise !== null && change > node.rise) memory.value += node.rise;
      else if (node.fall !== null && -change > node.fall) memory.value -= node.fall;
      else memory.value = wanted;
      return memory.value;
    }
    case 'smooth': {
      const wanted = x << BigInt(node.shift);
      if (first) memory.value = wanted;
      else if (wanted !== memory.value) {
        const step = divideHalfAway((wanted - memory.value) * node.alpha, SMOOTH_ONE);
        memory.value += step !== 0n ? step : wanted > memory.value ? 1n : -1n;
      }
      return memory.value;
    }
    case 'delay': {
      if (first) {
        memory.ring = new Array<bigint>(node.ticks).fill(x);
        memory.count = 0;
      }
      const out = memory.ring[memory.count]!;
      memory.ring[memory.count] = x;
      memory.count = memory.count + 1 === node.ticks ? 0 : memory.count + 1;
      return out;
    }
  }
}

/** Takes a new value over once it has been the same for so many ticks. */
function settled(memory: Memory, x: bigint, ticks: number): bigint {
  if (x === memory.value) {
    memory.candidate = x;
    memory.count = 0;
  } else if (ticks === 0) {
    memory.value = x;
    memory.candidate = x;
  } else if (x !== memory.candidate) {
    memory.candidate = x;
    memory.count = 0;
  } else {
    memory.count += 1;
    if (memory.count >= ticks) {
      memory.value = x;
      memory.count = 0;
    }
  }
  return memory.value;
}
