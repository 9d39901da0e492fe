import type { SourceInput } from '../evaluate/source-end.ts';
import type { PlannedRoute } from '../plan/types.ts';
import type { LossAction } from '../program/loss-plan.ts';
import { fieldExpectation, wireExpectation } from './expectation.ts';
import { type RouteState, fieldWritten, nextState, startState } from './route-states.ts';
import type { FrameExpectation, VectorExpectation } from './schema.ts';
import { settleUs } from './settle.ts';
import type { Inputs } from './source-message.ts';
import { type Timeline, createTimeline, settable } from './timeline.ts';
import { type UnderTest, messageOf } from './under-test.ts';
import type { Written } from './written.ts';

/** One vector in the making: phases are added, and with them what must be seen. */
export interface VectorRun {
  readonly timeline: Timeline;
  readonly expect: readonly VectorExpectation[];
  /** Why the vector cannot be judged; null while it can. */
  readonly fault: string | null;
  /** Makes all sources valid and lets the resting state settle. */
  prelude(rest: Inputs, full: boolean): void;
  /** Every source shows its input; with `expecting`, expects the result. */
  show(inputs: Inputs, expecting: boolean): void;
  /** Withholds messages for so long that nothing changes any more; with `expecting`, expects what the route does then. */
  silence(messages: ReadonlySet<string>, expecting: boolean): void;
  /** Sends `samples` frames (of each page) of a withheld message, too few for it to count, and withholds it again. */
  tease(message: string, samples: number): void;
  /** Sends a withheld message again, all sources showing their inputs; expects the result once `samples` frames have come. */
  restore(message: string, inputs: Inputs, samples: number): void;
  /** Whether the routes before this one have no value. */
  primaryGone(): boolean;
}

interface Transition {
  readonly planned: PlannedRoute;
  /** Lost, or the hold is over, at some moment between. */
  readonly what: 'lost' | 'hold-over';
  readonly fromUs: number;
  readonly untilUs: number;
}

