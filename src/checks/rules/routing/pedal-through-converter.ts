import { lawAndPractice } from '../../law.ts';
import { commonPractice, named, read, type Rule } from '../../rule.ts';
import { pedalCase } from './pedal-examples.ts';

const PEDAL = /^(accelerator-pedal-position-[12]|pedal-sensor-supply-returns)$/;

export const rule: Rule = {
  id: 'routing/pedal-through-converter',
  severity: 'stop',
  title: 'Accelerator pedal track passes through a programmable device',
  why: 'The engine controller compares two raw tracks; one converter between makes them one fault. Where the curves do not fit, the pedal that belongs to the engine controller goes in.',
  sources: [
    read('49 CFR 571.124 S5.2 (return to idle on a single failure)'),
    read('ISO 26262 (independence of redundant inputs, summary)'),
    commonPractice(),
  ],
  check: {
    route(context, route) {
      const entry = context.functionOf(route);
      if (!entry || !PEDAL.test(entry.id) || context.isHard(route)) return null;
      const paths = context.paths(route);
      if (paths.length === 0) return null;
      const is = context.classOf(entry);
      const through = new Set(
        paths.flatMap(({ elements }) =>
          elements
            .filter(({ role, programmable }) => role === 'carries' && programmable)
            .map(({ kind, ref }) => `${kind} ${ref}`),
        ),
      );
      return [
        {
          message: `${entry.title} does not reach ${route.to} on a conductor of its own: ${[...through].join(', ') || `carrier ${route.carrier}`}`,
          because: lawAndPractice(entry, is),
          mask: context.maskOf(route),
          values: [
            named('function', entry.id),
            named('carrier', route.carrier),
            ...[...through].map((ref) => named('through', ref)),
          ],
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'Track 1 is read by the interface module and put out again.',
      documents: pedalCase({ throughInterface: true }),
      expect: ['route:track-1'],
    }),
    passing: () => ({ says: 'Both tracks run end to end.', documents: pedalCase({}), expect: [] }),
  },
};
