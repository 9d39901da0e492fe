import { type Combination, type InterfaceModule, type Pairing, sideRef } from '../../model/index.ts';
import { planModule } from '../plan/build.ts';
import type { ModulePlan, Refused } from '../plan/types.ts';
import type { ModuleContext } from './context.ts';
import { CORE_HEADER } from './c/core-header.ts';
import { CORE_SOURCE } from './c/core-source.ts';
import { FLOAT_HEADER, FLOAT_SOURCE } from './c/float.ts';
import { HARNESS_HEADER } from './c/harness-header.ts';
import { HARNESS_SOURCE } from './c/harness-source.ts';
import { WIDE_HEADER, WIDE_SOURCE } from './c/wide.ts';
import { makefile } from './make-text.ts';
import { internalHeader, publicHeader } from './header-text.ts';
import { mainUnit } from './main-text.ts';
import { moduleUnit } from './module-text.ts';
import { comment, constantNames, prefixOf } from './names.ts';
import { readmeText } from './readme-text.ts';
import { Inexpressible, type SlotPlan, slotPlans } from './slots.ts';
import { text } from './lines.ts';
import { filledSides, shareOf, sideUnit } from './units.ts';

export interface FirmwareFile {
  /** A plain file name. */
  readonly name: string;
  readonly text: string;
}

export interface Firmware {
  readonly module: string;
  readonly combination: Combination;
  /** Begins every name of the module in the source. */
  readonly prefix: string;
  readonly files: readonly FirmwareFile[];
  /** What the source does not do, each with the reason: what no plan can do, and what does not fit the C written here. */
  readonly refused: readonly Refused[];
}

export interface FirmwareOptions {
  /** Lines for the head of every file: map, revision, digest, mark. */
  readonly head?: readonly string[];
}

/**
 * The firmware of one interface module for one build, as portable C99: a core, the module, a unit for each side, and a harness for the
 * host. It does what `createReplay` does with this module alone, frame for frame. Pure: the same pairing gives the same text.
 */
export function firmwareOf(
  pairing: Pairing,
  module: InterfaceModule,
  combination: Combination,
  { head = [] }: FirmwareOptions = {},
): Firmware {
  const { plan, slots, refused } = expressible(pairing, module, combination);
  const context = contextOf(pairing, plan, slots);
  const { prefix, needs } = context;
  const shares = { host: shareOf(plan, 'host'), donor: shareOf(plan, 'donor') };
  const top = headLines(pairing, plan, head);
  const sides = filledSides(shares);
  const units = sides.map((side) => ({
    name: `${prefix}_${side}.c`,
    text: text([...top, `#include "${prefix}_internal.h"`, '', ...sideUnit(context, side)]),
  }));
  const own: FirmwareFile[] = [
    { name: `${prefix}.h`, text: publicHeader(context, top) },
    { name: `${prefix}_internal.h`, text: text(top) + internalHeader(context, shares) },
    { name: `${prefix}.c`, text: text(top) + moduleUnit(context, shares) },
    ...units,
    { name: `${prefix}_main.c`, text: text(top) + mainUnit(context) },
  ];
  const core: FirmwareFile[] = [
    { name: 'xlc_core.h', text: CORE_HEADER },
    { name: 'xlc_core.c', text: CORE_SOURCE },
    ...(needs.has('wide')
      ? [
          { name: 'xlc_wide.h', text: WIDE_HEADER },
          { name: 'xlc_wide.c', text: WIDE_SOURCE },
        ]
      : []),
    ...(needs.has('float')
      ? [
          { name: 'xlc_float.h', text: FLOAT_HEADER },
          { name: 'xlc_float.c', text: FLOAT_SOURCE },
        ]
      : []),
    { name: 'xlc_harness.h', text: HARNESS_HEADER },
    { name: 'xlc_harness.c', text: HARNESS_SOURCE },
  ];
  const files = [...own, ...core];
  const sources = files.map(({ name }) => name).filter((name) => name.endsWith('.c'));
  return {
    module: module.id,
    combination,
    prefix,
    refused,
    files: [
      ...files,
      { name: 'Makefile', text: makefile(prefix, sources) },
      { name: 'README.md', text: readmeText(context, refused, sides, head) },
    ],
  };
}

/** The plan without the routes that cannot be put into C: they count as refused, and the messages go out without them. */
function expressible(
  pairing: Pairing,
  module: InterfaceModule,
  combination: Combination,
): { readonly plan: ModulePlan; readonly slots: (readonly SlotPlan[])[]; readonly refused: readonly Refused[] } {
  const plan = planModule(pairing, module, combination);
  const faults: Refused[] = [];
  const slots = plan.routes.map(({ route, compiled }) => {
    try {
      return slotPlans(compiled.program);
    } catch (error) {
      if (!(error instanceof Inexpressible)) throw error;
      faults.push({ what: 'route', id: route.id, why: error.message });
      return [];
    }
  });
  if (faults.length === 0) return { plan, slots, refused: plan.refused };
  const left = new Set(faults.map(({ id }) => id));
  const map = { ...pairing.map, routes: pairing.map.routes.filter(({ id }) => !left.has(id)) };
  const rest = expressible({ ...pairing, map }, module, combination);
  return { ...rest, refused: [...faults, ...rest.refused] };
}

function contextOf(pairing: Pairing, plan: ModulePlan, slots: ModuleContext['slots']): ModuleContext {
  const prefix = prefixOf(plan.module.id);
  const constants = prefix.toUpperCase();
  const name = constantNames();
  return {
    plan,
    prefix,
    constants,
    slots,
    busConstants: busConstantsOf(pairing, plan, (id) => name(`${constants}_BUS`, id)),
    pinsIn: plan.wiresIn.map(({ ref }) => name(`${constants}_IN`, ref)),
    pinsOut: plan.wiresOut.map(({ ref }) => name(`${constants}_OUT`, ref)),
    state: [],
    reset: [],
    needs: new Set(),
  };
}

/** Constants of buses: by `port ID`, and by each bus that a port hears, its own or one joined with it. */
function busConstantsOf(pairing: Pairing, plan: ModulePlan, name: (id: string) => string): Map<string, string> {
  const constants = new Map<string, string>();
  const { ports } = plan.module;
  for (const { id } of ports) constants.set(`port ${id}`, name(id));
  for (const { id, bus } of ports) if (!constants.has(bus)) constants.set(bus, constants.get(`port ${id}`)!);
  for (const { bus } of plan.received) {
    if (constants.has(bus)) continue;
    const side = bus.startsWith('donor:') ? 'donor' : 'host';
    const joined = pairing.side(side).buses.get(bus.slice(side.length + 1))?.joinedWith ?? [];
    const heard = joined.map((id) => constants.get(sideRef(side, id))).find((constant) => constant !== undefined);
    if (heard !== undefined) constants.set(bus, heard);
  }
  return constants;
}

function headLines(pairing: Pairing, { module, combination }: ModulePlan, head: readonly string[]): string[] {
  const build = [...combination].map(([axis, choice]) => `${axis}=${choice}`).join(', ');
  const { map } = pairing;
  return [
    ...comment(
      `Interface module ${module.id} of the map ${map.id}, revision ${map.revision}${build === '' ? '' : `, build ${build}`}. Generated; changes will be lost.`,
    ),
    ...head.flatMap((line) => comment(line)),
    '',
  ];
}
