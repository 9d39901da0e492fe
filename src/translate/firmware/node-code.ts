import type { RawSpan } from '../domain/value-domain.ts';
import { divideHalfAway } from '../program/segments.ts';
import { type Node, type Segment, SMOOTH_ONE } from '../program/types.ts';
import { C_TYPE, double, integer } from './numbers.ts';
import { searchCode, stretchesOf } from './search-code.ts';
import { INT64_MOST, type SlotPlan, type SlotType, segmentType, typeSpan } from './slots.ts';

/** What the code of a node may look at and needs beside its own lines. */
export interface NodeContext {
  readonly slots: readonly SlotPlan[];
  readonly base: 'int32' | 'int64';
  /** The slot the node fills. */
  readonly slot: number;
  /** An expression for a pointer to the memory of this node, asked for only by nodes with memory. */
  memory(): string;
  /** An array of this node in the state; gives its name there. */
  ring(length: number): string;
  /** A constant table of this node; gives its name. */
  table(type: string, values: readonly string[]): string;
}

type Integers = Exclude<SlotType, 'double'>;

const x = (slot: number): string => `x${slot}`;
const s = (slot: number): string => `s${slot}`;

function typeOf({ slots }: NodeContext, slot: number): Integers {
  const { type } = slots[slot]!;
  return type === 'double' ? 'int64' : type;
}

/** `what`, an expression of one type, as an expression of another that holds its value. */
function as(to: Integers, from: Integers, what: string): string {
  if (to === from) return what;
  if (from === 'wide') {
    const whole = `xlc_int64_of((${what}).low)`;
    return to === 'int32' ? `(int32_t)${whole}` : whole;
  }
  if (to === 'wide') return `xlc_wide_of_int64(${what})`;
  return `(${C_TYPE[to]})(${what})`;
}

/** The statements of a node: they set its slot's value and status, both declared before. */
export function nodeCode(node: Node, context: NodeContext): string[] {
  const own = context.slot;
  switch (node.kind) {
    case 'segments':
      return guarded(node.from, own, segmentsCode(node, context));
    case 'table':
      return guarded(node.from, own, tableCode(node, context));
    case 'from-float':
      return guarded(node.from, own, [
        `    const double scaled = xlc_scaled(${x(node.from)}, ${double(node.factor)}, ${double(node.offset)});`,
        '',
        `    if (scaled <= ${double(Number(node.lo))}) {`,
        `        ${x(own)} = ${integer(typeOf(context, own), node.lo)};`,
        `    } else if (scaled >= ${double(Number(node.hi))}) {`,
        `        ${x(own)} = ${integer(typeOf(context, own), node.hi)};`,
        '    } else {',
        `        ${x(own)} = (${C_TYPE[typeOf(context, own)]})xlc_nearest(scaled);`,
        '    }',
      ]);
    case 'bands':
    case 'rate-limit':
    case 'smooth':
    case 'debounce':
    case 'delay':
      return memoryCode(node, context);
    case 'all-of':
    case 'any-of': {
      const deciding = node.kind === 'all-of' ? 0n : 1n;
      const type = typeOf(context, own);
      const settled = node.of.map(
        (slot) => `(${s(slot)} == XLC_VALID && ${x(slot)} == ${integer(typeOf(context, slot), deciding)})`,
      );
      return [
        `if (${settled.join(' || ')}) {`,
        `    ${x(own)} = ${integer(type, deciding)};`,
        `    ${s(own)} = XLC_VALID;`,
        '} else {',
        `    ${x(own)} = ${integer(type, 1n - deciding)};`,
        `    ${s(own)} = ${firstMissing(node.of)};`,
        '}',
      ];
    }
    case 'highest':
    case 'lowest':
    case 'sum':
    case 'difference': {
      const [first = 0, ...rest] = node.of;
      const type = typeOf(context, own);
      const value = (slot: number): string => as(type, typeOf(context, slot), x(slot));
      const folded = rest.map((slot) => {
        switch (node.kind) {
          case 'highest':
            return `    ${x(own)} = ${x(own)} >= ${value(slot)} ? ${x(own)} : ${value(slot)};`;
          case 'lowest':
            return `    ${x(own)} = ${x(own)} <= ${value(slot)} ? ${x(own)} : ${value(slot)};`;
          case 'sum':
            return `    ${x(own)} += ${value(slot)};`;
          case 'difference':
            return `    ${x(own)} -= ${value(slot)};`;
        }
      });
      return [
        `${s(own)} = ${firstMissing(node.of)};`,
        `if (${s(own)} == XLC_VALID) {`,
        `    ${x(own)} = ${value(first)};`,
        ...folded,
        '}',
      ];
    }
    case 'first-valid':
      return [
        ...node.of.flatMap((slot, index) => [
          `${index === 0 ? '' : '} else '}if (${s(slot)} == XLC_VALID) {`,
          `    ${x(own)} = ${as(typeOf(context, own), typeOf(context, slot), x(slot))};`,
          `    ${s(own)} = XLC_VALID;`,
        ]),
        '} else {',
        `    ${s(own)} = ${s(node.of[0]!)};`,
        '}',
      ];
    case 'choose':
      return guarded(node.selector, own, [
        ...node.cases.flatMap((result, index) => [
          `    ${index === 0 ? '' : '} else '}if (${x(node.selector)} == ${integer(typeOf(context, node.selector), BigInt(index))}) {`,
          ...('slot' in result
            ? [
                `        ${x(own)} = ${as(typeOf(context, own), typeOf(context, result.slot), x(result.slot))};`,
                `        ${s(own)} = ${s(result.slot)};`,
              ]
            : [`        ${x(own)} = ${integer(typeOf(context, own), result.value)};`]),
        ]),
        ...(node.cases.length === 0
          ? [`    ${s(own)} = XLC_NOT_AVAILABLE;`]
          : ['    } else {', `        ${s(own)} = XLC_NOT_AVAILABLE;`, '    }']),
      ]);
  }
}

