import { placeOf } from '../../unit-faults.ts';
import { commonPractice, named, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'range/outside-refused',
  severity: 'look',
  title: 'Curve refuses part of the source range',
  why: 'Outside its points the route takes its loss behaviour while the source is well: is that meant?',
  sources: [commonPractice()],
  check: {
    route(context, route) {
      const faults = context.analysis(route).faults.filter(({ kind }) => kind === 'outside-refused');
      if (faults.length === 0) return null;
      return faults.map((fault) => ({
        message: `${route.id}${placeOf(fault.at)}: ${fault.message}`,
        mask: context.maskOf(route),
        values: [named('outside', 'refuse')],
      }));
    },
  },
  examples: {
    failing: () => ({
      says: 'The curve ends at 150 °C and refuses what is beyond.',
      documents: curve('refuse'),
      expect: ['route:the-route'],
    }),
    passing: () => ({ says: 'It covers the whole range.', documents: curve('clamp'), expect: [] }),
  },
};

function curve(outside: 'refuse' | 'clamp') {
  return numberCase({
    route: {
      steps: [
        {
          do: 'curve',
          from: 'Cel',
          unit: 'Cel',
          outside,
          points:
            outside === 'refuse'
              ? [
                  [-40, -40],
                  [150, 150],
                ]
              : [
                  [-40, -40],
                  [210, 210],
                ],
        },
      ],
    },
  });
}
