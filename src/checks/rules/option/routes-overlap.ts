import { commonPractice, named, type Rule } from '../../rule.ts';
import { interfaceRoute, numberCase } from '../../examples/frame-case.ts';

const OPTIONS = [{ id: 'year', choices: ['early', 'late'] }];

export const rule: Rule = {
  id: 'option/routes-overlap',
  severity: 'stop',
  title: 'Two routes for different options meet in one combination',
  why: 'In that build both write one reader, and nothing says which wins.',
  sources: [commonPractice()],
  check: {
    route(context, route) {
      if (route.when === undefined) return null;
      const all = context.pairing.routesTo.get(route.to);
      if (!all || all.length < 2) return null;
      return all.slice(0, all.indexOf(route)).flatMap((other) => {
        if (other.when === undefined || other.backupOf === route.id || route.backupOf === other.id) return [];
        const mask = context.maskOf(route) & context.maskOf(other);
        if (mask === 0n) return [];
        return [
          {
            message: `${other.id} and ${route.id} both write ${route.to} in ${context.pairing.options.describe(mask).join('; ') || 'every combination'}`,
            mask,
            values: [named('first', other.id), named('second', route.id)],
          },
        ];
      });
    },
  },
  examples: {
    failing: () => ({
      says: 'The second route is for early and late.',
      documents: twice(['early', 'late']),
      expect: ['route:second-route'],
    }),
    passing: () => ({ says: 'One is for early, one for late.', documents: twice(['late']), expect: [] }),
  },
};

function twice(when: string[]) {
  return numberCase({
    map: { options: OPTIONS },
    route: { when: { year: ['early'] } },
    routes: [
      interfaceRoute({
        id: 'second-route',
        from: ['donor:FromEngine.OilTemp'],
        to: 'host:ToCluster.OilTemp',
        when: { year: when },
      }),
    ],
  });
}
