import type { Page, PlannedTransmit } from '../plan/types.ts';
import type { ModuleContext } from './context.ts';
import { writeBits } from './field-code.ts';
import { comment } from './names.ts';
import { unsigned64 } from './numbers.ts';
import { coveredTable, firstCountOf, protectCode } from './protection-code.ts';
import { indented } from './lines.ts';
import { outcomeCode } from './route-code.ts';

/** A message that is made up: not one that is passed on as it comes. */
export function isMade({ copyOf }: PlannedTransmit): boolean {
  return copyOf === null;
}

/** The constant that holds the pages of a message before any route writes, with its sizes. */
export function baseName({ plan, prefix }: ModuleContext, index: number): string {
  const { pages, lengthBytes } = plan.transmits[index]!;
  return `${prefix}_base_${index}[${pages.length}][${Math.max(1, lengthBytes)}]`;
}

function remembers({ cadence }: PlannedTransmit): boolean {
  return cadence.kind === 'on-change' || cadence.kind === 'cyclic-and-on-change';
}

/**
 * One message that is sent: `PREFIX_turn_N` sends the page whose turn it is, `PREFIX_changed_N` the first page that differs from what
 * was last sent of it.
 */
export function transmitCode(context: ModuleContext, index: number): string[] {
  const { plan, prefix, state, reset } = context;
  const transmit = plan.transmits[index]!;
  const { pages, cadence, lengthBytes } = transmit;
  const bytes = Math.max(1, lengthBytes);
  const kept = `${prefix}_state.`;
  state.push(`uint8_t content_${index}[${pages.length}][${bytes}];`);
  reset.push(`memcpy(${kept}content_${index}, ${prefix}_base_${index}, sizeof ${kept}content_${index});`);
  if (pages.length > 1) state.push(`uint16_t turn_${index};`);
  if (remembers(transmit)) {
    state.push(
      `uint8_t sent_${index}[${pages.length}][${bytes}];`,
      `bool ever_sent_${index}[${pages.length}];`,
      `bool sent_before_${index};`,
      `uint64_t sent_us_${index};`,
    );
  }
  if (transmit.counter !== null) {
    state.push(`uint32_t next_count_${index};`);
    if (firstCountOf(transmit) !== 0) reset.push(`${kept}next_count_${index} = ${firstCountOf(transmit)}u;`);
  }
  const changes = remembers(transmit) ? changedCode(context, index) : [];
  return [
    ...comment(`Message ${transmit.ref} is sent.`),
    ...pages.flatMap((page, at) => fillCode(context, index, page, at)),
    ...fillAnyCode(context, index),
    ...sendCode(context, index),
    ...(cadence.kind === 'on-change' ? [] : turnCode(context, index)),
    ...changes,
  ];
}

/** Brings a page up to date; false when a route wants it not to be sent. */
function fillCode(context: ModuleContext, index: number, { fields }: Page, at: number): string[] {
  if (fields.length === 0) return [];
  const { plan, prefix } = context;
  const several = fields.some(({ routes }) => routes.length > 1);
  const body = fields.flatMap(({ routes }) => {
    const { output } = plan.routes[routes[0]!]!.compiled.program;
    const writes =
      output.kind === 'field' || output.kind === 'float-field' ? writeBits(output.bits, 'content', 'raw') : [];
    return [
      ...outcomeCode(context, routes),
      'if (written) {',
      ...writes.map(indented),
      '} else {',
      '    sent = false;',
      '}',
    ];
  });
  const text = body.join('\n');
  return [
    `static bool ${prefix}_fill_${index}_${at}(uint64_t now_us)`,
    '{',
    `    uint8_t *const content = ${prefix}_state.content_${index}[${at}];`,
    '    uint64_t raw = 0u;',
    ...(several ? ['    uint64_t other = 0u;'] : []),
    '    xlc_status status;',
    '    bool written;',
    '    bool sent = true;',
    '',
    ...body.map(indented),
    ...['content', 'now_us'].filter((name) => !text.includes(name)).map((name) => `    (void)${name};`),
    '    return sent;',
    '}',
    '',
  ];
}

/** The name of what fills a page given by number, with its argument. */
function fillCall({ plan, prefix }: ModuleContext, index: number, page: string): string {
  const { pages } = plan.transmits[index]!;
  if (pages.length > 1) return `${prefix}_fill_${index}(${page}, now_us)`;
  return pages[0]!.fields.length === 0 ? 'true' : `${prefix}_fill_${index}_0(now_us)`;
}

function fillAnyCode({ plan, prefix }: ModuleContext, index: number): string[] {
  const { pages } = plan.transmits[index]!;
  if (pages.length <= 1) return [];
  return [
    `static bool ${prefix}_fill_${index}(uint16_t page, uint64_t now_us)`,
    '{',
    '    switch (page) {',
    ...pages.flatMap(({ fields }, at) =>
      fields.length === 0 ? [] : [`    case ${at}u:`, `        return ${prefix}_fill_${index}_${at}(now_us);`],
    ),
    '    default:',
    '        (void)now_us;',
    '        return true;',
    '    }',
    '}',
    '',
  ];
}

