import type { ResponseTime } from '../../../can/index.ts';
import { FUNCTIONS } from '../../../model/index.ts';
import { boundsOf, casesAsBuilt, responsesOf, segmentOf } from '../../bus-segments.ts';
import type { BusCase, BusFrame } from '../../bus-types.ts';
import { isMotionOrWorse, type CheckContext } from '../../context.ts';
import { fromMemory, named, type Draft, type Rule } from '../../rule.ts';
import { crowdedBus } from '../../examples/bus-case.ts';
import { hostMessage } from '../../examples/frame-case.ts';

/** A frame that can be late. `responseNs` null: no bound can be given. */
interface Late {
  readonly frame: BusFrame;
  readonly periodNs: number;
  readonly responseNs: number | null;
}

export const rule: Rule = {
  id: 'bus/deadline-missed',
  severity: 'stop',
  title: 'Frame can arrive later than its next sending is due',
  why: 'A frame waits for one that is being sent and for every one of higher priority, as often as those are sent meanwhile. When that can take longer than its own cycle, a value is overwritten before it was sent, or never gets through.',
  sources: [
    fromMemory(
      'Davis, Burns, Bril, Lukkien, Controller Area Network schedulability analysis: refuted, revisited and revised, Real-Time Systems 35 (2007): response time with every instance of the busy period',
    ),
    fromMemory('the same: deadline of a cyclic frame not above its period'),
  ],
  check: {
    bus(context, { side, bus }) {
      const ref = `${side}:${bus.id}`;
      const segment = segmentOf(context, ref);
      if (!segment || boundsOf(segment.together).every(({ boundNs, periodNs }) => boundNs <= periodNs)) return null;
      return segment.cases().flatMap((one): readonly Draft[] => {
        if (!one.refs.every((other) => ref <= other)) return [];
        const { late, undecided } = lateFrames(one);
        if (late.length > 0) return [missed(context, one, late)];
        return undecided === 0 ? [] : [notTold(one, undecided)];
      });
    },
  },
  examples: {
    failing: () => ({
      says: 'Twelve frames of 0.27 ms go before one that is due every 3 ms: it can wait for the one being sent and all twelve.',
      documents: crowdedBus({ own: 6, added: 6, cycleMs: 100, hostMessages: [last(3)] }),
      expect: ['bus:host:body-can'],
    }),
    passing: () => ({
      says: 'It is due every 10 ms.',
      documents: crowdedBus({ own: 6, added: 6, cycleMs: 100, hostMessages: [last(10)] }),
      expect: [],
    }),
  },
};

function last(cycleMs: number) {
  return hostMessage({ id: 'Last', frameId: '0x700', cycleMs, sender: 'cluster', readers: ['old-ecm'] });
}

function lateFrames(one: BusCase): { readonly late: readonly Late[]; readonly undecided: number } {
  const late: Late[] = [];
  let undecided = 0;
  for (const { frame, periodNs, boundNs } of boundsOf(one)) {
    if (boundNs <= periodNs) continue;
    const response: ResponseTime = responsesOf(one).get(frame)!;
    if (response.kind === 'beyond-limit') undecided += 1;
    else if (response.kind === 'unbounded') late.push({ frame, periodNs, responseNs: null });
    else if (response.responseNs > periodNs) late.push({ frame, periodNs, responseNs: response.responseNs });
  }
  return { late, undecided };
}

function missed(context: CheckContext, one: BusCase, late: readonly Late[]): Draft {
  const before = new Set(
    casesAsBuilt(context.pairing, one).flatMap((built) => lateFrames(built).late.map(({ frame }) => frame.ref)),
  );
  const added = late.filter(({ frame }) => !before.has(frame.ref));
  const told = (added.length > 0 ? added : late).toSorted((a, b) => excess(b) - excess(a));
  const silent = one.frames.filter(({ message }) => message.periodMs === null);
  return {
    severity: added.length === 0 ? 'look' : added.some(({ frame }) => isMotion(context, frame)) ? 'stop' : 'fix',
    message: `${one.refs.join(' with ')}: ${late.length} of ${one.frames.length} frames can be late in the worst case${added.length === 0 ? ', as they could in the vehicle as built' : ''}: ${told
      .slice(0, 3)
      .map((is) => `${is.frame.ref} ${arrives(is)}, due every ${milliseconds(is.periodNs)}`)
      .join('; ')}${told.length > 3 ? `; and ${told.length - 3} more` : ''}`,
    mask: one.mask,
    values: [
      ...told.slice(0, 20).map((is) => named(is.frame.ref, `${arrives(is)} of ${milliseconds(is.periodNs)}`)),
      named('late as built', before.size),
      ...(silent.length === 0 ? [] : [named('frames without a cycle, taken as silent', silent.length)]),
    ],
  };
}

function notTold(one: BusCase, count: number): Draft {
  return {
    severity: 'look',
    message: `${one.refs.join(' with ')}: whether ${count} ${count === 1 ? 'frame keeps its cycle' : 'frames keep their cycles'} cannot be told: the bus is so full that its busy period has no end in sight`,
    mask: one.mask,
    values: [named('frames', count)],
  };
}

function isMotion(context: CheckContext, { entry }: BusFrame): boolean {
  const { function: own, signals } = entry.message;
  return [own, ...signals.map((signal) => signal.function)].some((id) => {
    const known = id === undefined ? null : FUNCTIONS.get(id);
    return known ? isMotionOrWorse(context.classOf(known)) : false;
  });
}

function excess({ responseNs, periodNs }: Late): number {
  return responseNs === null ? Infinity : responseNs / periodNs;
}

function arrives({ responseNs }: Late): string {
  return responseNs === null ? 'never for certain' : `after ${milliseconds(responseNs)}`;
}

function milliseconds(ns: number): string {
  return `${Number((ns / 1e6).toFixed(3))} ms`;
}
