import type { SideName } from '../../model/index.ts';
import { rawRange } from '../../can/index.ts';
import type { SourceGroup } from '../plan/types.ts';
import { type ModuleContext, sideOf } from './context.ts';
import { readBits, wordType } from './field-code.ts';
import { indented } from './lines.ts';
import { comment } from './names.ts';
import { integer, unsigned64 } from './numbers.ts';
import { coveredTable, verifyCode } from './protection-code.ts';
import { rawExpression } from './route-code.ts';

/** What takes the frames of one side: a function a message, and `PREFIX_SIDE_on_frame` that finds it. */
export function receiveCode(context: ModuleContext, side: SideName): string[] {
  const { plan, prefix } = context;
  const own = plan.received.flatMap(({ ref }, position) => (sideOf(ref) === side ? [position] : []));
  if (own.length === 0) return [];
  return [
    ...own.flatMap((position) => messageCode(context, position)),
    `void ${prefix}_${side}_on_frame(uint8_t bus, uint32_t key, const uint8_t *data, uint8_t length, uint64_t now_us)`,
    '{',
    ...[...new Set(own.map((position) => busOf(context, position)))].flatMap((bus, at) =>
      [
        `${at === 0 ? '' : '} else '}if (bus == ${bus}) {`,
        '    switch (key) {',
        ...casesOf(
          context,
          own.filter((position) => busOf(context, position) === bus),
        ).map(indented),
        '    default:',
        '        break;',
        '    }',
      ].map(indented),
    ),
    '    }',
    '}',
    '',
  ];
}

/** The constant of the bus on which a message comes in. */
function busOf({ plan, busConstants }: ModuleContext, position: number): string {
  return busConstants.get(plan.received[position]!.bus)!;
}

/** Messages of one bus by frame id; several of one id one after another. */
function casesOf({ plan, prefix }: ModuleContext, positions: readonly number[]): string[] {
  const byKey = new Map<number, number[]>();
  for (const position of positions) {
    const { frameId, extended } = plan.received[position]!;
    const key = frameId + (extended ? 2 ** 31 : 0);
    const known = byKey.get(key);
    if (known) known.push(position);
    else byKey.set(key, [position]);
  }
  return [...byKey].flatMap(([key, list]) => [
    `case UINT32_C(0x${key.toString(16).toUpperCase()}):`,
    ...list.map((position) => `    ${prefix}_receive_${position}(data, length, now_us);`),
    '    break;',
  ]);
}

function messageCode(context: ModuleContext, position: number): string[] {
  const { plan, prefix } = context;
  const { ref, groups, forwards, triggers } = plan.received[position]!;
  const body = [
    ...groups.flatMap((index) => {
      const group = plan.groups[index]!;
      const long = group.needsBytes > 0 ? [`length >= ${group.needsBytes}u`] : [];
      const tests = [...long, ...(isTested(group) ? [`${prefix}_accepts_${index}(data)`] : [])];
      return [
        ...(tests.length === 0 ? ['{'] : [`if (${tests.join(' && ')}) {`]),
        `    xlc_source_take(&${prefix}_state.source[${index}], &${prefix}_source_rule[${index}], now_us);`,
        ...(group.needsBytes > 0 ? [`    memcpy(${prefix}_state.payload_${index}, data, ${group.needsBytes}u);`] : []),
        '}',
      ];
    }),
    ...forwards.map((transmit) => `${prefix}_emit(${transmit}u, data, length, now_us);`),
    ...triggers.map((transmit) => `${prefix}_turn_${transmit}(now_us);`),
  ];
  const text = body.join('\n');
  return [
    ...groups.flatMap((index) => groupCode(context, index)),
    ...comment(`Message ${ref} has come in.`),
    `static void ${prefix}_receive_${position}(const uint8_t *data, uint8_t length, uint64_t now_us)`,
    '{',
    ...body.map(indented),
    ...['data', 'length', 'now_us'].filter((name) => !text.includes(name)).map((name) => `    (void)${name};`),
    '}',
    '',
  ];
}

function isTested({ selectors, verify }: SourceGroup): boolean {
  return selectors.length > 0 || verify !== null;
}

/** The members a group needs, and the test a frame must pass to be a sample of it. */
function groupCode(context: ModuleContext, index: number): string[] {
  const { plan, prefix, state } = context;
  const group = plan.groups[index]!;
  state.push(`uint8_t payload_${index}[${Math.max(1, group.needsBytes)}];`);
  if (!isTested(group)) return [];
  const { verify } = group;
  if (verify?.counter) state.push(`uint32_t count_${index};`, `bool counted_${index};`);
  const table = `${prefix}_covered_${index}`;
  const body = [
    ...(verify === null
      ? []
      : verifyCode(verify, table, {
          count: `${prefix}_state.count_${index}`,
          counted: `${prefix}_state.counted_${index}`,
        })),
    ...group.selectors.flatMap((selector, at) => selectorCode(selector, at)),
    'return true;',
  ];
  return [
    ...(verify?.checksum ? coveredTable(table, verify.checksum) : []),
    `static bool ${prefix}_accepts_${index}(const uint8_t *data)`,
    '{',
    ...body.map(indented),
    ...(body.some((line) => line.includes('data')) ? [] : ['    (void)data;']),
    '}',
    '',
  ];
}

/** Returns false for a frame of another page. */
function selectorCode({ bits, signed, on }: SourceGroup['selectors'][number], at: number): string[] {
  const name = `selector_${at}`;
  const number = signed ? 'signed' : 'unsigned';
  const { lo, hi } = rawRange(number, bits.length);
  const constant = (n: bigint): string => (signed ? integer('int64', n) : unsigned64(n));
  const tests = on.flatMap(([first, last]) => {
    if (last < lo || first > hi || first > last) return [];
    const below = first <= lo;
    const above = last >= hi;
    if (below && above) return ['true'];
    if (first === last) return [`${name} == ${constant(first)}`];
    if (below) return [`${name} <= ${constant(last)}`];
    if (above) return [`${name} >= ${constant(first)}`];
    return [`(${name} >= ${constant(first)} && ${name} <= ${constant(last)})`];
  });
  if (tests.includes('true')) return [];
  if (tests.length === 0) return ['return false;'];
  const raw = readBits(bits, 'data');
  const value = !signed
    ? `const ${wordType(bits)} ${name} = ${raw};`
    : `const int64_t ${name} = ${bits.length === 64 ? `xlc_int64_of(${raw})` : rawExpression({ number, bits }, 'int64', raw)};`;
  return [value, `if (!(${tests.join(' || ')})) {`, '    return false;', '}'];
}
