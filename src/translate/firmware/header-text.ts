import type { ModuleContext } from './context.ts';
import { indented, text } from './lines.ts';
import { comment } from './names.ts';
import { unsigned64 } from './numbers.ts';
import { baseName, isMade } from './transmit-code.ts';
import { SIDES, type Shares, hasSteps } from './units.ts';

/** The header an integrator includes: constants, entry points, and what the target must provide. */
export function publicHeader(context: ModuleContext, head: readonly string[]): string {
  const { plan, prefix, constants, busConstants, pinsIn, pinsOut } = context;
  const ports = plan.module.ports;
  const numbered = (names: readonly string[], about: (at: number) => string): string[] =>
    names.flatMap((name, at) => [...comment(about(at)), `#define ${name} ${at}u`]);
  return text([
    ...head,
    `#ifndef ${constants}_H`,
    `#define ${constants}_H`,
    '',
    '#include "xlc_core.h"',
    '',
    ...comment('Ticks are this far apart.'),
    `#define ${constants}_PERIOD_US ${unsigned64(BigInt(plan.periodUs))}`,
    ...comment('From init to the first tick; frames before it are overlooked.'),
    `#define ${constants}_START_US ${unsigned64(BigInt(plan.startUs))}`,
    ...comment('What the map allows between a tick and the frames it sends.'),
    `#define ${constants}_LATENCY_US ${unsigned64(BigInt(plan.latencyUs))}`,
    '',
    ...comment('Buses, by port of the module.'),
    ...ports.flatMap(({ id, bus }, at) => [
      ...comment(`Port ${id}: ${bus}`),
      `#define ${busConstants.get(`port ${id}`)!} ${at}u`,
    ]),
    '',
    ...comment('Inputs: a switched one is 1 active or 0 inactive, a measured one in thousandths of its quantity.'),
    ...numbered(pinsIn, (at) => `${plan.wiresIn[at]!.ref}, ${plan.wiresIn[at]!.kind}`),
    '',
    ...comment('Outputs, likewise.'),
    ...numbered(pinsOut, (at) => `${plan.wiresOut[at]!.ref}, ${plan.wiresOut[at]!.kind}`),
    '',
    ...comment(
      'Times are microseconds of a clock that starts anywhere and never runs backwards. Call all four from one context, or keep them from interrupting each other.',
    ),
    '',
    ...comment('The supply has come on. To be called first.'),
    `void ${prefix}_init(uint64_t now_us);`,
    '',
    ...comment('A frame has come in. id without flags; length 0-64 bytes.'),
    `void ${prefix}_on_frame(uint8_t bus, uint32_t id, bool extended, const uint8_t *data, uint8_t length,`,
    `${' '.repeat(prefix.length + 15)}uint64_t now_us);`,
    '',
    ...comment('An input has a new level.'),
    `void ${prefix}_on_pin(uint8_t pin, int32_t level, uint64_t now_us);`,
    '',
    ...comment(
      'One period has passed: frames that are due are sent, outputs are driven. To be called every PERIOD_US from init + START_US on, with the nominal moment.',
    ),
    `void ${prefix}_tick(uint64_t now_us);`,
    '',
    ...comment('To be written for the target: queues a frame. The frame and its bytes are good only until it returns.'),
    `void ${prefix}_port_send(const xlc_frame *frame, uint64_t now_us);`,
    '',
    ...comment('To be written for the target: drives an output, or opens it when driven is false. Outputs start open.'),
    `void ${prefix}_port_drive(uint8_t pin, bool driven, int32_t level, uint64_t now_us);`,
    '',
    '#endif',
  ]);
}

/** The header its own units share: the state, and what they call of each other. To be made after the units. */
export function internalHeader(context: ModuleContext, shares: Shares): string {
  const { plan, prefix, constants, state, needs } = context;
  const { groups, wiresIn, transmits } = plan;
  const members = [
    'uint64_t ready_us;',
    ...(groups.length > 0 ? [`xlc_source source[${groups.length}];`] : []),
    ...(wiresIn.length > 0
      ? [`int32_t pin_level[${wiresIn.length}];`, `xlc_status pin_status[${wiresIn.length}];`]
      : []),
    ...transmits.flatMap(({ cadence }, index) => ('cycleUs' in cadence ? [`uint64_t due_us_${index};`] : [])),
    ...state,
  ];
  return text([
    `#ifndef ${constants}_INTERNAL_H`,
    `#define ${constants}_INTERNAL_H`,
    '',
    `#include "${prefix}.h"`,
    ...(needs.has('wide') ? ['#include "xlc_wide.h"'] : []),
    ...(needs.has('float') ? ['#include "xlc_float.h"'] : []),
    '',
    '#include <string.h>',
    '',
    'typedef struct {',
    ...members.map(indented),
    `} ${prefix}_state_t;`,
    '',
    `extern ${prefix}_state_t ${prefix}_state;`,
    ...(groups.length > 0 ? [`extern const xlc_source_rule ${prefix}_source_rule[${groups.length}];`] : []),
    ...transmits.flatMap((transmit, index) =>
      isMade(transmit) ? [`extern const uint8_t ${baseName(context, index)};`] : [],
    ),
    '',
    `void ${prefix}_emit(uint16_t transmit, const uint8_t *data, uint8_t length, uint64_t now_us);`,
    ...transmits.flatMap((transmit, index) => {
      if (!isMade(transmit)) return [];
      const { kind } = transmit.cadence;
      return [
        ...(kind === 'on-change' ? [] : [`void ${prefix}_turn_${index}(uint64_t now_us);`]),
        ...(kind === 'on-change' || kind === 'cyclic-and-on-change'
          ? [`void ${prefix}_changed_${index}(uint64_t now_us);`]
          : []),
      ];
    }),
    ...plan.wiresOut.map((_, index) => `void ${prefix}_drive_${index}(uint64_t now_us);`),
    ...SIDES.flatMap((side) => [
      ...(hasSteps(plan, shares[side]) ? [`void ${prefix}_${side}_step(void);`] : []),
      ...(shares[side].receives
        ? [
            `void ${prefix}_${side}_on_frame(uint8_t bus, uint32_t key, const uint8_t *data, uint8_t length, uint64_t now_us);`,
          ]
        : []),
    ]),
    '',
    '#endif',
  ]);
}
