import { commonPractice, named, type Draft, type Rule } from '../../rule.ts';
import {
  interfaceRoute,
  numberCase,
  temperature,
  hostMessage,
  donorMessage,
  transmitOf,
} from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'record/name-collision',
  severity: 'look',
  title: 'Two routes under one title',
  why: 'A title that means a pulse line on one sheet and a message on another is read for the wrong one.',
  sources: [commonPractice('one name for one thing')],
  check: {
    map(context, map) {
      const byTitle = new Map<string, typeof map.routes>();
      for (const route of map.routes) {
        const title = route.title?.trim().toLowerCase();
        if (title === undefined || title === '') continue;
        const list = byTitle.get(title);
        if (list) list.push(route);
        else byTitle.set(title, [route]);
      }
      const drafts: Draft[] = [];
      for (const routes of byTitle.values()) {
        // Variants of one route for different options share their title rightly.
        const clash = routes.filter((route, at) =>
          routes
            .slice(0, at)
            .some((other) => other.to !== route.to && (context.maskOf(other) & context.maskOf(route)) !== 0n),
        );
        for (const route of clash) {
          drafts.push({
            subject: `route:${route.id}`,
            message: `${route.id} bears the title "${route.title}", and so does ${routes[0]!.id}, which goes elsewhere`,
            mask: context.maskOf(route),
            values: [named('title', route.title!), named('first', routes[0]!.id)],
          });
        }
      }
      return drafts.length === 0 ? null : drafts;
    },
  },
  examples: {
    failing: () => ({
      says: 'Two temperatures are called by one name.',
      documents: two('Oil temperature'),
      expect: ['route:second-route'],
    }),
    passing: () => ({ says: 'Each has its own.', documents: two('Gearbox oil temperature'), expect: [] }),
  },
};

function two(title: string) {
  return numberCase({
    route: { title: 'Oil temperature' },
    hostMessages: [hostMessage({ id: 'Second', frameId: '0x221', signals: [temperature()] })],
    donorMessages: [donorMessage({ id: 'Gearbox', frameId: '0x121', signals: [temperature()] })],
    routes: [interfaceRoute({ id: 'second-route', title, from: ['donor:Gearbox.OilTemp'], to: 'host:Second.OilTemp' })],
    transmits: [transmitOf('host:Second')],
  });
}
