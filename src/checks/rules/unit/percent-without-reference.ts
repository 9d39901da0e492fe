import { commonPractice, named, type Rule } from '../../rule.ts';
import { byte, flowCase } from '../../examples/signals.ts';

const OF_A_REFERENCE = new Set([
  'engine-torque-actual',
  'engine-torque-driver-demand',
  'engine-torque-limits',
  'torque-reduction-request',
  'torque-increase-request',
]);

export const rule: Rule = {
  id: 'unit/percent-without-reference',
  severity: 'fix',
  title: 'Percent of torque without the torque it is a percentage of',
  why: '50 % is 150 N·m of 300, and 200 N·m of 400: both sides must mean the same reference, or a linear step must carry one to the other. The route’s note states it.',
  sources: [
    { source: 'SAE J1939 SPN 513 and 544: percent of reference torque (transcription)', provenance: 'read' },
    commonPractice(),
  ],
  check: {
    route(context, route) {
      const entry = context.functionOf(route);
      if (!entry || !OF_A_REFERENCE.has(entry.id)) return null;
      const { target, sources } = context.analysis(route);
      const percent = [...sources, target].some((domain) => domain?.kind === 'number' && domain.unit?.code === '%');
      if (!percent || /\d\s*(N\.m|N·m|Nm|\[ft_i\]|lb|ft)/.test(route.note ?? '')) return null;
      return [
        {
          message: `${route.id} carries a percentage of torque, and its note does not state the reference torque of both sides in N·m`,
          mask: context.maskOf(route),
          values: [named('function', entry.id), named('unit', '%')],
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'Actual torque goes over in percent, with no word of what.',
      documents: torque(undefined),
      expect: ['route:actual'],
    }),
    passing: () => ({
      says: 'The note states the reference.',
      documents: torque('reference torque 400 N.m on both sides'),
      expect: [],
    }),
  },
};

function torque(note: string | undefined) {
  return flowCase({ toHost: [byte('Actual', 'engine-torque-actual', '%')], route: () => ({ staleAfterMs: 50, note }) });
}
