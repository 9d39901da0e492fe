import { connectorSubject } from '../../cavity-claims.ts';
import { commonPractice, named, type Draft, type Rule } from '../../rule.ts';
import { harnessCase } from '../../examples/harness-case.ts';

export const rule: Rule = {
  id: 'wire/seal-missing',
  severity: 'look',
  title: 'Sealed connector without seal or plug',
  why: 'One open cavity lets water into the whole housing: every conductor needs its seal, and every unused cavity its plug.',
  sources: [commonPractice('sealed housings: seal by insulation diameter, plug in every unused cavity')],
  check: {
    harness(_context, plan) {
      return plan.connectors().flatMap(({ ref, title, sealed, cavities, tapped }): Draft[] => {
        const connector = plan.find(ref);
        if (!sealed || tapped || !connector) return [];
        const empty = cavities.filter(({ needsPlug, plug }) => needsPlug && plug === null).length;
        const held = cavities.filter(({ conductors }) => conductors.length > 0).length;
        const lacks = [
          ...(connector.seal === undefined && held > 0 ? [`a seal for ${held} conductors`] : []),
          ...(empty > 0 ? [`a plug for ${empty} unused cavities`] : []),
        ];
        if (lacks.length === 0) return [];
        return [
          {
            subject: connectorSubject(ref),
            message: `${ref} (${title}) is sealed, and names no part for ${lacks.join(' and ').replaceAll(/\ba (seal|plug) for/g, 'the $1 of')}`,
            values: [
              named('connector', ref),
              named('conductors', held),
              named('unused cavities', cavities.filter(({ needsPlug }) => needsPlug).length),
              named('seal', connector.seal ?? 'not stated'),
              named('plug', connector.plug ?? 'not stated'),
            ],
          },
        ];
      });
    },
  },
  examples: {
    failing: () => ({
      says: 'A sealed four-way housing with three empty cavities and no plug.',
      documents: harnessCase({ to: { sealed: true, seal: 'S28' } }),
      expect: ['connector:donor:C1'],
    }),
    passing: () => ({
      says: 'Seal and plug are named.',
      documents: harnessCase({ to: { sealed: true, seal: 'S28', plug: 'P28' } }),
      expect: [],
    }),
  },
};
