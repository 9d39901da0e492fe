import { formatDecimal } from '../../number/index.ts';
import { proveRoute, type CompiledRoute, type Node, type RouteProgram, type Segment } from '../../translate/index.ts';
import { rawText } from './fields.ts';

/** The integers that a route reads, works with and writes, line by line: `s1` the first source, `n1` the first result. */
export function integerLines({ program }: CompiledRoute): readonly string[] {
  const names = slotNames(program);
  return [
    ...program.sources.map((source, at) => `${names[at]!} = ${sourceText(source)}`),
    ...program.nodes.flatMap((node, at) =>
      nodeLines(names[program.sources.length + at]!, node, names, program.periodMs),
    ),
    `${outputText(program)} = ${names[program.result]!}${avoidText(program)}`,
  ];
}

function slotNames({ sources, nodes }: RouteProgram): readonly string[] {
  return [...sources.map((_, at) => `s${at + 1}`), ...nodes.map((_, at) => `n${at + 1}`)];
}

function sourceText(source: RouteProgram['sources'][number]): string {
  switch (source.kind) {
    case 'field': {
      const specials = source.specials.map(({ raw, status }) => `${raw} ${status === 2 ? 'error' : 'not available'}`);
      return `the ${source.number} raw value${specials.length === 0 ? '' : `; no value: ${specials.join(', ')}`}`;
    }
    case 'float':
      return `the ${source.number} value; no value when it is not a number`;
    case 'switched-wire':
      return '1 active, 0 inactive';
    case 'measured-wire':
      return `thousandths of ${source.of}`;
  }
}

function outputText({ output }: RouteProgram): string {
  switch (output.kind) {
    case 'field':
      return 'raw value written';
    case 'float-field':
      return 'float written';
    case 'switched-wire':
      return 'level written, 1 active';
    case 'measured-wire':
      return `thousandths of ${output.of} written`;
  }
}

function avoidText({ output }: RouteProgram): string {
  if (output.kind === 'float-field')
    return ` · ${output.factor} + ${output.offset}, kept within ${output.lo} … ${output.hi}`;
  if (output.kind !== 'field' || output.avoid.length === 0) return '';
  return `; ${output.avoid.join(', ')} become the next value below that is none of them`;
}

/** What one node does. `div` rounds to the nearest integer, halves away from zero. */
function nodeLines(name: string, node: Node, names: readonly string[], periodMs: number): readonly string[] {
  const of = (slot: number): string => names[slot] ?? '?';
  const list = (slots: readonly number[]): string => slots.map(of).join(', ');
  switch (node.kind) {
    case 'segments':
      return node.segments.map(
        (segment) => `${name} = ${segmentText(segment, of(node.from))}   for ${spanText(segment, of(node.from))}`,
      );
    case 'table': {
      const x = of(node.from);
      const rows = node.ranges.map(
        ({ lo, hi, out }) => `${name} = ${out ?? 'no value'}   for ${spanText({ lo, hi }, x)}`,
      );
      return [...rows, `${name} = ${node.gap ?? 'no value'}   for every other ${x}`];
    }
    case 'from-float':
      return [
        `${name} = round(${of(node.from)} · ${node.factor} + ${node.offset}), kept within ${node.lo} … ${node.hi}`,
      ];
    case 'bands':
      return [
        `${name} = band of ${of(node.from)}: up at ${node.up.join(', ')}; down below ${node.down.join(', ')}${node.dwellTicks === 0 ? '' : `; after ${ticks(node.dwellTicks, periodMs)} in it`}`,
      ];
    case 'rate-limit':
      return [
        `${name} = ${node.finer === 1n ? '' : `${node.finer} · `}${of(node.from)}, at most ${node.rise ?? 'any'} up and ${node.fall ?? 'any'} down in a tick of ${periodMs} ms`,
      ];
    case 'smooth':
      return [
        `${name} += round((${of(node.from)} · 2^${node.shift} − ${name}) · ${node.alpha} / 2^24) in a tick of ${periodMs} ms, at least 1 towards it; starts at the first input`,
      ];
    case 'debounce':
      return [`${name} = ${of(node.from)} once it has stayed for ${ticks(node.ticks, periodMs)}`];
    case 'delay':
      return [`${name} = ${of(node.from)} as it was ${ticks(node.ticks, periodMs)} ago`];
    case 'all-of':
      return [`${name} = 1 if all of ${list(node.of)} are 1; 0 if one is 0; else no value`];
    case 'any-of':
      return [`${name} = 1 if any of ${list(node.of)} is 1; else no value if one has none; else 0`];
    case 'highest':
    case 'lowest':
    case 'sum':
    case 'difference':
      return [`${name} = ${node.kind} of ${list(node.of)}`];
    case 'first-valid':
      return [`${name} = first of ${list(node.of)} that has a value`];
    case 'choose':
      return node.cases.map(
        (one, at) => `${name} = ${'slot' in one ? of(one.slot) : one.value}   for ${of(node.selector)} = ${at}`,
      );
  }
}

