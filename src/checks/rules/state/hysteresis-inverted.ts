import { placeOf } from '../../unit-faults.ts';
import { commonPractice, named, type Rule } from '../../rule.ts';
import { numberCase, mode } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'state/hysteresis-inverted',
  severity: 'fix',
  title: 'Thresholds do not rise, or the hysteresis does not fit between them',
  why: 'A negative hysteresis chatters at the threshold; one wider than its band can never be left.',
  sources: [commonPractice()],
  check: {
    route(context, route) {
      const { faults } = context.analysis(route);
      if (faults.length === 0) return null;
      const bands = new Set((route.steps ?? []).flatMap(({ do: kind }, index) => (kind === 'bands' ? [index] : [])));
      return faults
        .filter(({ kind, at }) => kind === 'hysteresis' || (kind === 'not-rising' && at !== null && bands.has(at)))
        .map((fault) => ({
          message: `${route.id}${placeOf(fault.at)}: ${fault.message}`,
          mask: context.maskOf(route),
          values: [named('step', (fault.at ?? 0) + 1), named('fault', fault.kind)],
        }));
    },
  },
  examples: {
    failing: () => ({
      says: 'The hysteresis of a threshold is negative.',
      documents: bands(-3),
      expect: ['route:the-route'],
    }),
    passing: () => ({ says: 'It is 3 °C.', documents: bands(3), expect: [] }),
  },
};

function bands(hysteresis: number) {
  return numberCase({
    target: { ...mode(), id: 'Hot', range: undefined, function: 'coolant-overheat-warning' },
    source: { function: 'coolant-temperature' },
    route: {
      steps: [{ do: 'bands', at: [118], states: ['Off', 'On'], hysteresis, unit: 'Cel' }],
      onLoss: { do: 'substitute', state: 'On' },
    },
  });
}
