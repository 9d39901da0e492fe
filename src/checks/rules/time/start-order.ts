import { commonPractice, named, type Draft, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';
import { interfaceModule } from '../../examples/documents.ts';

export const rule: Rule = {
  id: 'time/start-order',
  severity: 'look',
  title: 'Interface module starts later than a reader waits, or its start time is not stated',
  why: 'A module that boots in 300 ms misses a reader that expects frames after 200: a code at every key-on.',
  sources: [commonPractice()],
  check: {
    transmit(context, transmit) {
      const by = context.pairing.interfaceModules.get(transmit.by);
      const entry = context.pairing.find(transmit.message);
      if (!by || by.startMs === undefined || entry?.kind !== 'message' || entry.message.staleAfterMs === undefined)
        return null;
      const first = by.startMs + by.periodMs + by.latencyMs + (transmit.phaseMs ?? 0);
      if (first <= entry.message.staleAfterMs) return null;
      return [
        {
          message: `${transmit.message} comes ${first} ms after key-on at the earliest; its readers time out after ${entry.message.staleAfterMs} ms`,
          mask: context.pairing.options.maskOf(transmit.when),
          values: [
            named('first frame', first, 'ms'),
            named('reader times out after', entry.message.staleAfterMs, 'ms'),
          ],
        },
      ];
    },
    interface(context, owner) {
      const sends = context.pairing.map.transmits.some(({ by }) => by === owner.id);
      if (owner.startMs !== undefined || !sends) return null;
      const draft: Draft = {
        message: `the start time of ${owner.id} is not stated ("startMs"): whether its first frames come in time cannot be told`,
        values: [named('interface module', owner.id)],
      };
      return [draft];
    },
  },
  examples: {
    failing: () => ({
      says: 'The module boots for 1.5 s, the cluster waits 1 s.',
      documents: numberCase({ map: { interfaceModules: [interfaceModule({ startMs: 1500 })] } }),
      expect: ['transmit:host:ToCluster'],
    }),
    passing: () => ({ says: 'It boots in 50 ms.', documents: numberCase(), expect: [] }),
  },
};
