import type { Endpoint } from '../../../model/index.ts';
import type { CheckContext } from '../../context.ts';
import { senderIds } from '../../../model/index.ts';
import { commonPractice, named, type Draft, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';
import { setRoute } from '../../mends.ts';
import type { Json } from '../../../model/index.ts';

export const rule: Rule = {
  id: 'option/endpoint-absent',
  severity: 'fix',
  title: 'Route holds in a build in which its source or target is not fitted',
  why: 'Without the option there is no evaporator sensor: the route then waits for it for ever.',
  sources: [commonPractice()],
  check: {
    route(context, route) {
      const drafts: Draft[] = [];
      for (const { ref, entry: end } of context.ends(route)) {
        if (!end) continue;
        const mask = context.maskOf(route) & ~maskOfEnd(context, end);
        if (mask === 0n) continue;
        const when =
          end.kind === 'signal'
            ? (end.signal.when ?? end.message.when)
            : end.kind === 'wire'
              ? end.wire.when
              : end.message.when;
        drafts.push({
          message: `${ref} is not there in ${context.pairing.options.describe(mask).join('; ') || 'any combination'}, and ${route.id} is`,
          mask,
          values: [named('absent', ref)],
          mend:
            when !== undefined && route.when === undefined
              ? setRoute(route, 'when', when as Json, 'let the route hold only where it is fitted')
              : null,
        });
      }
      return drafts.length === 0 ? null : drafts;
    },
  },
  examples: {
    failing: () => ({
      says: 'The sensor comes with the tow option; the route is always there.',
      documents: tow(undefined),
      expect: ['route:the-route'],
    }),
    passing: () => ({ says: 'The route comes with the option too.', documents: tow({ tow: ['yes'] }), expect: [] }),
  },
};

/** Where an endpoint exists: its own condition, its message's, and that of some module which sends it. */
function maskOfEnd(context: CheckContext, end: Endpoint): bigint {
  const { options } = context.pairing;
  let mask = end.kind === 'wire' ? options.maskOf(end.wire.when) : options.maskOf(end.message.when);
  if (end.kind === 'signal' && end.signal.when !== undefined) mask &= options.maskOf(end.signal.when);
  const { modules } = context.pairing.side(end.side);
  let sent: bigint | null = null;
  for (const id of senderIds(end)) {
    const module = modules.get(id);
    if (!module) continue;
    // One sender that is always there is enough.
    if (module.when === undefined) return mask;
    sent = (sent ?? 0n) | options.maskOf(module.when);
  }
  return sent === null ? mask : mask & sent;
}

function tow(when: Record<string, string[]> | undefined) {
  return numberCase({
    map: {
      options: [{ id: 'tow', choices: ['yes', 'no'] }],
      leftOut: [{ signal: 'host:ToCluster.OilTemp', reason: 'no sensor', when: { tow: ['no'] } }],
    },
    source: { when: { tow: ['yes'] } },
    route: { when },
  });
}
