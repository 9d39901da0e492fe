import { isTimed, sourceCycleMs } from '../../age.ts';
import { commonPractice, named, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'time/timeout-too-short',
  severity: 'look',
  title: 'Staleness limit shorter than two and a half source periods',
  why: 'One lost frame or a little jitter trips it: the reader flickers between value and loss behaviour.',
  sources: [commonPractice('at least 2.5 periods')],
  check: {
    route(context, route) {
      if (route.staleAfterMs === undefined || !isTimed(context, route)) return null;
      const cycle = sourceCycleMs(context, route);
      if (cycle === null || route.staleAfterMs >= 2.5 * cycle) return null;
      // The function may tolerate no more: then the source is too slow for it, which time/age-exceeded says.
      const tolerable = context.classOfRoute(route)?.staleAfterMs ?? null;
      if (tolerable !== null && tolerable < 2.5 * cycle && route.staleAfterMs >= Math.min(tolerable, cycle))
        return null;
      return [
        {
          message: `${route.id} takes its source for lost after ${route.staleAfterMs} ms, and it comes every ${cycle} ms only`,
          mask: context.maskOf(route),
          values: [named('staleness limit', route.staleAfterMs, 'ms'), named('source cycle', cycle, 'ms')],
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'A source of 100 ms is taken for lost after 150.',
      documents: numberCase({ route: { staleAfterMs: 150 } }),
      expect: ['route:the-route'],
    }),
    passing: () => ({ says: 'It is after 500.', documents: numberCase(), expect: [] }),
  },
};
