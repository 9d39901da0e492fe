import { intervalText } from '../../numbers.ts';
import { commonPractice, named, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'range/saturates-midway',
  severity: 'fix',
  title: 'A step cuts off what the target could show',
  why: 'A clamp halfway hides part of the range without need: written for another target, or in the wrong unit.',
  sources: [commonPractice()],
  check: {
    route(context, route) {
      const { saturates, stages } = context.analysis(route);
      const needless = saturates.filter(({ couldBeShown }) => couldBeShown);
      if (needless.length === 0) return null;
      return needless.map(({ index, below, above, unit }) => {
        const parts = [below, above].filter((part) => part !== null).map((part) => intervalText(part, unit));
        return {
          message: `${route.id}, step ${index + 1} (${stages[index]!.step.do}) cuts off ${parts.join(' and ')}, which ${route.to} could show`,
          mask: context.maskOf(route),
          values: [named('step', stages[index]!.step.do), ...parts.map((part) => named('cut off', part))],
        };
      });
    },
  },
  examples: {
    failing: () => ({
      says: 'A limit ends at 120 °C, the target at 210 °C.',
      documents: numberCase({ route: { steps: [{ do: 'limit', max: 120, unit: 'Cel' }] } }),
      expect: ['route:the-route'],
    }),
    passing: () => ({
      says: 'The limit ends where the target does.',
      documents: numberCase({
        target: { range: [-40, 120] },
        route: { steps: [{ do: 'limit', max: 120, unit: 'Cel' }] },
      }),
      expect: [],
    }),
  },
};
