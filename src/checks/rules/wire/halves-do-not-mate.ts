import type { Connector } from '../../../model/index.ts';
import type { WiringPlan } from '../../../wiring/index.ts';
import { connectorSubject } from '../../cavity-claims.ts';
import { commonPractice, named, type Draft, type Rule } from '../../rule.ts';
import { fourWay, harnessCase } from '../../examples/harness-case.ts';

export const rule: Rule = {
  id: 'wire/halves-do-not-mate',
  severity: 'fix',
  title: 'Two halves of a connector do not mate',
  why: 'Two housings with sockets, or two of another key, are ordered by their numbers and do not go together on the bench.',
  sources: [commonPractice('each half names its mate; one has pins, the other sockets')],
  check: {
    harness(_context, plan) {
      const all = connectorsOf(plan);
      const byPart = new Map<string, { ref: string; connector: Connector }[]>();
      for (const entry of all) {
        const { part } = entry.connector;
        if (part !== undefined) byPart.set(part, [...(byPart.get(part) ?? []), entry]);
      }
      return all.flatMap(({ ref, connector }): Draft[] => {
        const { part, mate, contacts, key } = connector;
        const faults: { fault: string; other: string }[] = [];
        if (mate !== undefined && mate === part)
          faults.push({ fault: `names itself (${part}) as its mate`, other: ref });
        for (const other of mate === undefined || mate === part ? [] : (byPart.get(mate) ?? [])) {
          if (contacts !== undefined && other.connector.contacts === contacts)
            faults.push({ fault: `and ${other.ref} both have ${contacts}s`, other: other.ref });
          if (key !== undefined && other.connector.key !== undefined && other.connector.key !== key)
            faults.push({
              fault: `has key ${key}, its mate ${other.ref} key ${other.connector.key}`,
              other: other.ref,
            });
          if (other.connector.mate !== undefined && other.connector.mate !== part)
            faults.push({
              fault: `has ${other.ref} for its mate, which mates with ${other.connector.mate}`,
              other: other.ref,
            });
        }
        return faults.map(({ fault, other }) => ({
          subject: connectorSubject(ref),
          message: `${ref} ${fault}`,
          values: [named('connector', ref), named('other half', other), named('contacts', contacts ?? 'not stated')],
        }));
      });
    },
  },
  examples: {
    failing: () => ({
      says: 'An added connector with sockets for a socket housing of the chassis.',
      documents: halves('socket'),
      expect: ['connector:X9', 'connector:host:C7'],
    }),
    passing: () => ({ says: 'It has pins.', documents: halves('pin'), expect: [] }),
  },
};

/** Every connector of both platforms and of the map, by its reference. */
function connectorsOf({ pairing }: WiringPlan): readonly { readonly ref: string; readonly connector: Connector }[] {
  return [
    ...[pairing.host, pairing.donor].flatMap(({ name, platform }) =>
      platform.connectors.map((connector) => ({ ref: `${name}:${connector.id}`, connector })),
    ),
    ...(pairing.map.harness?.connectors ?? []).map((connector) => ({ ref: connector.id, connector })),
  ];
}

function halves(contacts: 'pin' | 'socket') {
  return harnessCase({
    from: { part: 'P-1', mate: 'P-2', contacts: 'socket' },
    harness: {
      nodes: [],
      segments: [],
      circuits: [],
      connectors: [fourWay('X9', { part: 'P-2', mate: 'P-1', contacts, documents: undefined })],
    },
  });
}
