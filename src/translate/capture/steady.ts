import { type Pairing, type Route, pair } from '../../model/index.ts';
import { planModule } from '../plan/build.ts';
import type { ModulePlan } from '../plan/types.ts';
import { settleUs } from '../vectors/settle.ts';

/**
 * How a route whose steps work in time is judged: by what it would give without these steps, over the time they may need.
 * `within`: a filter or a limit on the rate never leaves the range of what went in. `settled`: a value held back is judged when
 * all that went in since gives the same. `still`: only while what goes in has not changed at all, as a debounce wants it.
 */
export interface StepsInTime {
  readonly by: 'within' | 'settled' | 'still';
  readonly settleUs: number;
}

export interface SteadyPlan {
  /** The plan with those routes without their steps in time; positions are those of the plan. */
  readonly plan: ModulePlan;
  /** By the position of the route. */
  readonly inTime: ReadonlyMap<number, StepsInTime>;
}

type Step = NonNullable<Route['steps']>[number];

/** Longer than this nothing is remembered. */
const MOST_SETTLE_US = 30_000_000;

const FILTERS: ReadonlySet<Step['do']> = new Set(['smooth', 'rate-limit']);
const HOLDERS: ReadonlySet<Step['do']> = new Set(['debounce', 'delay']);
/** Steps that keep the order of values, so that what lies between two goes to what lies between their images. */
const KEEPS_ORDER: ReadonlySet<Step['do']> = new Set([
  'convert',
  'linear',
  'limit',
  'smooth',
  'rate-limit',
  'delay',
  'debounce',
]);

/** The plan of a module with its steps in time taken out, where the range of what goes in bounds what comes out. */
export function steadyPlan(pairing: Pairing, plan: ModulePlan): SteadyPlan {
  const inTime = new Map<number, StepsInTime>();
  plan.routes.forEach((planned, index) => {
    const by = planned.everyTick && isAlone(plan, index) ? judgedBy(planned.route) : null;
    const settle = by === null ? null : settleUs(planned, plan.periodUs, false);
    if (by !== null && settle !== null && settle <= MOST_SETTLE_US) inTime.set(index, { by, settleUs: settle });
  });
  if (inTime.size === 0) return { plan, inTime };
  const ids = new Set([...inTime.keys()].map((index) => plan.routes[index]!.route.id));
  const calm = pair(
    { ...pairing.map, routes: pairing.map.routes.map((route) => (ids.has(route.id) ? withoutSteps(route) : route)) },
    pairing.host,
    pairing.donor,
  );
  const steady = planModule(calm, plan.module, plan.combination);
  if (!readsAlike(plan, steady)) return { plan, inTime: new Map() };
  // Bands without hysteresis and dwell decide by the value alone, whenever they are asked.
  const routes = plan.routes.map((planned, index) =>
    inTime.has(index) ? { ...steady.routes[index]!, everyTick: false } : planned,
  );
  return { plan: { ...plan, routes }, inTime };
}

/** Whether nothing else writes what the route writes. */
function isAlone({ transmits, wiresOut }: ModulePlan, index: number): boolean {
  const fields = transmits.flatMap(({ pages }) => pages.flatMap((page) => page.fields));
  return [...fields, ...wiresOut].every(({ routes }) => routes.length === 1 || !routes.includes(index));
}

/** How the steps of a route let it be judged; null when what comes out is not bounded by what goes in. */
function judgedBy({ from, steps = [] }: Route): StepsInTime['by'] | null {
  if (from.length !== 1) return null;
  if (steps.some((step) => step.do === 'bands' && (step.hysteresis !== undefined || step.dwellMs !== undefined)))
    return null;
  const first = steps.findIndex((step) => FILTERS.has(step.do));
  const debounced = steps.some((step) => step.do === 'debounce');
  if (first < 0) return debounced ? 'still' : 'settled';
  const after = steps.slice(first);
  if (!after.every((step) => KEEPS_ORDER.has(step.do) || isOneWay(step))) return null;
  if (debounced) return 'still';
  return after.some((step) => step.do === 'bands') ? 'settled' : 'within';
}

/** Bands of which each has a state of its own: what gives the same state twice has not left it in between. */
function isOneWay(step: Step): boolean {
  return step.do === 'bands' && new Set(step.states).size === step.states.length;
}

function withoutSteps(route: Route): Route {
  const steps = (route.steps ?? []).filter((step) => !FILTERS.has(step.do) && !HOLDERS.has(step.do));
  return { ...route, steps };
}

/** Whether two plans read and number the same: the same routes in order, the same sources. */
function readsAlike(a: ModulePlan, b: ModulePlan): boolean {
  const key = ({ routes, received, groups, wiresIn }: ModulePlan): string =>
    JSON.stringify([
      routes.map(({ route, sources }) => [route.id, sources]),
      received.map(({ ref, groups: parts }) => [ref, parts]),
      groups.map(({ message }) => message),
      wiresIn.map(({ ref, kind }) => [ref, kind]),
    ]);
  return key(a) === key(b);
}
