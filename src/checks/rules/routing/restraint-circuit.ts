import type { Endpoint } from '../../../model/index.ts';
import { readerIds, senderIds } from '../../../model/index.ts';
import { removeRoute } from '../../mends.ts';
import { commonPractice, named, read, type Draft, type Rule } from '../../rule.ts';
import { wireCase } from '../../examples/wire-case.ts';
import type { CheckContext } from '../../context.ts';

export const rule: Rule = {
  id: 'routing/restraint-circuit',
  severity: 'stop',
  title: 'Route touches a restraint (airbag) circuit',
  why: 'A tap, a splice or a stray pulse on a restraint circuit can fire it or keep it from firing. No route may touch one; leave such work to the vehicle maker’s documents and licensed practice.',
  sources: [
    read('49 USC 30122 (making safety equipment inoperative)'),
    commonPractice('standing rule: restraint circuits are not touched'),
  ],
  check: {
    route(context, route) {
      const drafts: Draft[] = [];
      for (const { ref, entry: entry } of context.ends(route)) {
        // A frame on a shared bus is no circuit of the restraint system; what such a unit sends or reads there may be relayed.
        if (entry?.kind !== 'wire') continue;
        const restraint = restraintModule(context, entry);
        if (restraint === null) continue;
        drafts.push({
          message: `${ref} is a circuit of ${restraint}, a restraint module: no route may touch it`,
          mask: context.maskOf(route),
          values: [named('circuit', ref), named('restraint module', restraint)],
          mend: removeRoute(route),
        });
      }
      return drafts;
    },
  },
  examples: {
    failing: () => ({
      says: 'The crash output of the restraint module is wired to the fuel pump relay.',
      documents: withDriver(true),
      expect: ['route:the-route'],
    }),
    passing: () => ({ says: 'An inertia switch of its own does the same.', documents: withDriver(false), expect: [] }),
  },
};

function restraintModule(context: CheckContext, entry: Endpoint): string | null {
  const { modules } = context.pairing.side(entry.side);
  const ids = [...senderIds(entry), ...readerIds(entry), ...(entry.kind === 'wire' ? [entry.wire.module] : [])];
  return ids.find((id) => modules.get(id)?.restraint === true) ?? null;
}

function withDriver(restraint: boolean) {
  const crash = { function: 'crash-fuel-cutoff', meaning: { active: 'Crash', inactive: 'No crash' } } as const;
  return wireCase({
    source: { ...crash, module: 'crash-output', electrical: { class: 'switched-ground', activeLevel: 'low' } },
    target: crash,
    donor: {
      modules: [
        {
          id: 'crash-output',
          title: restraint ? 'Restraint module' : 'Inertia switch',
          kind: restraint ? 'controller' : 'switch',
          restraint,
        },
      ],
    },
  });
}
