import { readerIds } from '../../../model/index.ts';
import { removeRoute } from '../../mends.ts';
import { commonPractice, named, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'orphan/no-reader',
  severity: 'fix',
  title: 'Route goes to a signal that no retained module reads',
  why: 'Work for nobody, or a reader the platform forgot to name.',
  sources: [commonPractice()],
  check: {
    route(context, route) {
      const target = context.pairing.find(route.to);
      // Readers that are all removed are found under routing/removed-module.
      if (!target || readerIds(target).length > 0) return null;
      return [
        {
          message: `the platform names no reader of ${route.to}`,
          mask: context.maskOf(route),
          values: [named('target', route.to)],
          mend: removeRoute(route),
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'No module of the chassis reads the signal.',
      documents: numberCase({ targetMessage: { readers: [] } }),
      expect: ['route:the-route'],
    }),
    passing: () => ({ says: 'The cluster reads it.', documents: numberCase(), expect: [] }),
  },
};
