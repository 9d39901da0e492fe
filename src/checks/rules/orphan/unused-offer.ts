import { commonPractice, named, type Draft, type Rule } from '../../rule.ts';
import { bit, flowCase } from '../../examples/signals.ts';

export const rule: Rule = {
  id: 'orphan/unused-offer',
  severity: 'look',
  title: 'Function on offer that nothing takes',
  why: 'A retained module offers a function which its own side no longer reads and the other side is not given: forgotten, or worth a word why not.',
  sources: [commonPractice('unused sources are listed as such')],
  check: {
    function(context, entry) {
      if (context.routesOf(entry.id).length > 0) return null;
      const drafts: Draft[] = [];
      for (const side of ['host', 'donor'] as const) {
        const bearers = context.bearers(side, entry.id);
        if (bearers.length === 0) continue;
        // Needs of the same function are found as needs without a route.
        const needed = (['host', 'donor'] as const).some((any) =>
          context.bearers(any, entry.id).some(({ ref }) => context.derivation.needs.has(ref)),
        );
        if (needed) continue;
        const idle = bearers.filter(
          (bearer) =>
            context.sendersPresent(bearer).length > 0 &&
            context.readersPresent(bearer).length === 0 &&
            context.maskLeftOut(bearer.ref, entry.id) === 0n,
        );
        if (idle.length === 0 || idle.length < bearers.length) continue;
        drafts.push({
          message: `${entry.title} is on offer (${idle.map(({ ref }) => ref).join(', ')}), and nothing takes it`,
          values: idle.map(({ ref }) => named('offer', ref)),
        });
      }
      return drafts;
    },
  },
  examples: {
    failing: () => ({
      says: 'The powertrain offers its oil life lamp; the chassis has no such signal, and nobody says so.',
      documents: offer([]),
      expect: ['function:water-in-fuel'],
    }),
    passing: () => ({
      says: 'It is left out with a reason.',
      documents: offer([{ function: 'water-in-fuel', reason: 'the cluster has no such lamp' }]),
      expect: [],
    }),
  },
};

function offer(leftOut: { function: string; reason: string }[]) {
  return flowCase({
    donor: {
      messages: [
        {
          id: 'Filter',
          bus: 'drive-can',
          frameId: '0x150',
          idFormat: 'standard',
          length: 1,
          sender: 'engine',
          cycleMs: 1000,
          readers: ['old-panel'],
          documents: ['sheet-1'],
          signals: [bit('Water', 'water-in-fuel')],
        },
      ],
    },
    map: { leftOut },
  });
}
