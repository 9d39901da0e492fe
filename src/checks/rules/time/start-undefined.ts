import { setRoute } from '../../mends.ts';
import { commonPractice, named, type Rule } from '../../rule.ts';
import { bit, flowCase } from '../../examples/signals.ts';

export const rule: Rule = {
  id: 'time/start-undefined',
  severity: 'fix',
  title: 'What is sent at key-on, before the first value, is not decided',
  why: 'A frame that starts with zeros shows P for 200 ms with the lever in D.',
  sources: [commonPractice('not available, or the loss behaviour, until the first good sample')],
  check: {
    route(context, route) {
      if (route.carrier !== 'interface' || route.atStart !== undefined) return null;
      const is = context.classOfRoute(route);
      const target = context.pairing.find(route.to);
      const special = target?.kind === 'signal' && (target.signal.notAvailable?.length ?? 0) > 0;
      const start = special ? 'not-available' : 'loss-behaviour';
      return [
        {
          severity: is === null || is.criticality === 'comfort' ? 'look' : 'fix',
          message: `${route.id} does not say what ${route.to} is given before the first value ("atStart")`,
          mask: context.maskOf(route),
          values: [named('target', route.to)],
          mend: setRoute(
            route,
            'atStart',
            start,
            `start with ${start === 'not-available' ? 'not available' : 'the loss behaviour'}`,
          ),
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'Reverse status starts with whatever is there.',
      documents: reverse(undefined),
      expect: ['route:reverse'],
    }),
    passing: () => ({ says: 'It starts with its loss behaviour.', documents: reverse('loss-behaviour'), expect: [] }),
  },
};

function reverse(atStart: 'loss-behaviour' | undefined) {
  return flowCase({
    toHost: [bit('Reverse', 'reverse-gear-status')],
    route: () => ({ atStart, onLoss: { do: 'substitute', state: 'Off' } }),
  });
}
