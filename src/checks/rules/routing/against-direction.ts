import { removeRoute } from '../../mends.ts';
import { commonPractice, named, type Draft, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'routing/against-direction',
  severity: 'stop',
  title: 'Route runs against the direction of a signal or wire',
  why: 'What a retained module sends or drives has its owner: writing it makes two senders of one frame or two drivers on one conductor. An input offers nothing to take.',
  sources: [commonPractice(), { source: 'ISO 11898-1: one sender for an identifier', provenance: 'from memory' }],
  check: {
    route(context, route) {
      const drafts: Draft[] = [];
      const target = context.pairing.find(route.to);
      if (target) {
        const owners = context.sendersPresent(target);
        const shared =
          route.carrier === 'bus' && route.from.every((ref) => context.pairing.find(ref)?.side === target.side);
        if (owners.length > 0 && !shared) {
          drafts.push({
            message: `${route.to} is ${target.kind === 'wire' ? 'driven' : 'sent'} by ${owners.join(', ')}, which is retained: it must not be written`,
            mask: context.maskOf(route),
            values: [named('target', route.to), ...owners.map((id) => named('owner', id))],
            mend: removeRoute(route),
          });
        }
      }
      for (const { ref, entry: source } of context.sources(route)) {
        if (source?.kind !== 'wire' || source.wire.direction !== 'in' || source.wire.driver !== undefined) continue;
        if (context.pairing.routesTo.has(ref)) continue;
        drafts.push({
          message: `${ref} is an input of ${source.wire.module} without a driver: there is nothing on it to take`,
          mask: context.maskOf(route),
          values: [named('source', ref), named('direction', 'in')],
        });
      }
      return drafts;
    },
  },
  examples: {
    failing: () => ({
      says: 'The route writes a signal which the retained cluster sends itself.',
      documents: numberCase({ targetMessage: { sender: 'cluster', readers: ['cluster'] }, transmit: null }),
      expect: ['route:the-route'],
      alsoStops: ['orphan/no-pin-or-port'],
    }),
    passing: () => ({ says: 'The sender of the written signal is removed.', documents: numberCase(), expect: [] }),
  },
};
