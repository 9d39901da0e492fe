import type { ModuleContext } from './context.ts';
import { indented, text } from './lines.ts';
import { stringLiteral } from './names.ts';

/** `main` for the host: names of buses and pins, and the harness. */
export function mainUnit({ plan, prefix, constants, busConstants, pinsIn, pinsOut }: ModuleContext): string {
  const table = (name: string, rows: readonly (readonly [string, string])[]): string[] => [
    `static const xlc_name ${prefix}_${name}[] = {`,
    ...(rows.length === 0 ? ['{"", 0u},'] : rows.map(([text_, number]) => `{${stringLiteral(text_)}, ${number}},`)).map(
      indented,
    ),
    '};',
    '',
  ];
  const buses = plan.module.ports.flatMap(({ id, bus }) => {
    const constant = busConstants.get(`port ${id}`)!;
    const more = [...busConstants].filter(([ref, own]) => own === constant && ref !== bus && ref !== `port ${id}`);
    return [bus, ...more.map(([ref]) => ref), id].map((name) => [name, constant] as const);
  });
  return text([
    `#include "${prefix}.h"`,
    '#include "xlc_harness.h"',
    '',
    ...table('buses', buses),
    ...table(
      'pins_in',
      pinsIn.map((name, at) => [plan.wiresIn[at]!.ref, name]),
    ),
    ...table(
      'pins_out',
      pinsOut.map((name, at) => [plan.wiresOut[at]!.ref, name]),
    ),
    `void ${prefix}_port_send(const xlc_frame *frame, uint64_t now_us)`,
    '{',
    '    xlc_harness_send(frame, now_us);',
    '}',
    '',
    `void ${prefix}_port_drive(uint8_t pin, bool driven, int32_t level, uint64_t now_us)`,
    '{',
    '    xlc_harness_drive(pin, driven, level, now_us);',
    '}',
    '',
    'int main(int argc, char **argv)',
    '{',
    `    static const xlc_module ${prefix}_module = {`,
    `        ${constants}_PERIOD_US, ${constants}_START_US, ${constants}_LATENCY_US,`,
    `        ${prefix}_buses, ${buses.length}u, ${prefix}_pins_in, ${pinsIn.length}u, ${prefix}_pins_out, ${pinsOut.length}u,`,
    `        ${prefix}_init, ${prefix}_on_frame, ${prefix}_on_pin, ${prefix}_tick,`,
    '    };',
    '',
    `    return xlc_harness_main(&${prefix}_module, argc, argv);`,
    '}',
  ]);
}
