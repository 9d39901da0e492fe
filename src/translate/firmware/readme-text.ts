import type { Refused } from '../plan/types.ts';
import type { ModuleContext } from './context.ts';
import { commentText } from './names.ts';

/** What stands beside the source for the one who builds it in. Markdown, plain characters. */
export function readmeText(
  { plan, prefix, needs }: ModuleContext,
  refused: readonly Refused[],
  sides: readonly string[],
  head: readonly string[],
): string {
  const lines = [
    `# Firmware of interface module ${commentText(plan.module.id)}`,
    '',
    ...head.flatMap((line) => [commentText(line), '']),
    'A planning aid wrote this source. A qualified person must review it, test it on the bench and on the road; local codes, the makers of the vehicles and of the controller come first.',
    '',
    '| file | what |',
    '|---|---|',
    `| ${prefix}.h | constants, entry points, and the two functions the target must provide |`,
    `| ${prefix}.c | state, start, dispatch, the order of a tick |`,
    ...sides.map(
      (side) => `| ${prefix}_${side}.c | the ${side} side: frames from it, frames and wires to it, and their routes |`,
    ),
    '| xlc_core.* | sources, loss behaviour, steps in time, rounding, checksums |',
    ...(needs.has('wide') ? ['| xlc_wide.* | integers of 128 bits, for routes whose arithmetic needs them |'] : []),
    ...(needs.has('float') ? ['| xlc_float.* | IEEE 754 fields |'] : []),
    `| ${prefix}_main.c, xlc_harness.*, Makefile | a harness for this machine; not for the target |`,
    '',
    '## On the target',
    '',
    `1. Write \`${prefix}_port_send\` (queue a frame) and \`${prefix}_port_drive\` (drive or open an output).`,
    `2. Call \`${prefix}_init\` when the supply has come on, \`${prefix}_on_frame\` for every frame received, \`${prefix}_on_pin\` when an input changes, and \`${prefix}_tick\` every ${plan.periodUs} microseconds from ${plan.startUs} after init on.`,
    '3. Hand in the time in microseconds as 64 bits; it must not run backwards. Calls must not interrupt one another.',
    '',
    'C99 without extensions, heap or recursion; `int` may have 16 bits.',
    '',
    '## On this machine',
    '',
    '```',
    'make',
    `./${prefix}_run < drive.log > sent.log`,
    'make sanitized',
    '```',
    '',
    'Lines of a log: `(12.345678) host:bus 123#0102` for a frame, `(12.345678) wire host:name 1` for an input (1 or 0, or thousandths of its quantity).',
    `Where the log calls the buses otherwise, say so: \`./${prefix}_run can0=${commentText(plan.module.ports[0]?.bus ?? 'host:bus')} < drive.log\`.`,
    ...(refused.length === 0
      ? []
      : [
          '',
          '## Not in this source',
          '',
          ...refused.map(({ what, id, why }) => `- ${what} ${commentText(id)}: ${commentText(why)}`),
        ]),
    '',
  ];
  return lines.join('\n');
}
