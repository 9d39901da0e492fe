import { connectorSubject } from '../../cavity-claims.ts';
import { commonPractice, named, type Draft, type Rule } from '../../rule.ts';
import { harnessCase } from '../../examples/harness-case.ts';

export const rule: Rule = {
  id: 'wire/connector-unknown',
  severity: 'look',
  title: 'Connector is named, and not described',
  why: 'Without its cavities, the sizes its terminals accept and the current its contacts bear, nobody can say whether the conductors that lead to it fit.',
  sources: [commonPractice('a page for each connector of the harness')],
  check: {
    harness(_context, plan) {
      const ends = new Map<string, { ids: string[]; mask: bigint }>();
      for (const { circuit } of plan.conductors) {
        for (const end of [circuit.from, circuit.to]) {
          if ((end.kind !== 'cavity' && end.kind !== 'part') || end.connector === null) continue;
          const entry = ends.get(end.connector) ?? { ids: [], mask: 0n };
          entry.ids.push(circuit.id);
          entry.mask |= circuit.mask;
          ends.set(end.connector, entry);
        }
      }
      return [...ends].flatMap(([ref, { ids, mask }]): Draft[] => {
        const connector = plan.find(ref);
        const lacks = connector
          ? [
              ...(connector.cavities.length === 0 ? ['its cavities'] : []),
              ...(connector.accepts === undefined && connector.acceptsAt === undefined
                ? ['the sizes that its terminals accept']
                : []),
              ...(connector.maxA === undefined && connector.maxAAt === undefined
                ? ['the current that its contacts bear']
                : []),
            ]
          : ['everything: it is in neither platform nor map'];
        if (lacks.length === 0) return [];
        return [
          {
            subject: connectorSubject(ref),
            message: `${ref} holds ${ids.length === 1 ? `the conductor ${ids[0]}` : `${ids.length} conductors`}, and is not described: ${lacks.join('; ')} not stated`,
            mask,
            values: [
              named('connector', ref),
              named('conductors', ids.length),
              ...lacks.map((one) => named('lacks', one)),
            ],
          },
        ];
      });
    },
  },
  examples: {
    failing: () => ({
      says: 'Nothing is said about the terminals and contacts of C1.',
      documents: harnessCase({ to: { accepts: undefined, maxA: undefined } }),
      expect: ['connector:donor:C1'],
    }),
    passing: () => ({ says: 'Both connectors are described.', documents: harnessCase(), expect: [] }),
  },
};
