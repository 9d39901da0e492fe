import type { InterfaceModule, Route } from '../../../model/index.ts';
import { FUSE_RULES, liveIn } from '../../../wiring/index.ts';
import type { CheckContext } from '../../context.ts';
import { mendBy } from '../../mends.ts';
import { neededIn, type KeyState } from '../../needed-states.ts';
import { feedAt } from '../../supplies.ts';
import { commonPractice, named, type Draft, type Mend, type Rule } from '../../rule.ts';
import { supplyCase } from '../../examples/harness-case.ts';

export const rule: Rule = {
  id: 'supply/feed-not-live',
  severity: 'stop',
  title: 'Feed is not live in a key state in which its function is needed',
  why: 'An accessory feed drops out while the starter turns: a controller on it dies in crank, and what it should permit or forbid is gone with it.',
  sources: [
    commonPractice('the states of a feed contain those of every function on it'),
    commonPractice('states in which a function is needed: starting functions in start, the others in run'),
  ],
  check: {
    interface(context, owner) {
      const found = feedAt(context.pairing, owner.feed);
      if (!found) return null;
      const live = liveIn(found.feed);
      const lacking = new Map<KeyState, Set<string>>();
      const needed = new Set<KeyState>();
      let mask = 0n;
      for (const route of context.pairing.map.routes) {
        if (route.by !== owner.id) continue;
        const entry = context.functionOf(route);
        for (const state of neededIn(entry)) {
          needed.add(state);
          if (live.includes(state)) continue;
          const titles = lacking.get(state) ?? new Set<string>();
          lacking.set(state, titles.add(entry?.title ?? route.id));
          mask |= context.maskOf(route);
        }
      }
      if (lacking.size === 0) return null;
      return [
        draftOf(
          owner.id,
          `${owner.title} (${owner.id})`,
          owner.feed!,
          live,
          lacking,
          mask,
          mendOf(context, owner, needed),
        ),
      ];
    },
    route(context, route) {
      if (route.carrier === 'bus') return null;
      const feeds = feedsOf(context, route);
      if (feeds.size === 0) return null;
      const entry = context.functionOf(route);
      return [...feeds].flatMap((ref): Draft[] => {
        const found = feedAt(context.pairing, ref);
        if (!found) return [];
        const live = liveIn(found.feed);
        const lacks = neededIn(entry).filter((state) => !live.includes(state));
        if (lacks.length === 0) return [];
        const lacking = new Map(lacks.map((state) => [state, new Set([entry?.title ?? route.id])]));
        return [draftOf(`route:${route.id}`, route.id, ref, live, lacking, context.maskOf(route), null)];
      });
    },
  },
  examples: {
    failing: () => ({
      says: 'The interface module hangs on a feed that is live in start only; its function is needed in run.',
      documents: supplyCase({ feed: { kind: 'start', liveIn: ['start'] } }),
      expect: ['xm'],
    }),
    passing: () => ({ says: 'It hangs on a permanent feed.', documents: supplyCase(), expect: [] }),
  },
};

function draftOf(
  subject: string,
  what: string,
  feed: string,
  live: readonly KeyState[],
  lacking: ReadonlyMap<KeyState, ReadonlySet<string>>,
  mask: bigint,
  mend: Mend | null,
): Draft {
  const words = [...lacking].map(([state, titles]) => {
    const list = [...titles];
    return `${state}: ${list.slice(0, 3).join(', ')}${list.length > 3 ? ` and ${list.length - 3} more` : ''}`;
  });
  return {
    subject,
    message: `${what} hangs on ${feed}, which is live in ${live.join(', ')}; needed too in ${words.join('; ')}`,
    mask,
    values: [
      named('feed', feed),
      named('live in', live.join(', ')),
      ...[...lacking].map(([state, titles]) => named(`needed in ${state} by`, [...titles].join(', '))),
    ],
    mend,
  };
}

/** Feeds that a wired route draws on: its source’s, and those its relays switch. */
function feedsOf(context: CheckContext, route: Route): ReadonlySet<string> {
  const feeds = new Set<string>();
  for (const { entry } of context.sources(route))
    if (entry?.kind === 'wire' && entry.wire.feed !== undefined) feeds.add(`${entry.side}:${entry.wire.feed}`);
  for (const id of route.via ?? []) {
    for (const ref of Object.values(context.part(id)?.terminals ?? {})) {
      if (feedAt(context.pairing, ref)) feeds.add(ref);
    }
  }
  return feeds;
}

/** The first feed of the same side that is live when it is asked for, has a place, and carries the module as well. */
function mendOf({ pairing }: CheckContext, owner: InterfaceModule, needed: ReadonlySet<KeyState>): Mend | null {
  const { side, feed: own } = feedAt(pairing, owner.feed)!;
  const fitting = pairing
    .side(side)
    .platform.feeds.find(
      (feed) =>
        feed !== own &&
        feed.at !== undefined &&
        feed.fuseA !== null &&
        feed.loadA !== undefined &&
        feed.loadA + (owner.maxA ?? Infinity) <= feed.fuseA * FUSE_RULES.continuousShare &&
        [...needed].every((state) => liveIn(feed).includes(state)),
    );
  if (!fitting) return null;
  return mendBy(`hang ${owner.id} on ${side}:${fitting.id} (${fitting.title ?? fitting.id})`, {
    do: 'set',
    in: 'map',
    path: ['interfaceModules', { id: owner.id }, 'feed'],
    to: `${side}:${fitting.id}`,
  });
}
