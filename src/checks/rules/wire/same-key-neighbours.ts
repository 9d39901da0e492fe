import { connectorSubject } from '../../cavity-claims.ts';
import { commonPractice, named, type Draft, type Rule } from '../../rule.ts';
import { buttonWire, fourWay, harnessCase, inputWire } from '../../examples/harness-case.ts';

export const rule: Rule = {
  id: 'wire/same-key-neighbours',
  severity: 'look',
  title: 'Two connectors of one housing and key within reach of each other',
  why: 'Two six-way sensors side by side with the same housing and key are exchanged at the next repair, and both plug in.',
  sources: [commonPractice('another key, or another housing, for every neighbour')],
  check: {
    harness(_context, plan) {
      const alike = new Map<string, string[]>();
      for (const page of plan.connectors()) {
        const connector = plan.find(page.ref);
        if (!connector || page.tapped || page.part === null || connector.zone === undefined) continue;
        const name = JSON.stringify([page.part, connector.key ?? null, connector.zone]);
        alike.set(name, [...(alike.get(name) ?? []), page.ref]);
      }
      return [...alike.values()].flatMap((refs): Draft[] =>
        refs.slice(1).map((ref) => {
          const { key, zone } = plan.find(ref)!;
          const part = plan.connectors().find((page) => page.ref === ref)!.part!;
          return {
            subject: connectorSubject(ref),
            message: `${refs[0]} and ${ref} both take the housing ${part}, key ${key ?? 'not stated'}, in ${zone}`,
            values: [
              named('connector', refs[0]!),
              named('connector', ref),
              named('housing', part),
              named('zone', zone!),
            ],
          };
        }),
      );
    },
  },
  examples: {
    failing: () => ({
      says: 'Two connectors of the powertrain take the same housing with the same key.',
      documents: neighbours('B'),
      expect: ['connector:donor:C2'],
    }),
    passing: () => ({ says: 'The second has another key.', documents: neighbours('D'), expect: [] }),
  },
};

function neighbours(key: string) {
  const more = { contacts: 'pin', zone: 'engine bay', mate: 'C-M', part: 'C-F' } as const;
  return harnessCase({
    to: { ...more, key: 'B' },
    donor: { connectors: [fourWay('C2', { ...more, key })] },
    hostWires: [buttonWire({ id: 'button-2', at: { connector: 'C7', cavity: '2' }, function: undefined })],
    donorWires: [inputWire({ id: 'in-2', at: { connector: 'C2', cavity: '1' }, function: undefined })],
    routes: [{ id: 'second', from: ['host:button-2'], to: 'donor:in-2', carrier: 'hard-wire', measured: true }],
    harness: {
      connectors: [],
      circuits: [],
      nodes: [{ id: 'n2', kind: 'connector', connector: 'donor:C2' }],
      segments: [{ id: 's2', from: 'n1', to: 'n2', lengthM: 0.2, maxC: 85 }],
    },
  });
}
