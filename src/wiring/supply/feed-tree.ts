import { KEY_STATES, type Circuit, type Feed, type Pairing, type SideName } from '../../model/index.ts';
import { selectiveRatio } from '../conductor/fuse.ts';
import { FUSE_RULES } from '../tables/fuses.ts';
import { LIVE_IN, type KeyState } from '../tables/feeds.ts';

/** One feed with its load in each key state, in amperes. */
export interface FeedLoad {
  /** `side:feed`. */
  readonly ref: string;
  readonly feed: Feed;
  /** The feed it hangs on; null for a root, or one that names itself above. */
  readonly parent: string | null;
  readonly liveIn: readonly KeyState[];
  /** Whether the platform says in which states it is live; else the habit of its kind is taken. */
  readonly liveInKnown: boolean;
  /** Load of what stays on it in the vehicle, as the platform states it, without what the map adds; null when not stated. */
  readonly ownA: number | null;
  /** Circuits of the added harness which it supplies, and what they draw. */
  readonly circuits: readonly string[];
  readonly addedA: number;
  /** Circuits on it whose current nobody has stated. */
  readonly unknown: readonly string[];
  /** Own and added load and that of the feeds after it, by key state. */
  readonly loadA: Readonly<Record<KeyState, number>>;
  readonly worstA: number;
  /** Worst load as a share of the fuse; null without a fuse. */
  readonly share: number | null;
  readonly verdict: 'within' | 'over-continuous' | 'over-rating' | 'unknown';
}

/** Two fuses in line, and whether the later one opens first. */
export interface FuseCoordination {
  readonly upstream: string;
  readonly upstreamA: number;
  readonly downstream: string;
  readonly downstreamA: number;
  readonly ratio: number;
  /** `selective` by the time gates; `larger` when only larger; `inverted` when the later fuse is the larger or equal. */
  readonly verdict: 'selective' | 'larger' | 'inverted';
}

/** Key states in which a feed is live. */
export function liveIn(feed: Feed): readonly KeyState[] {
  return feed.liveIn ?? LIVE_IN[feed.kind];
}

/** Loads of all feeds of both platforms with what the added circuits draw, rolled up along the feed tree. Linear. */
export function feedLoads(pairing: Pairing, circuits: readonly Circuit[]): readonly FeedLoad[] {
  const added = addedByFeed(circuits);
  return [pairing.host, pairing.donor].flatMap((side) => {
    const order = childrenFirst(side.platform.feeds);
    const loads = new Map<string, FeedLoad>();
    const below = new Map<string, Record<KeyState, number>>();
    for (const { feed, parent } of order) {
      const ref = `${side.name}:${feed.id}`;
      const on = added.get(ref) ?? [];
      const live = liveIn(feed);
      const addedA = on.reduce((sum, circuit) => sum + (circuit.loadA ?? 0), 0);
      const loadA = { off: 0, accessory: 0, run: 0, start: 0 };
      const children = below.get(feed.id);
      for (const state of live) loadA[state] = (feed.loadA ?? 0) + addedA + (children?.[state] ?? 0);
      if (parent !== null) {
        const sum = below.get(parent) ?? { off: 0, accessory: 0, run: 0, start: 0 };
        for (const state of live) sum[state] += loadA[state];
        below.set(parent, sum);
      }
      const worstA = Math.max(...KEY_STATES.map((state) => loadA[state]));
      const share = feed.fuseA === null ? null : worstA / feed.fuseA;
      loads.set(feed.id, {
        ref,
        feed,
        parent: parent === null ? null : `${side.name}:${parent}`,
        liveIn: live,
        liveInKnown: feed.liveIn !== undefined,
        ownA: feed.loadA ?? null,
        circuits: on.map(({ id }) => id),
        addedA,
        unknown: on.filter((circuit) => circuit.loadA === null).map(({ id }) => id),
        loadA,
        worstA,
        share,
        verdict: verdictOf(share, feed, on),
      });
    }
    return side.platform.feeds.flatMap(({ id }) => loads.get(id) ?? []);
  });
}

function verdictOf(share: number | null, feed: Feed, on: readonly Circuit[]): FeedLoad['verdict'] {
  if (share === null) return 'unknown';
  if (share > 1) return 'over-rating';
  if (share > FUSE_RULES.continuousShare) return 'over-continuous';
  return feed.loadA === undefined || on.some(({ loadA }) => loadA === null) ? 'unknown' : 'within';
}

/**
 * Circuits that draw from a feed, each load once: those which start where the feed is (or on the wire it supplies). What
 * starts in a part or a splice is counted by the conductor before it.
 */
function addedByFeed(circuits: readonly Circuit[]): Map<string, Circuit[]> {
  const byFeed = new Map<string, Circuit[]>();
  for (const circuit of circuits) {
    const { fuse, from } = circuit;
    if (!fuse || fuse.place !== 'feed' || from.kind === 'part' || from.kind === 'splice') continue;
    const known = byFeed.get(fuse.id);
    if (known) known.push(circuit);
    else byFeed.set(fuse.id, [circuit]);
  }
  return byFeed;
}

/** Feeds so that each comes after all that hang on it; a feed in a circle of `from` counts as a root. */
function childrenFirst(feeds: readonly Feed[]): readonly { readonly feed: Feed; readonly parent: string | null }[] {
  const byId = new Map(feeds.map((feed) => [feed.id, feed]));
  const children = new Map<string, Feed[]>();
  const roots: Feed[] = [];
  for (const feed of feeds) {
    if (feed.from === undefined || !byId.has(feed.from)) roots.push(feed);
    else children.set(feed.from, [...(children.get(feed.from) ?? []), feed]);
  }
  const order: { feed: Feed; parent: string | null }[] = [];
  const seen = new Set<string>();
  const walk = (start: Feed): void => {
    const stack: { feed: Feed; parent: string | null }[] = [{ feed: start, parent: null }];
    for (let top = stack.pop(); top; top = stack.pop()) {
      if (seen.has(top.feed.id)) continue;
      seen.add(top.feed.id);
      order.push(top);
      for (const child of children.get(top.feed.id) ?? []) stack.push({ feed: child, parent: top.feed.id });
    }
  };
  roots.forEach(walk);
  for (const feed of feeds) if (!seen.has(feed.id)) walk(feed);
  return order.reverse();
}

/** Every pair of fuses in line on a side's feed tree. */
export function fuseCoordination(loads: readonly FeedLoad[]): readonly FuseCoordination[] {
  const byRef = new Map(loads.map((load) => [load.ref, load]));
  const wanted = selectiveRatio();
  return loads.flatMap((load): FuseCoordination[] => {
    const parent = load.parent === null ? undefined : byRef.get(load.parent);
    if (!parent || parent.feed.fuseA === null || load.feed.fuseA === null) return [];
    const ratio = parent.feed.fuseA / load.feed.fuseA;
    return [
      {
        upstream: parent.ref,
        upstreamA: parent.feed.fuseA,
        downstream: load.ref,
        downstreamA: load.feed.fuseA,
        ratio,
        verdict: ratio >= wanted ? 'selective' : ratio > 1 ? 'larger' : 'inverted',
      },
    ];
  });
}

/** A feed as `side:feed`. */
export function findFeed(pairing: Pairing, ref: string): Feed | null {
  const colon = ref.indexOf(':');
  const side = ref.slice(0, colon) as SideName;
  if (side !== 'host' && side !== 'donor') return null;
  return pairing.side(side).feeds.get(ref.slice(colon + 1)) ?? null;
}
