import { readerIds, senderIds } from '../../../model/index.ts';
import { removeRoute } from '../../mends.ts';
import { commonPractice, named, type Draft, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'routing/removed-module',
  severity: 'stop',
  title: 'Route comes from or goes to a removed module',
  why: 'A removed module sends nothing and reads nothing: the route cannot work.',
  sources: [commonPractice('what is taken out of the vehicle can neither send nor read')],
  check: {
    route(context, route) {
      const drafts: Draft[] = [];
      for (const { ref, entry: source } of context.sources(route)) {
        if (!source) continue;
        const senders = senderIds(source);
        if (senders.length === 0 || context.sendersPresent(source).length > 0 || context.pairing.routesTo.has(ref))
          continue;
        drafts.push({
          message: `${ref} comes from ${senders.join(', ')}, which is removed`,
          mask: context.maskOf(route),
          values: [named('source', ref), ...senders.map((id) => named('removed', id))],
        });
      }
      const target = context.pairing.find(route.to);
      if (target) {
        const readers = readerIds(target);
        if (readers.length > 0 && context.readersPresent(target).length === 0) {
          drafts.push({
            severity: 'fix',
            message: `${route.to} is read by ${readers.join(', ')} only, which is removed`,
            mask: context.maskOf(route),
            values: [named('target', route.to), ...readers.map((id) => named('removed', id))],
            mend: removeRoute(route),
          });
        }
      }
      return drafts;
    },
  },
  examples: {
    failing: () => ({
      says: 'The source signal is sent by the removed panel.',
      documents: numberCase({ sourceMessage: { sender: 'old-panel', readers: ['engine'] } }),
      expect: ['route:the-route'],
    }),
    passing: () => ({ says: 'The sender stays.', documents: numberCase(), expect: [] }),
  },
};
