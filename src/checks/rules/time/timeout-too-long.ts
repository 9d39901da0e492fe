import { setRoute } from '../../mends.ts';
import { commonPractice, named, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'time/timeout-too-long',
  severity: 'fix',
  title: 'Staleness limit longer than the function tolerates',
  why: 'A torque request that is tolerable for 50 ms and taken for good for 500 acts ten times too long.',
  sources: [commonPractice('tolerable ages of the function catalogue')],
  check: {
    route(context, route) {
      const is = context.classOfRoute(route);
      if (
        is === null ||
        is.staleAfterMs === null ||
        route.staleAfterMs === undefined ||
        route.staleAfterMs <= is.staleAfterMs
      )
        return null;
      return [
        {
          message: `${route.id} takes its source for good for ${route.staleAfterMs} ms; the function tolerates ${is.staleAfterMs} ms`,
          mask: context.maskOf(route),
          values: [named('staleness limit', route.staleAfterMs, 'ms'), named('tolerable age', is.staleAfterMs, 'ms')],
          mend: setRoute(route, 'staleAfterMs', is.staleAfterMs, `take it for lost after ${is.staleAfterMs} ms`),
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'Oil temperature may be 5 s old and is taken for good for 20.',
      documents: numberCase({ route: { staleAfterMs: 20000 } }),
      expect: ['route:the-route'],
    }),
    passing: () => ({ says: 'It is taken for good for 500 ms.', documents: numberCase(), expect: [] }),
  },
};
