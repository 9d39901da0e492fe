import { routeSentence } from '../describe/sentence.ts';
import type { PlannedRoute } from '../plan/types.ts';
import type { LossAction } from '../program/loss-plan.ts';
import { ERROR, type Output, type SourceRead } from '../program/types.ts';
import { rawRange } from '../../can/index.ts';
import { type ModuleContext, holds } from './context.ts';
import { readBits } from './field-code.ts';
import { indented } from './lines.ts';
import { comment } from './names.ts';
import { nodeCode } from './node-code.ts';
import { C_TYPE, double, floatBits, integer, unsigned64 } from './numbers.ts';
import { Inexpressible, type SlotPlan } from './slots.ts';

/**
 * The functions and tables of one route: `PREFIX_value_N` gives its value now, `PREFIX_loss_N` says what is written without one; a
 * route with memory also has `PREFIX_step_N`, to be called once a tick.
 */
export function routeCode(context: ModuleContext, index: number): string[] {
  const { plan, prefix } = context;
  const route = plan.routes[index]!;
  const slots = context.slots[index]!;
  const { program, analysis } = route.compiled;
  const tables: string[] = [];
  let nodes = 0;
  const base = slots.some(({ type }) => type === 'int64' || type === 'wide') ? 'int64' : 'int32';
  const body = [
    ...route.sources.flatMap((_, slot) => (slots[slot]!.used ? sourceCode(context, route, slot, slots[slot]!) : [])),
    ...program.nodes.flatMap((node, at) => {
      const slot = program.sources.length + at;
      if (!slots[slot]!.used) return [];
      const memory = `memory_${index}_${at}`;
      return nodeCode(node, {
        slots,
        base,
        slot,
        memory: () => {
          context.state.push(`xlc_memory ${memory};`);
          return `&${prefix}_state.${memory}`;
        },
        ring: (length) => {
          context.state.push(`int64_t ring_${index}_${at}[${length}];`);
          return `${prefix}_state.ring_${index}_${at}`;
        },
        table: (type, values) => {
          const name = `${prefix}_table_${index}_${(nodes += 1)}`;
          tables.push(`static const ${type} ${name}[] = {${values.length === 0 ? '0' : values.join(', ')}};`);
          return name;
        },
      });
    }),
  ];
  const { result } = program;
  const end = outputCode(program.output, result, slots[result]!);
  if (
    slots.some(({ type, used }) => used && type === 'wide') ||
    [...body, ...end].some((line) => /xlc_wide/.test(line))
  )
    context.needs.add('wide');
  if (program.output.kind === 'float-field' || program.sources.some(({ kind }) => kind === 'float'))
    context.needs.add('float');
  const declared = slots.flatMap(({ type, used }, slot) =>
    used ? [`${C_TYPE[type]} x${slot}${type === 'wide' ? ' = {0u, 0u}' : type === 'double' ? ' = 0.0' : ' = 0'};`] : [],
  );
  const states = slots.flatMap(({ used }, slot) => (used ? [`xlc_status s${slot};`] : []));
  const text = [...body, ...end].join('\n');
  const ignored = slots.flatMap(({ used }, slot) =>
    used && !new RegExp(`\\bx${slot}\\b(?! = )`).test(text) ? [`(void)x${slot};`] : [],
  );
  if (holds(route)) context.state.push(`xlc_hold hold_${index};`);
  return [
    ...comment(`Route ${route.route.id}. ${routeSentence(analysis)}`),
    ...tables,
    `static xlc_status ${prefix}_${route.everyTick ? 'work' : 'value'}_${index}(uint64_t *raw)`,
    '{',
    ...[...declared, ...states, '', ...body, ...end, ...ignored, `return s${result};`].map(indented),
    '}',
    '',
    ...(route.everyTick ? steppedCode(context, index) : []),
    `static const xlc_loss ${prefix}_loss_${index} = ${lossText(route)};`,
    '',
  ];
}

