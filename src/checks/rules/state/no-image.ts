import { isMotionOrWorse } from '../../context.ts';
import { commonPractice, named, type Rule } from '../../rule.ts';
import { stateCase } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'state/no-image',
  severity: 'stop',
  title: 'Source state that ends nowhere',
  why: 'When the source takes that state, the reader keeps or loses what it had: the display holds D while the lever is in M.',
  sources: [commonPractice('every source state is listed, or an otherwise stands for the rest')],
  check: {
    route(context, route) {
      const { statesWithoutImage } = context.analysis(route);
      if (statesWithoutImage.length === 0) return null;
      const is = context.classOfRoute(route);
      return [
        {
          severity: isMotionOrWorse(is) || is?.criticality === 'regulated-display' ? 'stop' : 'fix',
          message: `${route.id} has nothing for ${statesWithoutImage.map(({ state, at }) => `"${state}"${at === null ? ` (${route.to} has no such state)` : ` (step ${at + 1})`}`).join(', ')}`,
          mask: context.maskOf(route),
          values: statesWithoutImage.map(({ source, state }) => named('state', state, route.from[source] ?? '')),
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'The source has a third state that the table does not list.',
      documents: stateCase({
        source: { states: { '0': 'Off', '1': 'On', '2': 'Blinking' } },
        route: { steps: [{ do: 'states', map: { Off: 'Off', On: 'On' } }] },
      }),
      expect: ['route:the-route'],
    }),
    passing: () => ({
      says: 'It is mapped to On.',
      documents: stateCase({
        source: { states: { '0': 'Off', '1': 'On', '2': 'Blinking' } },
        route: { steps: [{ do: 'states', map: { Off: 'Off', On: 'On', Blinking: 'On' } }] },
      }),
      expect: [],
    }),
  },
};
