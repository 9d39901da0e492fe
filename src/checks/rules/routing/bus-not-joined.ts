import type { Endpoint } from '../../../model/index.ts';
import type { CheckContext } from '../../context.ts';
import { setRoute } from '../../mends.ts';
import { commonPractice, named, type Draft, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'routing/bus-not-joined',
  severity: 'stop',
  title: 'Carrier is the bus, but the two buses are not joined',
  why: 'A frame reaches a reader only on the bus it is sent on, on a bus joined with it, or where the interface module forwards it as it is.',
  sources: [commonPractice('a frame stays on its bus')],
  check: {
    route(context, route) {
      if (route.carrier !== 'bus') return null;
      const target = context.pairing.find(route.to);
      const drafts: Draft[] = [];
      for (const { ref, entry: source } of context.sources(route)) {
        if (!source || !target) continue;
        if (source.kind === 'wire' || target.kind === 'wire') {
          drafts.push({
            message: `${route.id} has the carrier bus, but ${source.kind === 'wire' ? ref : route.to} is a wire`,
            mask: context.maskOf(route),
            values: [named('source', ref), named('target', route.to)],
          });
          continue;
        }
        if (joined(context, source, target)) continue;
        const a = `${source.side}:${source.message.bus}`;
        const b = `${target.side}:${target.message.bus}`;
        drafts.push({
          message: `${ref} is sent on ${a}, ${route.to} is read on ${b}: nothing joins the two, and no interface module forwards the frame`,
          mask: context.maskOf(route),
          values: [named('sent on', a), named('read on', b)],
          mend:
            route.by === undefined
              ? null
              : setRoute(route, 'carrier', 'interface', 'carry it through the interface module'),
        });
      }
      return drafts;
    },
  },
  examples: {
    failing: () => ({
      says: 'The powertrain’s frame is expected on the chassis bus, with nothing between.',
      documents: numberCase({
        route: { carrier: 'bus', by: undefined },
        targetMessage: { frameId: '0x120' },
        transmit: null,
      }),
      expect: ['route:the-route'],
    }),
    passing: () => ({
      says: 'The interface module forwards the frame unaltered.',
      documents: numberCase({
        route: { carrier: 'bus' },
        targetMessage: { frameId: '0x120' },
        transmit: { send: 'forwarded' },
      }),
      expect: [],
    }),
  },
};

function joined(
  context: CheckContext,
  source: Exclude<Endpoint, { kind: 'wire' }>,
  target: Exclude<Endpoint, { kind: 'wire' }>,
): boolean {
  const a = context.pairing.side(source.side).buses.get(source.message.bus);
  const b = context.pairing.side(target.side).buses.get(target.message.bus);
  if (!a || !b || a === b) return true;
  if (a.joinedWith?.includes(b.id) || b.joinedWith?.includes(a.id)) return true;
  return context.transmitsFor(target).some(({ send, by }) => {
    const owner = context.pairing.interfaceModules.get(by);
    return send === 'forwarded' && owner?.ports.some(({ bus }) => bus === `${source.side}:${a.id}`);
  });
}
