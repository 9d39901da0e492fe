import { deliveredAge } from '../../age.ts';
import { isMotionOrWorse } from '../../context.ts';
import { commonPractice, named, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'time/age-exceeded',
  severity: 'fix',
  title: 'Delivered value can be older than the function tolerates',
  why: 'Source period, interface period and latency, steps and target period add up: 20 + 10 + 20 + 5 ms is 55 for a torque request that tolerates 50. Bus response times come on top.',
  sources: [
    { source: 'Computed: the sum of the parts', provenance: 'computed' },
    commonPractice('tolerable ages of the function catalogue'),
  ],
  check: {
    route(context, route) {
      const entry = context.functionOf(route);
      if (!entry || route.carrier === 'hard-wire') return null;
      const { staleAfterMs } = context.classOf(entry);
      if (staleAfterMs === null) return null;
      const { totalMs, parts, lacks } = deliveredAge(context, route);
      if (totalMs <= staleAfterMs) {
        // What is not known could still carry it over; that is said for what moves the vehicle.
        if (lacks.length === 0 || !isMotionOrWorse(context.classOf(entry))) return null;
        return [
          {
            severity: 'look',
            message: `${route.id}: whether the value is at most ${staleAfterMs} ms old cannot be told without the ${lacks.join(' and the ')}`,
            mask: context.maskOf(route),
            values: [
              ...parts,
              named('tolerable age', staleAfterMs, 'ms'),
              ...lacks.map((what) => named('not known', what)),
            ],
          },
        ];
      }
      return [
        {
          message: `${route.id}: the value can be ${totalMs} ms old (${parts.map(({ name, value }) => `${name} ${value}`).join(' + ')} ms); ${entry.title} tolerates ${staleAfterMs} ms`,
          mask: context.maskOf(route),
          values: [...parts, named('age', totalMs, 'ms'), named('tolerable age', staleAfterMs, 'ms')],
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
