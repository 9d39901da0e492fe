import { commonPractice, named, type Rule } from '../../rule.ts';
import { stateCase } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'state/never-produced',
  severity: 'look',
  title: 'State of the target that nothing leads to',
  why: 'A warning that can never light, or a state that the new source does not have: a person should have seen it.',
  sources: [commonPractice()],
  check: {
    route(context, route) {
      const { targetStatesNeverProduced } = context.analysis(route);
      if (targetStatesNeverProduced.length === 0) return null;
      // What the route gives on loss is produced, if only then.
      const onLoss = route.onLoss?.do === 'substitute' ? route.onLoss.state : undefined;
      const never = targetStatesNeverProduced.filter((state) => state !== onLoss);
      if (never.length === 0) return null;
      return [
        {
          message: `no state of the source leads to ${never.map((state) => `"${state}"`).join(', ')} of ${route.to}`,
          mask: context.maskOf(route),
          values: never.map((state) => named('state', state)),
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'The lamp can blink; the source has no state for that.',
      documents: stateCase({ target: { states: { '0': 'Off', '1': 'On', '2': 'Blinking' } } }),
      expect: ['route:the-route'],
    }),
    passing: () => ({ says: 'Both have two states.', documents: stateCase(), expect: [] }),
  },
};
