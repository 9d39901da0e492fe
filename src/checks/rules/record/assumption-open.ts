import { commonPractice, named, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'record/assumption-open',
  severity: 'fix',
  title: 'Route rests on an assumption',
  why: 'An open question that is exported becomes a fact in somebody’s hands: a cavity to be decided gets shipped.',
  sources: [commonPractice()],
  check: {
    route(context, route) {
      if (route.assumed !== true) return null;
      return [
        {
          message: `${route.id} is assumed, not known${route.note ? `: ${route.note}` : ''}`,
          mask: context.maskOf(route),
          values: [named('route', route.id)],
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'The route is marked as assumed.',
      documents: numberCase({ route: { assumed: true } }),
      expect: ['route:the-route'],
    }),
    passing: () => ({ says: 'It is not.', documents: numberCase(), expect: [] }),
  },
};
