import { commonPractice, named, type Rule } from '../../rule.ts';
import { bit, flowCase } from '../../examples/signals.ts';

const FOUR_WHEEL = new Set(['transfer-case-range', 'four-wheel-drive-engaged', 'transfer-case-neutral-confirm']);
const DRIVETRAIN = /^(2|4|a|f|r)wd$|4x[24]|two-wheel|four-wheel|all-wheel/i;

export const rule: Rule = {
  id: 'option/drivetrain-not-distinguished',
  severity: 'fix',
  title: 'Four-wheel-drive function is routed in two-wheel-drive builds too',
  why: 'Without a transfer case its message is absent: the reader sets a code in every two-wheel-drive vehicle.',
  sources: [commonPractice()],
  check: {
    route(context, route) {
      const entry = context.functionOf(route);
      if (!entry || !FOUR_WHEEL.has(entry.id)) return null;
      const axes = (context.pairing.map.options ?? []).filter(
        ({ choices }) => choices.filter((choice) => DRIVETRAIN.test(choice)).length >= 2,
      );
      const axis = axes[0];
      if (!axis || axes.some(({ id }) => route.when !== undefined && Object.hasOwn(route.when, id))) return null;
      return [
        {
          message: `${route.id} carries ${entry.title} in every choice of ${axis.id} (${axis.choices.join(', ')})`,
          mask: context.maskOf(route),
          values: [named('function', entry.id), named('option', axis.id)],
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'The four-wheel-drive status is routed whatever the drivetrain.',
      documents: engaged(undefined),
      expect: ['route:engaged'],
    }),
    passing: () => ({
      says: 'It is with four-wheel drive only.',
      documents: engaged({ drivetrain: ['4wd'] }),
      expect: [],
    }),
  },
};

function engaged(when: Record<string, string[]> | undefined) {
  return flowCase({
    toHost: [bit('Engaged', 'four-wheel-drive-engaged')],
    route: () => ({ when, staleAfterMs: 500, onLoss: { do: 'hold' } }),
    map: {
      options: [{ id: 'drivetrain', choices: ['2wd', '4wd'] }],
      leftOut: [{ signal: 'host:ToCluster.Engaged', reason: 'no transfer case', when: { drivetrain: ['2wd'] } }],
    },
  });
}
