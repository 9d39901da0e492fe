import { isTimed, sourceCycleMs } from '../../age.ts';
import { isMotionOrWorse } from '../../context.ts';
import { setRoute } from '../../mends.ts';
import { commonPractice, named, read, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'time/no-staleness-limit',
  severity: 'stop',
  title: 'No staleness limit',
  why: 'With a cut cable the last value is used for ever: throttle demand stays at 80 %.',
  sources: [
    read('AUTOSAR E2E: loss and delay of communication'),
    commonPractice('tolerable ages of the function catalogue'),
  ],
  check: {
    route(context, route) {
      if (route.staleAfterMs !== undefined || !isTimed(context, route)) return null;
      const is = context.classOfRoute(route);
      const cycle = sourceCycleMs(context, route);
      const proposed = is?.staleAfterMs ?? (cycle === null ? null : cycle * (isMotionOrWorse(is) ? 5 : 10));
      return [
        {
          severity: is === null || is.criticality === 'comfort' ? 'fix' : 'stop',
          message: `${route.id} has no staleAfterMs: when its source falls silent, nobody notices`,
          mask: context.maskOf(route),
          values: [
            ...(cycle === null ? [] : [named('source cycle', cycle, 'ms')]),
            ...(proposed === null ? [] : [named('proposed', proposed, 'ms')]),
          ],
          mend:
            proposed === null
              ? null
              : setRoute(route, 'staleAfterMs', proposed, `take it for lost after ${proposed} ms`),
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'The route never takes its source for lost.',
      documents: numberCase({ route: { staleAfterMs: undefined } }),
      expect: ['route:the-route'],
    }),
    passing: () => ({ says: 'It does after 500 ms.', documents: numberCase(), expect: [] }),
  },
};
