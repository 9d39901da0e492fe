import { portOnBus, type InterfaceModule } from '../../../model/index.ts';
import { commonPractice, named, type Draft, type Rule } from '../../rule.ts';
import { interfaceWireCase } from '../../examples/wire-case.ts';

export const rule: Rule = {
  id: 'orphan/no-pin-or-port',
  severity: 'stop',
  title: 'Interface module has no way in or out for a route',
  why: 'A wire enters and leaves by a pin, a frame by a port on its bus and a transmit: without them the value neither arrives nor leaves.',
  sources: [commonPractice()],
  check: {
    route(context, route) {
      if (route.carrier !== 'interface') return null;
      const mask = context.maskOf(route);
      const drafts: Draft[] = [];
      const say = (message: string, name: string, value: string): void => {
        drafts.push({ message, mask, values: [named(name, value)] });
      };
      if (route.by === undefined)
        return [{ message: `${route.id} goes through an interface module, but does not say which ("by")`, mask }];
      const by = context.pairing.interfaceModules.get(route.by);
      if (!by) return null;
      wiresIn(context, route, by, say);
      const target = context.pairing.find(route.to);
      if (!target) return drafts;
      if (target.kind === 'wire') {
        if (route.leaves === undefined)
          say(`${route.id} drives ${route.to}, but names no output pin ("leaves")`, 'target', route.to);
      } else {
        const bus = `${target.side}:${target.message.bus}`;
        if (!portOnBus(by, bus)) say(`${by.id} has no port on ${bus}, where ${route.to} is read`, 'bus', bus);
        const sent = context
          .transmitsFor(target)
          .reduce((all, { when }) => all | context.pairing.options.maskOf(when), 0n);
        if ((mask & ~sent) !== 0n) {
          drafts.push({
            message: `${by.id} does not send ${target.side}:${target.message.id}: add it to the transmits`,
            mask: mask & ~sent,
            values: [named('message', `${target.side}:${target.message.id}`)],
          });
        }
      }
      return drafts;
    },
  },
  examples: {
    failing: () => ({
      says: 'The route drives a wire and does not say by which pin.',
      documents: interfaceWireCase({ route: { leaves: undefined } }),
      expect: ['route:the-route'],
      alsoStops: ['routing/not-hard-wired'],
    }),
    passing: () => ({
      says: 'It enters by in1 and leaves by out1.',
      documents: interfaceWireCase(),
      expect: [],
      alsoStops: ['routing/not-hard-wired'],
    }),
  },
};

type Context = Parameters<NonNullable<Rule['check']['route']>>[0];
type RouteSubject = Parameters<NonNullable<Rule['check']['route']>>[1];

function wiresIn(
  context: Context,
  route: RouteSubject,
  by: InterfaceModule,
  say: (message: string, name: string, value: string) => void,
): void {
  let wires = 0;
  for (const { ref, entry: source } of context.sources(route)) {
    if (!source) continue;
    if (source.kind === 'wire') {
      wires += 1;
      if ((route.enters?.length ?? 0) < wires)
        say(`${route.id} reads ${ref}, but names no input pin for it ("enters")`, 'source', ref);
    } else {
      const bus = `${source.side}:${source.message.bus}`;
      if (!portOnBus(by, bus)) say(`${by.id} has no port on ${bus}, where ${ref} is sent`, 'bus', bus);
    }
  }
}