export function createVectorRun(under: UnderTest, busUs: number): VectorRun {
  const { pairing, plan, planned, field, wire, own, others, messages, times } = under;
  const timeline = createTimeline(pairing, messages, plan.startUs + plan.periodUs);
  const expect: VectorExpectation[] = [];
  let fault: string | null = null;
  let inputs: Inputs = new Map();
  let states = new Map<PlannedRoute, RouteState>([...own, ...others.flat()].map((one) => [one, startState(one)]));
  let silent: ReadonlySet<string> = new Set();
  let over: ReadonlySet<PlannedRoute> = new Set();
  /** Routes for which the silent messages count as lost already. */
  let lostTo: ReadonlySet<PlannedRoute> = new Set();

  const settle = (): void => {
    states = new Map(
      [...states].map(([one, state]) => [
        one,
        nextState(state, inputs, (ref, route) => {
          const message = messageOf(pairing, ref);
          return message !== null && silent.has(message) && lostTo.has(route);
        }),
      ]),
    );
  };
  const writtenBy = (routes: readonly PlannedRoute[]): Written | null =>
    fieldWritten(
      routes.map((one) => states.get(one)!),
      (one) => over.has(one),
    );
  const written = (): Written | null => writtenBy(own);
  /** Whether the message goes out: every field of it is written. Null: it depends on what was before. */
  const sent = (): boolean | null => {
    const all = [own, ...others].map(writtenBy);
    if (all.some((one) => one?.kind === 'nothing')) return false;
    return all.includes(null) ? null : true;
  };
  const expectIn = (fromUs: number, untilUs: number, force?: FrameExpectation['judge']): void => {
    const what = written();
    if (holdsWhatPassed(own.map((one) => states.get(one)!))) {
      fault = 'it holds what its steps came through on the way to no value';
      return;
    }
    if (what === null) {
      fault = 'what it holds depends on what was before';
      return;
    }
    if (wire !== null) {
      const level = wireExpectation(wire, planned.compiled.analysis.target, what, { fromUs, untilUs });
      if (level !== null) expect.push(level);
      return;
    }
    if (field === null) return;
    if (force !== undefined) {
      const judge = what.kind === 'nothing' ? 'never' : force;
      expect.push(fieldExpectation(field, what, { fromUs, untilUs, judge }));
      return;
    }
    const goes = sent();
    if (goes === null) {
      fault = 'whether its message is sent depends on what was before';
      return;
    }
    const { kind } = field.transmit.cadence;
    const judge = !goes ? 'never' : (force ?? (kind === 'on-change' ? 'latest' : 'every'));
    if (
      judge === 'never' &&
      what.kind !== 'nothing' &&
      force === undefined &&
      expect.length === 0 &&
      silent.size === 0
    ) {
      fault = 'another field of its message has no value, so the message is not sent';
      return;
    }
    expect.push(fieldExpectation(field, what, { fromUs, untilUs, judge }));
  };
  /** Lets the holds of all routes without a value run out; gives how long that takes. */
  const endHolds = (): number => {
    const gone = (one: PlannedRoute): boolean => states.get(one)!.given.kind === 'none';
    const without = [own, ...others].filter((routes) => routes.every(gone)).flatMap(([first]) => first ?? []);
    over = new Set(without);
    const longest = Math.max(0, ...without.map(({ compiled }) => holdOf(compiled.loss.onLoss) ?? 0));
    return longest === 0 ? 0 : Math.round(longest * 1000) + times.cycleUs + plan.periodUs;
  };
  const show = (next: Inputs, expecting: boolean, samples: number): void => {
    const startUs = timeline.nowUs;
    inputs = next;
    settle();
    const held = endHolds();
    const fromUs = startUs + samples * times.roundUs + times.settleUs + times.leadUs + held;
    timeline.phase(fromUs + times.windowUs + plan.periodUs, inputs, silent);
    if (expecting) expectIn(fromUs, fromUs + times.windowUs);
  };
  const withhold = (list: ReadonlySet<string>): readonly Transition[] =>
    [own, ...others].flatMap((routes) => {
      const losses = routes.flatMap((one) => lossOf(under, timeline, one, list, busUs) ?? []);
      const stays = routes.some(
        (one) => states.get(one)!.given.kind === 'value' && !losses.some((loss) => loss.planned === one),
      );
      // The first route holds from when the last of them is gone.
      return stays || losses.length === 0 ? losses : [...losses, ...holdAfter(under, routes[0]!, losses, busUs)];
    });

  return {
    timeline,
    expect,
    get fault() {
      return fault;
    },
    primaryGone() {
      const before = own.slice(0, own.indexOf(planned));
      return before.every((one) => states.get(one)!.given.kind === 'none');
    },
    prelude(rest, full) {
      inputs = rest;
      const settling = full ? times.settleUs : times.quickUs;
      timeline.phase(
        timeline.nowUs + times.samplesUs + times.roundUs + settling + times.leadUs + times.windowUs,
        inputs,
        silent,
      );
      settle();
    },
    show: (next, expecting) => show(next, expecting, 1),
    restore(message, next, samples) {
      silent = new Set([...silent].filter((other) => other !== message));
      show(next, true, samples + 1);
    },
    silence(list, expecting) {
      const transitions = withhold(list).toSorted((a, b) => a.fromUs - b.fromUs);
      silent = new Set([...silent, ...list]);
      const endUs = Math.max(timeline.nowUs, ...transitions.map(({ untilUs }) => untilUs));
      const gaps: { fromUs: number; untilUs: number }[] = [];
      for (const { untilUs } of transitions) {
        const next = transitions.filter(({ fromUs }) => fromUs >= untilUs).map(({ fromUs }) => fromUs);
        const busy = transitions.some((other) => other.fromUs < untilUs && other.untilUs > untilUs);
        const until = Math.min(untilUs + times.windowUs, ...next);
        if (!busy && until - untilUs >= times.windowUs) gaps.push({ fromUs: untilUs, untilUs: until });
      }
      timeline.phase(endUs + times.windowUs + plan.periodUs, inputs, silent);
      for (const { fromUs, untilUs } of uniqueGaps(gaps)) {
        const past = transitions.filter((transition) => transition.untilUs <= fromUs);
        lostTo = new Set([...lostTo, ...past.filter(({ what }) => what === 'lost').map((one) => one.planned)]);
        over = new Set([...over, ...past.filter(({ what }) => what === 'hold-over').map((one) => one.planned)]);
        settle();
        if (expecting && lostTo.has(planned)) {
          // Nothing may come to trigger a forwarded message.
          expectIn(fromUs, untilUs, field?.transmit.cadence.kind === 'forwarded' ? 'when-sent' : undefined);
        }
      }
    },
    tease(message, samples) {
      const sender = timeline.senders.get(message)!;
      const { everyUs, pages } = sender.source;
      const fromUs = timeline.nowUs;
      const rest = silent;
      const frames = samples * pages.length;
      timeline.phase(
        Math.max(fromUs, sender.nextUs) + (frames - 1) * everyUs + 1,
        inputs,
        new Set([...silent].filter((other) => other !== message)),
      );
      timeline.phase(timeline.nowUs + times.leadUs + times.windowUs, inputs, rest);
      expectIn(fromUs, timeline.nowUs, 'when-sent');
    },
  };

  function uniqueGaps<T extends { fromUs: number }>(gaps: readonly T[]): readonly T[] {
    return gaps.filter(({ fromUs }, at) => gaps.findIndex((other) => other.fromUs === fromUs) === at);
  }
}

