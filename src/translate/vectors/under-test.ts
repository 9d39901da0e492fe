import type { Endpoint, Pairing } from '../../model/index.ts';
import { domainOfEndpoint } from '../domain/endpoint-domain.ts';
import type { ModulePlan, PlannedRoute, PlannedTransmit } from '../plan/types.ts';
import { pagesFor } from '../plan/pages.ts';
import type { FieldUnderTest } from './expectation.ts';
import { tooCoarse } from './working-error.ts';
import { settleUs } from './settle.ts';
import { type SourceMessage, sourceMessages } from './source-message.ts';
import { stimuliOf } from './stimuli.ts';
import { restingOf } from './route-cases.ts';
import { nextState, startState, fieldWritten } from './route-states.ts';
import { settable } from './timeline.ts';
import type { SourceInput } from '../evaluate/source-end.ts';

/** A route in the company it keeps: what it writes, and all else that must be right for that to be seen. */
export interface UnderTest {
  readonly pairing: Pairing;
  readonly plan: ModulePlan;
  readonly planned: PlannedRoute;
  readonly field: FieldUnderTest | null;
  /** Set for a wire. */
  readonly wire: string | null;
  /** Routes of the same field or wire, in their order; then of every other field that must be written for the message to go out. */
  readonly own: readonly PlannedRoute[];
  readonly others: readonly (readonly PlannedRoute[])[];
  readonly messages: readonly SourceMessage[];
  /** Samples after which a lost message counts again, by message. */
  readonly recoverAfter: ReadonlyMap<string, number>;
  /** What all sources show at rest, but for those of the route itself. */
  readonly rest: ReadonlyMap<string, SourceInput>;
  readonly times: Times;
}

/** Times that windows are made of, in µs. */
export interface Times {
  /** Until a steady source shows at the target, from its first frame. */
  readonly leadUs: number;
  /** Long enough for a frame of the field to be seen. */
  readonly windowUs: number;
  /** For the steps to become steady, and the part of it that decides. */
  readonly settleUs: number;
  readonly quickUs: number;
  /** For every source to count, whatever was before. */
  readonly samplesUs: number;
  /** For each page of each source to come once. */
  readonly roundUs: number;
  /** One round of the pages of the target. */
  readonly cycleUs: number;
}

/** Longer settling makes no vector. */
export const MOST_SETTLE_US = 150_000_000;

/** Finds the company of a route; a text with the reason when it cannot be seen at all. */
export function underTest(
  pairing: Pairing,
  plan: ModulePlan,
  planned: PlannedRoute,
  busUs: number,
): UnderTest | string {
  const index = plan.routes.indexOf(planned);
  const seen = whereSeen(pairing, plan, planned, index);
  if (typeof seen === 'string') return seen;
  const { field, wire, own, others } = seen;
  if (own.some(tooCoarse))
    return 'several values meet in it at a working resolution coarser than its target: what is right cannot be said closely';
  const all = [...own, ...others.flat()];
  const ends = all.flatMap(({ route }) =>
    route.from.flatMap((ref) => {
      const end = pairing.find(ref);
      return end?.kind === 'signal' ? [end] : [];
    }),
  );
  if (field?.transmit.cadence.kind === 'forwarded' && ends.length === 0)
    return 'its message goes out when another comes in, and no source of it is one';
  const groupsOf = (ref: string): ModulePlan['groups'] =>
    plan.groups.filter(({ message }) => plan.received[message]?.ref === ref);
  const messages = sourceMessages(ends, (ref) => {
    const limits = groupsOf(ref).flatMap(({ staleUs }) => (staleUs === null ? [] : [staleUs]));
    return limits.length === 0 ? null : Math.min(...limits);
  });
  const recoverAfter = new Map(
    messages.map(({ ref }) => [ref, Math.max(1, ...groupsOf(ref).map((group) => group.recoverAfter))] as const),
  );
  const settle = longest(own, plan.periodUs, false);
  const quick = longest(own, plan.periodUs, true);
  if (settle === null || quick === null) return 'how long its steps take to become steady is not known';
  if (settle > MOST_SETTLE_US)
    return `its steps take ${Math.round(settle / 1e6)} s to become steady; at most ${MOST_SETTLE_US / 1e6} s are waited`;
  const times = timesOf(plan, field?.transmit ?? null, messages, recoverAfter, settle, quick, busUs);
  const rest = restOf(pairing, planned, [own, ...others]);
  return { pairing, plan, planned, field, wire, own, others, messages, recoverAfter, rest, times };
}

