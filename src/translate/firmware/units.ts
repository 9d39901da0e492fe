import type { SideName } from '../../model/index.ts';
import type { ModulePlan } from '../plan/types.ts';
import { type ModuleContext, sideOf } from './context.ts';
import { receiveCode } from './receive-code.ts';
import { routeCode } from './route-code.ts';
import { driveCode, isMade, transmitCode } from './transmit-code.ts';

/** What of a module belongs to one side: messages and wires that go out to it, with their routes. */
export interface SideShare {
  readonly transmits: readonly number[];
  readonly wires: readonly number[];
  /** Routes that are written by any of these; the others of the plan have no effect. */
  readonly routes: readonly number[];
  readonly receives: boolean;
}

export function shareOf(plan: ModulePlan, side: SideName): SideShare {
  const transmits = plan.transmits.flatMap((transmit, index) =>
    sideOf(transmit.ref) === side && isMade(transmit) ? [index] : [],
  );
  const wires = plan.wiresOut.flatMap(({ ref }, index) => (sideOf(ref) === side ? [index] : []));
  const written = new Set([
    ...transmits.flatMap((index) =>
      plan.transmits[index]!.pages.flatMap(({ fields }) => fields.flatMap(({ routes }) => routes)),
    ),
    ...wires.flatMap((index) => plan.wiresOut[index]!.routes),
  ]);
  return {
    transmits,
    wires,
    routes: plan.routes.flatMap((_, index) => (written.has(index) ? [index] : [])),
    receives: plan.received.some(({ ref }) => sideOf(ref) === side),
  };
}

/** Both sides of a module. */
export interface Shares {
  readonly host: SideShare;
  readonly donor: SideShare;
}

export const SIDES = ['host', 'donor'] as const;

/** The shares in a fixed order, those that are not empty. */
export function filledSides(shares: Shares): readonly ('host' | 'donor')[] {
  return SIDES.filter((side) => !isEmpty(shares[side]));
}

/** Whether a side has anything to compile. */
function isEmpty({ transmits, wires, receives }: SideShare): boolean {
  return transmits.length === 0 && wires.length === 0 && !receives;
}

export function hasSteps(plan: ModulePlan, { routes }: SideShare): boolean {
  return routes.some((index) => plan.routes[index]!.everyTick);
}

/** The unit of one side: what comes from it, and what goes out to it. */
export function sideUnit(context: ModuleContext, side: SideName): string[] {
  const { plan, prefix } = context;
  const share = shareOf(plan, side);
  const stepped = share.routes.filter((index) => plan.routes[index]!.everyTick);
  return [
    ...share.routes.flatMap((index) => routeCode(context, index)),
    ...(stepped.length === 0
      ? []
      : [
          `void ${prefix}_${side}_step(void)`,
          '{',
          ...stepped.map((index) => `    ${prefix}_step_${index}();`),
          '}',
          '',
        ]),
    ...share.transmits.flatMap((index) => transmitCode(context, index)),
    ...share.wires.flatMap((index) => driveCode(context, index)),
    ...receiveCode(context, side),
  ];
}