/** A filter or a limit on the rate runs through values before it ends where there is none; a hold then keeps the last of them. */
function holdsWhatPassed(states: readonly RouteState[]): boolean {
  const [first] = states;
  if (first === undefined || states.some(({ given }) => given.kind === 'value')) return false;
  const { program, loss } = first.planned.compiled;
  const runs = program.nodes.some(({ kind }) => kind === 'smooth' || kind === 'rate-limit' || kind === 'delay');
  return runs && first.given.kind === 'none' && first.given.why !== 'lost' && loss.onLoss.kind === 'hold';
}

/** When a route notices that messages are withheld from now on; null when it reads none of them. */
function lossOf(
  { pairing, plan, times }: UnderTest,
  timeline: Timeline,
  planned: PlannedRoute,
  list: ReadonlySet<string>,
  busUs: number,
): Transition | null {
  const { route } = planned;
  if (route.staleAfterMs === undefined) return null;
  const staleUs = Math.round(route.staleAfterMs * 1000);
  const messages = new Set(route.from.map((ref) => messageOf(pairing, ref)));
  const after = settleUs(planned, plan.periodUs, false) ?? 0;
  const slackUs = plan.periodUs + plan.latencyUs + busUs + times.cycleUs;
  const withheld = [...messages].flatMap((ref) => {
    if (ref === null || !list.has(ref)) return [];
    const { lastUs, source } = timeline.senders.get(ref)!;
    return [{ earliestUs: lastUs - (source.pages.length - 1) * source.everyUs, latestUs: lastUs }];
  });
  if (withheld.length === 0) return null;
  return {
    planned,
    what: 'lost',
    fromUs: Math.min(...withheld.map(({ earliestUs }) => earliestUs)) + staleUs,
    untilUs: Math.max(...withheld.map(({ latestUs }) => latestUs)) + staleUs + slackUs + after,
  };
}

/** When the hold of a field's first route ends, after the losses that left the field without a value. */
function holdAfter(
  { plan, times }: UnderTest,
  first: PlannedRoute,
  losses: readonly Transition[],
  busUs: number,
): readonly Transition[] {
  const forMs = holdOf(first.compiled.loss.onLoss);
  if (forMs === null) return [];
  const forUs = Math.round(forMs * 1000);
  return [
    {
      planned: first,
      what: 'hold-over',
      fromUs: Math.min(...losses.map(({ fromUs }) => fromUs)) + forUs,
      untilUs:
        Math.max(...losses.map(({ untilUs }) => untilUs)) +
        forUs +
        plan.periodUs +
        plan.latencyUs +
        busUs +
        times.cycleUs,
    },
  ];
}

/** How long a hold lasts; null where there is none, or no end to it. */
export function holdOf(action: LossAction): number | null {
  return action.kind === 'hold' ? action.forMs : null;
}

/** Inputs by reference, as a bench can set them: `over` what stands in `rest`. */
export function inputsOf(
  { pairing, planned, rest }: UnderTest,
  own: readonly (SourceInput | null)[],
  resting: readonly (SourceInput | null)[],
): Inputs {
  const inputs = new Map(rest);
  planned.route.from.forEach((ref, at) => {
    const input = own[at] ?? resting[at] ?? null;
    if (input !== null) inputs.set(ref, settable(pairing, ref, input));
  });
  return inputs;
}
