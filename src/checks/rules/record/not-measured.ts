import { isMotionOrWorse } from '../../context.ts';
import { commonPractice, named, type Rule } from '../../rule.ts';
import { guardedCase } from '../../examples/guarded.ts';

export const rule: Rule = {
  id: 'record/not-measured',
  severity: 'fix',
  title: 'Route that moves the vehicle was never measured',
  why: 'Texts agree and lamps light at the wrong end: before an interlock or motion route is relied on, it is measured on the bench or the vehicle, and marked so.',
  sources: [commonPractice()],
  check: {
    route(context, route) {
      if (route.measured === true) return null;
      const is = context.classOfRoute(route);
      if (!isMotionOrWorse(is)) return null;
      return [
        {
          message: `${route.id} (${is!.criticality}) is not marked as measured`,
          mask: context.maskOf(route),
          values: [named('criticality', is!.criticality)],
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'Engine speed for stability control was never compared with a measurement.',
      documents: guardedCase({ route: { measured: undefined } }),
      expect: ['route:speed'],
    }),
    passing: () => ({ says: 'It was.', documents: guardedCase(), expect: [] }),
  },
};