function sendCode({ plan, prefix }: ModuleContext, index: number): string[] {
  const transmit = plan.transmits[index]!;
  const { lengthBytes, counter, checksum } = transmit;
  const kept = `${prefix}_state.`;
  const table = `${prefix}_covered_sent_${index}`;
  const bytes = Math.max(1, lengthBytes);
  const isProtected = counter !== null || checksum !== null;
  const body = [
    ...(remembers(transmit)
      ? [
          `${kept}sent_us_${index} = now_us;`,
          `${kept}sent_before_${index} = true;`,
          `${kept}ever_sent_${index}[page] = true;`,
          `memcpy(${kept}sent_${index}[page], content, sizeof ${kept}sent_${index}[page]);`,
        ]
      : []),
    ...(isProtected
      ? [
          `memcpy(sending, content, sizeof sending);`,
          ...protectCode(transmit, table, `${kept}next_count_${index}`),
          `${prefix}_emit(${index}u, sending, ${lengthBytes}u, now_us);`,
        ]
      : [`${prefix}_emit(${index}u, content, ${lengthBytes}u, now_us);`]),
  ];
  return [
    ...(checksum === null ? [] : coveredTable(table, checksum)),
    `static void ${prefix}_send_${index}(uint16_t page, uint64_t now_us)`,
    '{',
    `    const uint8_t *const content = ${kept}content_${index}[page];`,
    ...(isProtected ? [`    uint8_t sending[${bytes}];`] : []),
    ...(checksum === null ? [] : ['    uint64_t raw;']),
    '',
    ...body.map(indented),
    '}',
    '',
  ];
}

function turnCode(context: ModuleContext, index: number): string[] {
  const { plan, prefix } = context;
  const { pages } = plan.transmits[index]!;
  const turn = `${prefix}_state.turn_${index}`;
  const page = pages.length > 1 ? turn : '0u';
  const ready = fillCall(context, index, page);
  const send = [
    `${prefix}_send_${index}(${page}, now_us);`,
    ...(pages.length > 1 ? [`${turn} = (uint16_t)(${turn} + 1u == ${pages.length}u ? 0u : ${turn} + 1u);`] : []),
  ];
  return [
    `void ${prefix}_turn_${index}(uint64_t now_us)`,
    '{',
    ...(ready === 'true'
      ? send.map(indented)
      : [`    if (${ready}) {`, ...send.map((line) => `        ${line}`), '    }']),
    '}',
    '',
  ];
}

function changedCode(context: ModuleContext, index: number): string[] {
  const { plan, prefix } = context;
  const { pages, cadence } = plan.transmits[index]!;
  const gapUs = 'minGapUs' in cadence ? cadence.minGapUs : 0;
  const kept = `${prefix}_state.`;
  const gap =
    gapUs > 0
      ? [
          `if (${kept}sent_before_${index} && now_us - ${kept}sent_us_${index} < ${unsigned64(BigInt(gapUs))}) {`,
          '    return;',
          '}',
        ]
      : [];
  const differs = (page: string): string =>
    `(!${kept}ever_sent_${index}[${page}] || memcmp(${kept}content_${index}[${page}], ${kept}sent_${index}[${page}], sizeof ${kept}sent_${index}[${page}]) != 0)`;
  const test = (page: string): string => {
    const ready = fillCall(context, index, page);
    return ready === 'true' ? differs(page) : `${ready} && ${differs(page)}`;
  };
  const body =
    pages.length === 1
      ? [...gap, `if (${test('0u')}) {`, `    ${prefix}_send_${index}(0u, now_us);`, '}']
      : [
          'uint16_t step;',
          '',
          ...gap,
          `for (step = 0u; step < ${pages.length}u; step++) {`,
          `    const uint16_t page = (uint16_t)((${kept}turn_${index} + step) % ${pages.length}u);`,
          '',
          `    if (${test('page')}) {`,
          `        ${prefix}_send_${index}(page, now_us);`,
          `        ${kept}turn_${index} = (uint16_t)((page + 1u) % ${pages.length}u);`,
          '        return;',
          '    }',
          '}',
        ];
  return [`void ${prefix}_changed_${index}(uint64_t now_us)`, '{', ...body.map(indented), '}', ''];
}

/** Drives an output wire: tells only what changes. It starts open. */
export function driveCode(context: ModuleContext, index: number): string[] {
  const { plan, prefix, pinsOut, state } = context;
  const { ref, kind, routes } = plan.wiresOut[index]!;
  const kept = `${prefix}_state.`;
  state.push(`bool driven_${index};`, `uint64_t level_${index};`);
  const body = outcomeCode(context, routes);
  return [
    ...comment(
      `Wire ${ref} is driven${kind === 'switched' ? ': 1 active, 0 inactive' : ', in thousandths of its quantity'}.`,
    ),
    `void ${prefix}_drive_${index}(uint64_t now_us)`,
    '{',
    '    uint64_t raw = 0u;',
    ...(routes.length > 1 ? ['    uint64_t other = 0u;'] : []),
    '    xlc_status status;',
    '    bool written;',
    '',
    ...body.map(indented),
    '    if (!written) {',
    `        if (${kept}driven_${index}) {`,
    `            ${prefix}_port_drive(${pinsOut[index]!}, false, 0, now_us);`,
    '        }',
    `        ${kept}driven_${index} = false;`,
    `    } else if (!${kept}driven_${index} || raw != ${kept}level_${index}) {`,
    `        ${kept}driven_${index} = true;`,
    `        ${kept}level_${index} = raw;`,
    `        ${prefix}_port_drive(${pinsOut[index]!}, true, (int32_t)xlc_int64_of(raw), now_us);`,
    '    }',
    '}',
    '',
  ];
}