function whereSeen(
  pairing: Pairing,
  plan: ModulePlan,
  { route }: PlannedRoute,
  index: number,
): Pick<UnderTest, 'field' | 'wire' | 'own' | 'others'> | string {
  const routesOf = (list: readonly number[]): PlannedRoute[] => list.map((at) => plan.routes[at]!);
  const output = plan.wiresOut.find(({ routes }) => routes.includes(index));
  if (output !== undefined) return { field: null, wire: output.ref, own: routesOf(output.routes), others: [] };
  const transmit = plan.transmits.find(({ pages }) =>
    pages.some(({ fields }) => fields.some(({ routes }) => routes.includes(index))),
  );
  const end = pairing.find(route.to);
  if (transmit === undefined || end?.kind !== 'signal') return `${plan.module.id} does not send ${route.to}`;
  const { message, signal } = end;
  const page =
    signal.multiplexed === undefined ? new Map<string, bigint>() : (pagesFor(message, [signal])[0] ?? new Map());
  const selectors = [...page.keys()].flatMap((id) => message.signals.find((entry) => entry.id === id) ?? []);
  // By change each page goes out on its own; in turn, one that cannot go out holds up all others.
  const alone = transmit.cadence.kind === 'on-change';
  const lists = transmit.pages
    .filter(({ fields }) => !alone || fields.some(({ routes }) => routes.includes(index)))
    .flatMap(({ fields }) => fields.map(({ routes }) => routes));
  const own = lists.find((routes) => routes.includes(index))!;
  const others = lists.filter((routes) => routes !== own && !routes.includes(index));
  return {
    field: { transmit, signal, domain: domainOfEndpoint(end), page, selectors },
    wire: null,
    own: routesOf(own),
    others: others.map(routesOf),
  };
}

function longest(routes: readonly PlannedRoute[], periodUs: number, quick: boolean): number | null {
  let most = 0;
  for (const route of routes) {
    const time = settleUs(route, periodUs, quick);
    if (time === null) return null;
    most = Math.max(most, time);
  }
  return most;
}

function timesOf(
  { periodUs, latencyUs }: ModulePlan,
  transmit: PlannedTransmit | null,
  messages: readonly SourceMessage[],
  recoverAfter: ReadonlyMap<string, number>,
  settle: number,
  quick: number,
  busUs: number,
): Times {
  const roundUs = Math.max(0, ...messages.map(({ everyUs, pages }) => everyUs * pages.length));
  const samplesUs = Math.max(
    0,
    ...messages.map(({ ref, everyUs, pages }) => (recoverAfter.get(ref)! + 2) * pages.length * everyUs),
  );
  const pages = transmit?.pages.length ?? 1;
  const cadence = transmit?.cadence;
  const cycleUs =
    (cadence === undefined
      ? periodUs
      : cadence.kind === 'forwarded'
        ? roundUs
        : cadence.kind === 'on-change'
          ? cadence.minGapUs
          : cadence.cycleUs + cadence.phaseUs) * pages;
  return {
    leadUs: periodUs + latencyUs + busUs + (pages > 1 || cadence?.kind === 'on-change' ? cycleUs : 0),
    windowUs: cycleUs + 2 * periodUs + busUs,
    settleUs: settle,
    quickUs: quick,
    samplesUs,
    roundUs,
    cycleUs,
  };
}

/** Inputs at rest for everything in company: the middle, or else whatever gives every field something to write. */
function restOf(
  pairing: Pairing,
  planned: PlannedRoute,
  fields: readonly (readonly PlannedRoute[])[],
): ReadonlyMap<string, SourceInput> {
  const rest = new Map<string, SourceInput>();
  const own = new Set(planned.route.from);
  for (const routes of fields) {
    for (const other of routes) {
      const { analysis } = other.compiled;
      other.route.from.forEach((ref, at) => {
        const input = restingOf(stimuliOf(analysis, at));
        if (input !== null && !rest.has(ref)) rest.set(ref, settable(pairing, ref, input));
      });
    }
    const states = (): ReturnType<typeof startState>[] =>
      routes.map((other) => nextState(startState(other), rest, () => false));
    const silent = (): boolean => fieldWritten(states(), () => true)?.kind === 'nothing';
    if (!silent()) continue;
    // Some other value of a source nobody else needs as it is.
    for (const other of routes) {
      for (const [at, ref] of other.route.from.entries()) {
        if (own.has(ref)) continue;
        const before = rest.get(ref);
        for (const { input } of stimuliOf(other.compiled.analysis, at)) {
          if (input === null) continue;
          rest.set(ref, settable(pairing, ref, input));
          if (!silent()) break;
        }
        if (!silent()) break;
        if (before !== undefined) rest.set(ref, before);
      }
      if (!silent()) break;
    }
  }
  return rest;
}

/** The message a source stands in; null on a wire. */
export function messageOf(pairing: Pairing, ref: string): string | null {
  const end: Endpoint | null = pairing.find(ref);
  return end?.kind === 'signal' ? `${end.side}:${end.message.id}` : null;
}
