import { connectorSubject } from '../../cavity-claims.ts';
import { commonPractice, named, type Rule } from '../../rule.ts';
import { harnessCase } from '../../examples/harness-case.ts';

export const rule: Rule = {
  id: 'wire/view-not-stated',
  severity: 'fix',
  title: 'View in which a connector is numbered is not stated',
  why: 'Seen from the mating side a two-row 24-way housing has cavity 12 where the wire side has cavity 1: a 5 V supply lands on a ground.',
  sources: [commonPractice('state wire side or mating side on every connector sheet')],
  check: {
    harness(_context, plan) {
      return plan.connectors().flatMap(({ ref, title, known, view, cavities }) => {
        // One cavity has no left and right.
        if (!known || view !== null || cavities.length < 2) return [];
        return [
          {
            subject: connectorSubject(ref),
            message: `${ref} (${title}) does not say whether it is numbered as seen from the wire side or from the mating side`,
            values: [named('connector', ref), named('cavities', cavities.length)],
          },
        ];
      });
    },
  },
  examples: {
    failing: () => ({
      says: 'The drawing of C1 does not say from which side it is seen.',
      documents: harnessCase({ to: { view: undefined } }),
      expect: ['connector:donor:C1'],
    }),
    passing: () => ({ says: 'Both are seen from the wire side.', documents: harnessCase(), expect: [] }),
  },
};
