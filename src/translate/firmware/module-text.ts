import type { ModuleContext } from './context.ts';
import { indented, text } from './lines.ts';
import { comment } from './names.ts';
import { unsigned64 } from './numbers.ts';
import { baseName, isMade } from './transmit-code.ts';
import { SIDES, type Shares, hasSteps } from './units.ts';

/** The unit of the module itself: its state, its start, who gets what, and the order of a tick. To be made after the others. */
export function moduleUnit(context: ModuleContext, shares: Shares): string {
  const { plan, prefix } = context;
  const { groups, transmits } = plan;
  const kept = `${prefix}_state.`;
  return text([
    `#include "${prefix}_internal.h"`,
    '',
    `${prefix}_state_t ${prefix}_state;`,
    '',
    ...(groups.length > 0
      ? [
          ...comment('Sources: how old they may be, and how many good samples bring them back.'),
          `const xlc_source_rule ${prefix}_source_rule[${groups.length}] = {`,
          ...groups.map(
            ({ staleUs, recoverAfter }) =>
              `    {${unsigned64(BigInt(staleUs ?? 0))}, ${staleUs !== null}, ${recoverAfter}u},`,
          ),
          '};',
          '',
        ]
      : []),
    ...transmits.flatMap((transmit, index) =>
      isMade(transmit)
        ? [
            ...comment(`${transmit.ref} before any route writes into it.`),
            `const uint8_t ${baseName(context, index)} = {`,
            ...transmit.pages.map(
              ({ base }) => `    {${base.length === 0 ? '0u' : [...base].map(hexByte).join(', ')}},`,
            ),
            '};',
            '',
          ]
        : [],
    ),
    ...emitCode(context),
    `void ${prefix}_init(uint64_t now_us)`,
    '{',
    `    memset(&${prefix}_state, 0, sizeof ${prefix}_state);`,
    `    ${kept}ready_us = now_us + ${context.constants}_START_US;`,
    ...groups.map((_, index) => `    ${kept}source[${index}].missing = XLC_NEVER;`),
    ...plan.wiresIn.map((_, index) => `    ${kept}pin_status[${index}] = XLC_NEVER;`),
    ...transmits.flatMap(({ cadence }, index) =>
      'cycleUs' in cadence
        ? [`    ${kept}due_us_${index} = ${kept}ready_us + ${unsigned64(BigInt(cadence.phaseUs))};`]
        : [],
    ),
    ...context.reset.map(indented),
    '}',
    '',
    ...entriesCode(context, shares),
    ...tickCode(context, shares),
  ]);
}

function hexByte(byte: number): string {
  return `0x${byte.toString(16).toUpperCase().padStart(2, '0')}u`;
}

function emitCode({ plan, prefix, busConstants }: ModuleContext): string[] {
  const rows = plan.transmits.map(
    ({ bus, frameId, extended, fd }) =>
      `    {${busConstants.get(bus)!}, UINT32_C(0x${frameId.toString(16).toUpperCase()}), ${extended}, ${fd}},`,
  );
  return [
    `void ${prefix}_emit(uint16_t transmit, const uint8_t *data, uint8_t length, uint64_t now_us)`,
    '{',
    ...(rows.length === 0
      ? ['    (void)transmit;', '    (void)data;', '    (void)length;', '    (void)now_us;']
      : [
          `    static const xlc_header headers[${rows.length}] = {`,
          ...rows.map(indented),
          '    };',
          '    xlc_frame frame;',
          '',
          ...['bus', 'id', 'extended', 'fd'].map((part) => `    frame.${part} = headers[transmit].${part};`),
          '    frame.data = data;',
          '    frame.length = length;',
          `    ${prefix}_port_send(&frame, now_us);`,
        ]),
    '}',
    '',
  ];
}

function entriesCode(context: ModuleContext, shares: Shares): string[] {
  const { plan, prefix } = context;
  const kept = `${prefix}_state.`;
  const receiving = SIDES.filter((side) => shares[side].receives);
  const pins = plan.wiresIn.length;
  const switched = plan.wiresIn.flatMap(({ kind }, index) => (kind === 'switched' ? [index] : []));
  const indent = `${' '.repeat(prefix.length + 15)}`;
  return [
    `void ${prefix}_on_frame(uint8_t bus, uint32_t id, bool extended, const uint8_t *data, uint8_t length,`,
    `${indent}uint64_t now_us)`,
    '{',
    ...(receiving.length === 0
      ? ['bus', 'id', 'extended', 'data', 'length', 'now_us'].map((name) => `    (void)${name};`)
      : [
          '    const uint32_t key = extended ? id | UINT32_C(0x80000000) : id;',
          '',
          `    if (now_us < ${kept}ready_us || id > UINT32_C(0x1FFFFFFF)) {`,
          '        return;',
          '    }',
          ...receiving.map((side) => `    ${prefix}_${side}_on_frame(bus, key, data, length, now_us);`),
        ]),
    '}',
    '',
    `void ${prefix}_on_pin(uint8_t pin, int32_t level, uint64_t now_us)`,
    '{',
    '    (void)now_us;',
    ...(pins === 0
      ? ['    (void)pin;', '    (void)level;']
      : [
          `    if (pin >= ${pins}u) {`,
          '        return;',
          '    }',
          `    ${kept}pin_status[pin] = XLC_VALID;`,
          ...(switched.length === 0
            ? [`    ${kept}pin_level[pin] = level < -INT32_MAX ? -INT32_MAX : level;`]
            : [
                '    switch (pin) {',
                ...switched.map((index) => `    case ${index}u:`),
                `        ${kept}pin_level[pin] = level != 0 ? 1 : 0;`,
                '        break;',
                '    default:',
                `        ${kept}pin_level[pin] = level < -INT32_MAX ? -INT32_MAX : level;`,
                '        break;',
                '    }',
              ]),
        ]),
    '}',
    '',
  ];
}

function tickCode({ plan, prefix }: ModuleContext, shares: Shares): string[] {
  const kept = `${prefix}_state.`;
  return [
    `void ${prefix}_tick(uint64_t now_us)`,
    '{',
    `    if (now_us < ${kept}ready_us) {`,
    '        return;',
    '    }',
    ...(plan.groups.length > 0
      ? [`    xlc_source_expire(${kept}source, ${prefix}_source_rule, ${plan.groups.length}u, now_us);`]
      : []),
    ...SIDES.flatMap((side) => (hasSteps(plan, shares[side]) ? [`    ${prefix}_${side}_step();`] : [])),
    ...plan.transmits.flatMap((transmit, index) => {
      const { cadence } = transmit;
      if (cadence.kind === 'forwarded' || !isMade(transmit)) return [];
      const changed = `${prefix}_changed_${index}(now_us);`;
      if (cadence.kind === 'on-change') return [`    ${changed}`];
      const due = `${kept}due_us_${index}`;
      const cycle = unsigned64(BigInt(cadence.cycleUs));
      return [
        `    if (now_us >= ${due}) {`,
        `        ${due} += ((now_us - ${due}) / ${cycle} + 1u) * ${cycle};`,
        `        ${prefix}_turn_${index}(now_us);`,
        ...(cadence.kind === 'cyclic' ? [] : ['    } else {', `        ${changed}`]),
        '    }',
      ];
    }),
    ...plan.wiresOut.map((_, index) => `    ${prefix}_drive_${index}(now_us);`),
    '}',
  ];
}