/** The status of an input is passed on; with a value in it the statements run. */
function guarded(from: number, own: number, lines: readonly string[]): string[] {
  return [`${s(own)} = ${s(from)};`, `if (${s(own)} == XLC_VALID) {`, ...lines, '}'];
}

function firstMissing(of: readonly number[]): string {
  const [first = 0, ...rest] = of;
  return rest.length === 0 ? s(first) : `${s(first)} != XLC_VALID ? ${s(first)} : ${firstMissing(rest)}`;
}

function reach({ slots }: NodeContext, slot: number): RawSpan {
  const { type, span } = slots[slot]!;
  return span ?? typeSpan(type);
}

function atMost(context: NodeContext, slot: number): (bound: bigint) => string {
  const type = typeOf(context, slot);
  return (bound) =>
    type === 'wide'
      ? `xlc_wide_at_most(${x(slot)}, ${integer('wide', bound)})`
      : `${x(slot)} <= ${integer(type, bound)}`;
}

function segmentsCode({ from, segments }: Extract<Node, { kind: 'segments' }>, context: NodeContext): string[] {
  const own = context.slot;
  const stretches = stretchesOf<Segment | null>(
    segments.map((segment) => ({ ...segment, leaf: segment })),
    null,
    reach(context, from),
    (a, b) => a === b,
  );
  return searchCode(
    stretches,
    atMost(context, from),
    (segment) =>
      segment === null
        ? [`${s(own)} = XLC_NOT_AVAILABLE;`]
        : [`${x(own)} = ${segmentExpression(segment, from, context)};`],
    '    ',
  );
}

