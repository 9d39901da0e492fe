import type { UnitFault } from '../translate/index.ts';
import type { Route } from '../model/index.ts';
import type { CheckContext } from './context.ts';
import { named, type Draft, type Mend, type NamedValue } from './rule.ts';

/** Drafts for the unit faults of one kind on a route. */
export function draftsOfUnitFaults<K extends UnitFault['kind']>(
  context: CheckContext,
  route: Route,
  kind: K,
  more: (
    fault: Extract<UnitFault, { kind: K }>,
  ) => { readonly values?: readonly NamedValue[]; readonly mend?: Mend | null } & Partial<Draft> = () => ({}),
): readonly Draft[] | null {
  const { unitFaults } = context.analysis(route);
  if (unitFaults.length === 0) return null;
  return unitFaults
    .filter((fault): fault is Extract<UnitFault, { kind: K }> => fault.kind === kind)
    .map((fault) => ({
      message: `${route.id}${placeOf(fault.at)}: ${fault.message}`,
      mask: context.maskOf(route),
      ...more(fault),
    }));
}

export function placeOf(at: number | null): string {
  return at === null ? '' : `, step ${at + 1}`;
}

export function unitsOf({ from, to }: { readonly from: string; readonly to: string }): NamedValue[] {
  return [named('from unit', from), named('to unit', to)];
}