function spanText({ lo, hi }: { readonly lo: bigint; readonly hi: bigint }, x: string): string {
  return lo === hi ? `${x} = ${lo}` : `${x} from ${lo} to ${hi}`;
}

function ticks(count: number, periodMs: number): string {
  return `${count} ${count === 1 ? 'tick' : 'ticks'} of ${periodMs} ms`;
}

function segmentText({ a, b, c, d }: Segment, x: string): string {
  if (a === 0n && c === 0n) return d === 1n ? `${b}` : `${b} div ${d}`;
  const upper = sum(a, x, b);
  if (c === 0n) return d === 1n ? upper : `${bracketed(upper)} div ${d}`;
  return `${bracketed(upper)} div ${bracketed(sum(c, x, d))}`;
}

function sum(factor: bigint, x: string, offset: bigint): string {
  const product =
    factor === 0n ? '' : factor === 1n ? x : factor === -1n ? `−${x}` : `${factor} · ${x}`.replace('-', '−');
  if (product === '') return `${offset}`;
  if (offset === 0n) return product;
  return offset > 0n ? `${product} + ${offset}` : `${product} − ${-offset}`;
}

function bracketed(text: string): string {
  return /[ ]/.test(text) ? `(${text})` : text;
}

/** What is proved of the integer form, in one sentence. */
export function proofText(compiled: CompiledRoute): string {
  const proof = proveRoute(compiled);
  const width =
    proof.widthBits === null
      ? 'needs more than 64 bits on the way'
      : `no intermediate overflows signed ${proof.widthBits} bit`;
  const error =
    proof.worstErrorSteps === null
      ? null
      : `differs from the exact result by at most ${formatDecimal(proof.worstErrorSteps, { maxSignificant: 6 })} of a target step${proof.worstAt === null || proof.worstErrorSteps.num === 0n ? '' : ` (at raw ${proof.worstAt})`}`;
  if (!proof.holds) return `NOT PROVED: the integer form differs from the exact chain; do not use it. ${width}.`;
  switch (proof.method) {
    case 'exhaustive':
      return `Proved over all ${proof.checkedRaws} raw values: ${error ?? 'exact'}; ${width}.`;
    case 'ends':
      return `Proved at the ends of every segment, both sides monotone between: ${error ?? 'exact'}; ${width}.`;
    case 'table':
      return `A look-up, exact by its nature; ${width}.`;
    case 'working':
      return `Passes through memory, several sources or floats${workingText(compiled)}; ${width}.`;
  }
}

function workingText({ program }: CompiledRoute): string {
  const counts = [...new Set(program.working.filter(({ exact }) => !exact).map(({ count }) => count))];
  return counts.length === 0 ? ', without rounding on the way' : `, kept on the way to counts of ${counts.join(', ')}`;
}

/** What the interface module writes when a route has no value, in raw values of its output. */
export function lossEntries({ loss, program }: CompiledRoute): string {
  const field = program.output.kind === 'field';
  const said = [
    ...(loss.notAvailable === null || !field ? [] : [`not available ${rawText(loss.notAvailable)}`]),
    ...(loss.error === null || !field || loss.error === loss.notAvailable ? [] : [`error ${rawText(loss.error)}`]),
    `on loss ${actionText(loss.onLoss, field)}`,
    `before the first sample ${actionText(loss.atStart, field)}`,
  ];
  return said.join('; ');
}

/** One action in words, its raw value where it writes one. */
export function actionText(action: CompiledRoute['loss']['onLoss'], field: boolean): string {
  switch (action.kind) {
    case 'hold':
      return action.forMs === null
        ? 'the last value, without end'
        : `the last value for ${action.forMs} ms, then ${actionText(action.then, field)}`;
    case 'write':
      return field && typeof action.raw === 'bigint' ? `raw ${rawText(action.raw)}` : `${action.raw}`;
    case 'stop':
      return 'nothing: not sent, or the output open';
  }
}