/** (a·x + b) / (c·x + d), rounded. */
function segmentExpression(segment: Segment, from: number, context: NodeContext): string {
  const own = typeOf(context, context.slot);
  const { a, b, c, d } = segment;
  if (a === 0n && c === 0n) return integer(own, divideHalfAway(b, d));
  const type = segmentType(segment, context.base);
  const input = as(type, typeOf(context, from), x(from));
  if (type === 'wide') {
    const sum = wideLine(input, a, b);
    return as(own, 'wide', c === 0n && d === 1n ? sum : `xlc_wide_divide(${sum}, ${wideLine(input, c, d)})`);
  }
  const n = line(type, input, a, b);
  if (c === 0n && d === 1n) return as(own, type, n);
  return as(own, type, `xlc_divide${type === 'int32' ? 32 : 64}(${n}, ${line(type, input, c, d)})`);
}

function line(type: 'int32' | 'int64', input: string, a: bigint, b: bigint): string {
  if (a === 0n) return integer(type, b);
  const product = a === 1n ? input : a === -1n ? `-${input}` : `${integer(type, a)} * ${input}`;
  if (b === 0n) return product;
  return b > 0n ? `${product} + ${integer(type, b)}` : `${product} - ${integer(type, -b)}`;
}

function wideLine(input: string, a: bigint, b: bigint): string {
  if (a === 0n) return integer('wide', b);
  const product = a === 1n ? input : `xlc_wide_multiply(${integer('wide', a)}, ${input})`;
  return b === 0n ? product : `xlc_wide_add(${product}, ${integer('wide', b)})`;
}

function tableCode({ from, ranges, gap }: Extract<Node, { kind: 'table' }>, context: NodeContext): string[] {
  const own = context.slot;
  const type = typeOf(context, own);
  const stretches = stretchesOf<bigint | null>(
    ranges.map(({ lo, hi, out }) => ({ lo, hi, leaf: out })),
    gap,
    reach(context, from),
    (a, b) => a === b,
  );
  return searchCode(
    stretches,
    atMost(context, from),
    (out) => [out === null ? `${s(own)} = XLC_NOT_AVAILABLE;` : `${x(own)} = ${integer(type, out)};`],
    '    ',
  );
}

type MemoryNode = Extract<Node, { kind: 'bands' | 'rate-limit' | 'smooth' | 'debounce' | 'delay' }>;

function memoryCode(node: MemoryNode, context: NodeContext): string[] {
  const { slot } = context;
  const memory = context.memory();
  const result = as(typeOf(context, slot), 'int64', memoryCall(node, context, memory));
  return [
    ...guarded(node.from, slot, [`    ${x(slot)} = ${result};`]).slice(0, -1),
    '} else {',
    `    (${memory})->started = false;`,
    '}',
  ];
}

function memoryCall(node: MemoryNode, context: NodeContext, memory: string): string {
  const input = as('int64', typeOf(context, node.from), x(node.from));
  const limit = (change: bigint | null): string =>
    change === null || change > INT64_MOST ? 'INT64_MAX' : integer('int64', change);
  switch (node.kind) {
    case 'bands': {
      const up = context.table(
        'int64_t',
        node.up.map((n) => integer('int64', n)),
      );
      const down = context.table(
        'int64_t',
        node.down.map((n) => integer('int64', n)),
      );
      return `xlc_bands(${memory}, ${input}, ${up}, ${down}, ${node.up.length}u, ${node.dwellTicks}u)`;
    }
    case 'rate-limit':
      return `xlc_rate_limit(${memory}, ${input}, ${integer('int64', node.finer)}, ${limit(node.rise)}, ${limit(node.fall)})`;
    case 'smooth':
      if (node.alpha > SMOOTH_ONE) throw new RangeError('the weight of a filter is above one');
      return `xlc_smooth(${memory}, ${input}, ${integer('int64', 1n << BigInt(node.shift))}, ${integer('int64', node.alpha)})`;
    case 'debounce':
      return `xlc_debounce(${memory}, ${input}, ${node.ticks}u)`;
    case 'delay':
      return `xlc_delay(${memory}, ${context.ring(node.ticks)}, ${node.ticks}u, ${input})`;
  }
}
