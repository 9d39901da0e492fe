import { lossOf, type Json } from '../../../model/index.ts';
import { setRoute } from '../../mends.ts';
import { commonPractice, named, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';
import { lossForTarget } from '../../loss-for-target.ts';

export const rule: Rule = {
  id: 'time/no-loss-behaviour',
  severity: 'stop',
  title: 'No loss behaviour',
  why: 'When the source goes stale the reader must get something that was decided: hold, a value, nothing, an open output.',
  sources: [commonPractice('safe states of the function catalogue')],
  check: {
    route(context, route) {
      if (route.carrier !== 'interface' || route.onLoss !== undefined) return null;
      const is = context.classOfRoute(route);
      const safe = lossOf(context.functionIdOf(route) ?? undefined);
      const target = context.pairing.find(route.to);
      const proposed = target ? lossForTarget(safe, target, context.functionIdOf(route)) : null;
      return [
        {
          severity: is === null || is.criticality === 'comfort' ? 'fix' : 'stop',
          message: `${route.id} does not say what ${route.to} is given when its source is lost${safe ? `; safe for this function: ${safe.says}` : ''}`,
          mask: context.maskOf(route),
          values: safe ? [named('safe state', safe.says)] : [],
          mend:
            proposed === null
              ? null
              : setRoute(route, 'onLoss', proposed as Json, 'give it the safe state of the function'),
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'The route has no onLoss.',
      documents: numberCase({ route: { onLoss: undefined } }),
      expect: ['route:the-route'],
    }),
    passing: () => ({ says: 'The cluster is told that there is no value.', documents: numberCase(), expect: [] }),
  },
};