/** A route with memory moves on once a tick; in between it keeps what it gave. */
function steppedCode({ prefix, state, reset }: ModuleContext, index: number): string[] {
  state.push(`uint64_t stepped_${index};`, `xlc_status stepped_status_${index};`);
  reset.push(`${prefix}_state.stepped_status_${index} = XLC_NEVER;`);
  return [
    `static void ${prefix}_step_${index}(void)`,
    '{',
    `    ${prefix}_state.stepped_status_${index} = ${prefix}_work_${index}(&${prefix}_state.stepped_${index});`,
    '}',
    '',
    `static xlc_status ${prefix}_value_${index}(uint64_t *raw)`,
    '{',
    `    *raw = ${prefix}_state.stepped_${index};`,
    `    return ${prefix}_state.stepped_status_${index};`,
    '}',
    '',
  ];
}

function sourceCode({ prefix }: ModuleContext, route: PlannedRoute, slot: number, plan: SlotPlan): string[] {
  const source = route.sources[slot]!;
  const read = route.compiled.program.sources[slot]!;
  if (source.kind === 'wire') {
    const level = `${prefix}_state.pin_level[${source.wire}]`;
    return [`s${slot} = ${prefix}_state.pin_status[${source.wire}];`, `x${slot} = ${level};`];
  }
  if (read.kind !== 'field' && read.kind !== 'float') return [`s${slot} = XLC_ERROR;`];
  const bits = readBits(read.bits, `${prefix}_state.payload_${source.group}`);
  return [
    `s${slot} = ${prefix}_state.source[${source.group}].missing;`,
    `if (s${slot} == XLC_VALID) {`,
    ...(read.kind === 'float' ? floatRead(read, slot, bits) : fieldRead(read, slot, plan, bits)).map(indented),
    '}',
  ];
}

function floatRead({ number }: Extract<SourceRead, { kind: 'float' }>, slot: number, bits: string): string[] {
  return [
    `x${slot} = ${number === 'float32' ? 'xlc_single_of' : 'xlc_double_of'}(${bits});`,
    `if (!xlc_is_usable(x${slot})) {`,
    `    s${slot} = XLC_ERROR;`,
    '}',
  ];
}

function fieldRead(
  read: Extract<SourceRead, { kind: 'field' }>,
  slot: number,
  { type }: SlotPlan,
  bits: string,
): string[] {
  if (type === 'double') throw new RangeError('an integer field in a double');
  const { lo, hi } = rawRange(read.number, read.bits.length);
  const specials = new Map(read.specials.map(({ raw, status }) => [raw, status] as const));
  const lines = [`x${slot} = ${rawExpression(read, type, bits)};`];
  for (const [raw, status] of specials) {
    if (raw < lo || raw > hi) continue;
    const equal = type === 'wide' ? `x${slot}.low == ${unsigned64(raw)}` : `x${slot} == ${integer(type, raw)}`;
    lines.push(`${lines.length === 1 ? '' : '} else '}if (${equal}) {`);
    lines.push(`    s${slot} = ${status === ERROR ? 'XLC_ERROR' : 'XLC_NOT_AVAILABLE'};`);
  }
  return lines.length === 1 ? lines : [...lines, '}'];
}

/** The raw value of a field out of its bits, sign included. */
export function rawExpression(
  { number, bits: { length } }: { readonly number: 'unsigned' | 'signed'; readonly bits: { readonly length: number } },
  type: 'int32' | 'int64' | 'wide',
  bits: string,
): string {
  if (type === 'wide')
    return number === 'signed' ? `xlc_wide_of_int64(xlc_int64_of(${bits}))` : `xlc_wide_of(0u, ${bits})`;
  const target = C_TYPE[type];
  if (number === 'unsigned') return `(${target})(${bits})`;
  const half = 1n << BigInt(length - 1);
  const word = type === 'int32' ? `(${bits})` : `(uint64_t)(${bits})`;
  return `(${target})(${word} ^ ${type === 'int32' ? `UINT32_C(${half})` : unsigned64(half)}) - ${integer(type, half)}`;
}

