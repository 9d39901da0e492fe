import { rawRange } from '../../can/index.ts';
import type { RawSpan } from '../domain/value-domain.ts';
import { greatestIntermediate, outputSpan } from '../program/segments.ts';
import { MEASURED, type Node, type RouteProgram } from '../program/types.ts';
import { slotSizes, widthOf } from '../program/widths.ts';

/** How a slot is held in C. */
export type SlotType = 'int32' | 'int64' | 'wide' | 'double';

export interface SlotPlan {
  readonly type: SlotType;
  /** Every integer of the slot lies within; null: known by its type alone. */
  readonly span: RawSpan | null;
  /** The slot is looked at on the way to the result. */
  readonly used: boolean;
}

export const INT32_MOST = 2n ** 31n - 1n;
export const INT64_MOST = 2n ** 63n - 1n;
const WIDE_SLOT_MOST = 2n ** 64n - 1n;
const WIDE_MOST = 2n ** 126n;

/** A route that cannot be put into C, with the reason; thrown by the writers, caught where the module is planned. */
export class Inexpressible extends Error {}

/** A type for every slot of a program. @throws Inexpressible where its integers do not fit what the C source can do. */
export function slotPlans(program: RouteProgram): readonly SlotPlan[] {
  const base: SlotType = widthOf(program) === 32 ? 'int32' : 'int64';
  const used = usedSlots(program);
  const count = program.sources.length;
  const sizes = slotSizes(program);
  const plans = sizes.map(({ result, within }, slot): SlotPlan => {
    const source = program.sources[slot];
    const node = program.nodes[slot - count];
    const span = source !== undefined ? sourceSpan(source) : node !== undefined ? nodeSpan(node) : null;
    if (source?.kind === 'float') return { type: 'double', span: null, used: used.has(slot) };
    if (result > WIDE_SLOT_MOST) throw new Inexpressible('one of its values has more than 64 bits');
    if (within > WIDE_MOST) throw new Inexpressible('its arithmetic needs more than 127 bits');
    return { type: result > INT64_MOST ? 'wide' : base, span, used: used.has(slot) };
  });
  program.nodes.forEach((node, index) => {
    if (used.has(count + index)) refuseWide(node, sizes[count + index]!.within, plans, plans[count + index]!);
  });
  return plans;
}

/** Only straight arithmetic and tables work beyond 64 bits. */
function refuseWide(node: Node, within: bigint, plans: readonly SlotPlan[], own: SlotPlan): void {
  if (node.kind === 'segments' || node.kind === 'table') return;
  const wide = own.type === 'wide' || inputsOf(node).some((slot) => plans[slot]!.type === 'wide');
  if (wide || within > INT64_MOST) throw new Inexpressible(`the step it compiles to (${node.kind}) needs over 64 bits`);
  if (node.kind === 'from-float' && (node.hi > INT64_MOST || node.lo < -INT64_MOST))
    throw new Inexpressible('a float would be written into all 64 bits of a field');
}

/** The slots a node looks at. */
export function inputsOf(node: Node): readonly number[] {
  if ('from' in node) return [node.from];
  if ('of' in node) return node.of;
  return [node.selector, ...node.cases.flatMap((result) => ('slot' in result ? [result.slot] : []))];
}

function usedSlots({ sources, nodes, result }: RouteProgram): ReadonlySet<number> {
  const used = new Set([result]);
  for (let index = nodes.length - 1; index >= 0; index -= 1) {
    if (used.has(sources.length + index)) for (const slot of inputsOf(nodes[index]!)) used.add(slot);
  }
  return used;
}

function sourceSpan(source: RouteProgram['sources'][number]): RawSpan | null {
  switch (source.kind) {
    case 'field':
      return rawRange(source.number, source.bits.length);
    case 'switched-wire':
      return { lo: 0n, hi: 1n };
    case 'measured-wire':
      return MEASURED;
    case 'float':
      return null;
  }
}

function nodeSpan(node: Node): RawSpan | null {
  switch (node.kind) {
    case 'segments':
      return outputSpan(node.segments);
    case 'table': {
      const outs = node.ranges.flatMap(({ out }) => (out === null ? [] : [out]));
      return ends(node.gap === null ? outs : [...outs, node.gap]);
    }
    case 'from-float':
      return { lo: node.lo, hi: node.hi };
    case 'bands':
      return { lo: 0n, hi: BigInt(node.up.length) };
    case 'all-of':
    case 'any-of':
      return { lo: 0n, hi: 1n };
    default:
      return null;
  }
}

function ends(values: readonly bigint[]): RawSpan | null {
  let [lo] = values;
  if (lo === undefined) return null;
  let hi = lo;
  for (const value of values) {
    if (value < lo) lo = value;
    if (value > hi) hi = value;
  }
  return { lo, hi };
}

/** The span that a slot's type holds. */
export function typeSpan(type: SlotType): RawSpan {
  const most = type === 'int32' ? INT32_MOST : type === 'int64' ? INT64_MOST : 2n ** 64n;
  return { lo: -most, hi: most };
}

/** The type in which one segment can be worked out. */
export function segmentType(
  segment: Parameters<typeof greatestIntermediate>[0][number],
  base: 'int32' | 'int64',
): Exclude<SlotType, 'double'> {
  const most = greatestIntermediate([segment]);
  if (most <= (base === 'int32' ? INT32_MOST : INT64_MOST)) return base;
  return 'wide';
}
