import { removeStep } from '../../step-mends.ts';
import { commonPractice, named, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'range/step-never-acts',
  severity: 'look',
  title: 'Step that changes nothing for any value that can reach it',
  why: 'It was written for another source, or its numbers are wrong.',
  sources: [commonPractice()],
  check: {
    route(context, route) {
      const { stepsThatNeverAct, stages } = context.analysis(route);
      if (stepsThatNeverAct.length === 0) return null;
      return stepsThatNeverAct.map((index) => ({
        message: `${route.id}, step ${index + 1} (${stages[index]!.step.do}) changes nothing for any value that can reach it`,
        mask: context.maskOf(route),
        values: [named('step', stages[index]!.step.do)],
        mend: removeStep(route, index, 'take the step out'),
      }));
    },
  },
  examples: {
    failing: () => ({
      says: 'A limit at 900 °C stands over a source that ends at 210 °C.',
      documents: numberCase({ route: { steps: [{ do: 'limit', max: 900, unit: 'Cel' }] } }),
      expect: ['route:the-route'],
    }),
    passing: () => ({ says: 'There is no such step.', documents: numberCase(), expect: [] }),
  },
};