function outputCode(output: Output, result: number, { type }: SlotPlan): string[] {
  const x = `x${result}`;
  if (output.kind === 'float-field') {
    if (type === 'wide') throw new Inexpressible('64 bits are written into a float');
    const value = type === 'double' ? x : `(double)${x}`;
    const scaled = `xlc_scaled(${value}, ${double(output.factor)}, ${double(output.offset)})`;
    const kept = `xlc_kept(${scaled}, ${double(output.lo)}, ${double(output.hi)})`;
    return [`*raw = ${output.number === 'float32' ? 'xlc_bits_of_single' : 'xlc_bits_of_double'}(${kept});`];
  }
  const lines = [`*raw = ${type === 'wide' ? `${x}.low` : `(uint64_t)${x}`};`];
  if (output.kind !== 'field') return lines;
  // Raw values that mean something else to the reader: the next one below that does not. From the greatest down.
  for (const raw of output.avoid.toReversed())
    lines.push(`if (*raw == ${unsigned64(raw)}) {`, `    *raw = ${unsigned64(raw - 1n)};`, '}');
  return lines;
}

/** What is written for a route without a value, as a constant. */
function lossText({ compiled: { loss, program } }: PlannedRoute): string {
  const raw = (value: bigint | number): string => {
    if (typeof value === 'bigint') return unsigned64(value);
    const { output } = program;
    return unsigned64(output.kind === 'float-field' ? floatBits(value, output.number) : BigInt(value));
  };
  const action = (what: LossAction): string => {
    const last = what.kind === 'hold' ? what.then : what;
    const ends = what.kind === 'hold' && what.forMs !== null;
    const forUs = what.kind === 'hold' && what.forMs !== null ? microseconds(what.forMs) : 0n;
    const writes = last.kind === 'write';
    return `{${what.kind === 'hold'}, ${ends}, ${unsigned64(forUs)}, ${writes}, ${writes ? raw(last.raw) : '0u'}}`;
  };
  return `{
    ${loss.notAvailable !== null}, ${loss.error !== null}, ${unsigned64(loss.notAvailable ?? 0n)}, ${unsigned64(loss.error ?? 0n)},
    ${action(loss.onLoss)},
    ${action(loss.atStart)},
}`;
}

function microseconds(ms: number): bigint {
  const us = Math.round(ms * 1000);
  return us < 2 ** 63 ? BigInt(us) : 2n ** 63n - 1n;
}

/**
 * Statements that set `written` and `raw`: the first of the routes that has a value, else what the first one does without. They
 * need `status`, `raw`, and `other` where there are several.
 */
export function outcomeCode(context: ModuleContext, routes: readonly number[]): string[] {
  const { prefix, plan } = context;
  const [first = 0, ...backups] = routes;
  const settle = (route: number, status: string): string => {
    const planned = plan.routes[route]!;
    const hold = holds(planned) ? `&${prefix}_state.hold_${route}` : 'NULL';
    const call = `xlc_settle(&${prefix}_loss_${route}, ${hold}, ${status}, now_us, &raw)`;
    return hold === 'NULL' ? `${status} == XLC_VALID || ${call}` : call;
  };
  const lines = [`status = ${prefix}_value_${first}(&raw);`];
  if (backups.length === 0) return [...lines, `written = ${settle(first, 'status')};`];
  backups.forEach((route, at) => {
    lines.push(
      `${at === 0 ? '' : '} else '}if (status != XLC_VALID && ${prefix}_value_${route}(&other) == XLC_VALID) {`,
      '    raw = other;',
      holds(plan.routes[route]!) ? `    written = ${settle(route, 'XLC_VALID')};` : '    written = true;',
    );
  });
  return [...lines, '} else {', `    written = ${settle(first, 'status')};`, '}'];
}
