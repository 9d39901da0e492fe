import type { SideName } from '../model/index.ts';
import type { CheckContext } from './context.ts';

/** Whether a retained module of that side sends or drives the function and another of it reads it: no route is needed. */
export function isNative(context: CheckContext, functionId: string, side: SideName): boolean {
  return context
    .bearers(side, functionId)
    .some((bearer) => context.sendersPresent(bearer).length > 0 && context.readersPresent(bearer).length > 0);
}

/** Combinations in which a function arrives on a side: by a route, by modules of that side, or knowingly left out. */
export function maskServed(context: CheckContext, functionId: string, side: SideName): bigint {
  if (isNative(context, functionId, side)) return context.pairing.options.all;
  let mask = context.maskLeftOut(null, functionId);
  for (const route of context.routesOf(functionId)) {
    if (route.to.startsWith(`${side}:`)) mask |= context.maskOf(route);
  }
  return mask;
}

/** The side a route delivers to. */
export function targetSide(route: { readonly to: string }): SideName {
  return route.to.startsWith('host:') ? 'host' : 'donor';
}
