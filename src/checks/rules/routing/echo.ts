import { readerIds, senderIds } from '../../../model/index.ts';
import { removeRoute } from '../../mends.ts';
import { commonPractice, named, type Draft, type Rule } from '../../rule.ts';
import { hostMessage, interfaceRoute, numberCase, temperature, transmitOf } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'routing/echo',
  severity: 'stop',
  title: 'Value comes back to its own sender',
  why: 'Copies that feed each other keep a dead value alive for ever, and a sender that reads its own echo trusts what nobody measures.',
  sources: [commonPractice('forward a value one way only')],
  check: {
    route(context, route) {
      const drafts: Draft[] = [];
      const target = context.pairing.find(route.to);
      if (!target) return null;
      const readers = new Set(readerIds(target));
      for (const { ref, entry: source } of context.sources(route)) {
        // Straight back: the reader of the target is the sender of the source, and nobody else reads it.
        if (source && source.side === target.side && ref !== route.to) {
          const own = senderIds(source).filter((id) => readers.has(id));
          if (own.length > 0 && own.length === readers.size) {
            drafts.push({
              message: `${route.id} takes ${ref} from ${own.join(', ')} and gives it back as ${route.to}`,
              mask: context.maskOf(route),
              values: [named('source', ref), named('target', route.to)],
              mend: removeRoute(route),
            });
          }
        }
        if (ref === route.to) {
          drafts.push({
            message: `${route.id} reads what it writes: ${ref}`,
            mask: context.maskOf(route),
            values: [named('source', ref), named('target', route.to)],
            mend: removeRoute(route),
          });
        }
      }
      // Two routes that feed each other: what this one writes, another reads and writes back to what this one reads.
      for (const back of context.pairing.routesFrom.get(route.to) ?? []) {
        if (back === route || !route.from.includes(back.to)) continue;
        const mask = context.maskOf(route) & context.maskOf(back);
        if (mask === 0n) continue;
        drafts.push({
          message: `${route.id} and ${back.id} feed each other: ${back.to} → ${route.to} → ${back.to}`,
          mask,
          values: [named('there', route.id), named('back', back.id)],
          mend: removeRoute(back),
        });
      }
      return drafts;
    },
  },
  examples: {
    failing: () => ({
      says: 'Oil temperature goes to the chassis, and from there back to the message it came from.',
      documents: numberCase({
        sourceMessage: { sender: 'old-panel', readers: ['engine'] },
        routes: [interfaceRoute({ id: 'way-back', from: ['host:ToCluster.OilTemp'], to: 'donor:FromEngine.OilTemp' })],
        transmits: [transmitOf('donor:FromEngine', { port: 'B' })],
      }),
      expect: ['route:the-route', 'route:way-back'],
    }),
    passing: () => ({
      says: 'One value goes one way; what comes back is another one.',
      documents: numberCase({
        hostMessages: [
          hostMessage({
            id: 'FromCluster',
            frameId: '0x230',
            sender: 'cluster',
            readers: ['old-ecm'],
            signals: [temperature({ id: 'Outside', function: 'ambient-air-temperature' })],
          }),
        ],
      }),
      expect: [],
    }),
  },
};
