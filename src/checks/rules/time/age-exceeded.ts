import type { Route } from '../../../model/index.ts';
import { deliveredAge, masksOnWay, responseBoundMs, responseParts, type ResponseParts } from '../../age.ts';
import { partition } from '../../combinations.ts';
import { isMotionOrWorse, type CheckContext } from '../../context.ts';
import { commonPractice, fromMemory, named, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'time/age-exceeded',
  severity: 'fix',
  title: 'Delivered value can be older than the function tolerates',
  why: 'Source period, interface period and latency, steps and target period add up: 20 + 10 + 20 + 5 ms is 55 for a torque request that tolerates 50. The worst-case response times of both frames on their buses come on top.',
  sources: [
    { source: 'Computed: the sum of the parts', provenance: 'computed' },
    fromMemory('Davis, Burns, Bril, Lukkien, Real-Time Systems 35 (2007): worst-case response times on the bus'),
    commonPractice('tolerable ages of the function catalogue'),
  ],
  check: {
    route(context, route) {
      const entry = context.functionOf(route);
      if (!entry || route.carrier === 'hard-wire') return null;
      const { staleAfterMs } = context.classOf(entry);
      if (staleAfterMs === null) return null;
      const { totalMs, parts, lacks } = deliveredAge(context, route);
      const mask = context.maskOf(route);
      const late =
        totalMs + responseBoundMs(context, route) > staleAfterMs
          ? exceeding(context, route, staleAfterMs - totalMs)
          : null;
      if (late === null) {
        // What is not known could still carry it over; that is said for what moves the vehicle.
        if (lacks.length === 0 || !isMotionOrWorse(context.classOf(entry))) return null;
        return [
          {
            severity: 'look',
            message: `${route.id}: whether the value is at most ${staleAfterMs} ms old cannot be told without the ${lacks.join(' and the ')}`,
            mask,
            values: [
              ...parts,
              named('tolerable age', staleAfterMs, 'ms'),
              ...lacks.map((what) => named('not known', what)),
            ],
          },
        ];
      }
      const all = [
        ...parts,
        ...(late.sourceMs > 0 ? [named('response on the source’s bus', late.sourceMs, 'ms')] : []),
        ...(late.targetMs > 0 ? [named('response on the target’s bus', late.targetMs, 'ms')] : []),
      ];
      const age = Math.round((totalMs + late.sourceMs + late.targetMs) * 1000) / 1000;
      return [
        {
          message: `${route.id}: the value can be ${age} ms old (${all.map(({ name, value }) => `${name} ${value}`).join(' + ')} ms); ${entry.title} tolerates ${staleAfterMs} ms`,
          mask: late.mask,
          values: [...all, named('age', age, 'ms'), named('tolerable age', staleAfterMs, 'ms')],
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'A tow/haul status that may be 1 s old is sent every 900 ms from a source of 200 ms.',
      documents: numberCase({
        sourceMessage: { cycleMs: 2500 },
        transmit: { cycleMs: 2600 },
        targetMessage: { cycleMs: 2600, staleAfterMs: 9000 },
      }),
      expect: ['route:the-route'],
    }),
    passing: () => ({
      says: 'Both periods are 100 ms; oil temperature tolerates 5 s.',
      documents: numberCase(),
      expect: [],
    }),
  },
};

/** The combinations in which the buses take longer than is left, with their worst case; null when they never do. */
function exceeding(
  context: CheckContext,
  route: Route,
  leftMs: number,
): (ResponseParts & { readonly mask: bigint }) | null {
  let worst: ResponseParts | null = null;
  let mask = 0n;
  const all = context.maskOf(route);
  for (const part of partition(all, masksOnWay(context, route))) {
    const found = responseParts(context, route, part);
    if (found.sourceMs + found.targetMs <= leftMs) continue;
    mask |= part;
    if (!worst || found.sourceMs + found.targetMs > worst.sourceMs + worst.targetMs) worst = found;
  }
  return worst && { ...worst, mask };
}
