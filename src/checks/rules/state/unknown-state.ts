import { placeOf } from '../../unit-faults.ts';
import { commonPractice, named, type Draft, type Rule } from '../../rule.ts';
import { stateCase } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'state/unknown-state',
  severity: 'fix',
  title: 'Step or loss behaviour names a state that is not there',
  why: 'A misspelt state never matches, or cannot be sent.',
  sources: [commonPractice()],
  check: {
    route(context, route) {
      const { faults, target } = context.analysis(route);
      const drafts: Draft[] = faults
        .filter((fault) => fault.kind === 'state-unknown' || fault.kind === 'target-lacks-state')
        .map((fault) => ({
          message: `${route.id}${placeOf(fault.at)}: ${fault.message}`,
          mask: context.maskOf(route),
          values: 'state' in fault ? [named('state', fault.state)] : [],
        }));
      const given = route.onLoss?.do === 'substitute' ? route.onLoss.state : undefined;
      if (given !== undefined && target?.kind === 'state' && !target.states.some(({ label }) => label === given)) {
        drafts.push({
          message: `${route.id} gives "${given}" on loss, and ${route.to} has no such state`,
          mask: context.maskOf(route),
          values: [named('state', given), named('states', target.states.map(({ label }) => label).join(', '))],
        });
      }
      return drafts.length === 0 ? null : drafts;
    },
  },
  examples: {
    failing: () => ({
      says: 'On loss it gives “Offf”.',
      documents: stateCase({ route: { onLoss: { do: 'substitute', state: 'Offf' } } }),
      expect: ['route:the-route'],
    }),
    passing: () => ({
      says: 'On loss it gives Off.',
      documents: stateCase({ route: { onLoss: { do: 'substitute', state: 'Off' } } }),
      expect: [],
    }),
  },
};
