import type { Feed, Side } from '../../../model/index.ts';
import { chooseFuse, FUSE_RULES, OPERATING_SUPPLY_V, type PlannedConductor } from '../../../wiring/index.ts';
import { circuitRef, circuitWords, rounded, setCircuit } from '../../circuits.ts';
import { feedAt, feedSubject } from '../../supplies.ts';
import { named, read, type Draft, type Rule } from '../../rule.ts';
import { loadCase } from '../../examples/harness-case.ts';

export const rule: Rule = {
  id: 'supply/feed-not-fused',
  severity: 'stop',
  title: 'Feed without a fuse before its first load',
  why: 'A conductor from the battery that chafes through somewhere carries hundreds of amperes until something opens: half a metre of it without a fuse is enough for a fire.',
  sources: [read(`33 CFR 183.455(a), (b): protection within ${rounded(FUSE_RULES.unfusedM * 1000)} mm of the source`)],
  check: {
    harness({ pairing }, plan) {
      const drafts: Draft[] = [];
      const byFeed = new Map<string, PlannedConductor[]>();
      for (const conductor of plan.conductors) {
        const { circuit } = conductor;
        if (circuit.fuse?.place === 'feed') {
          byFeed.set(circuit.fuse.id, [...(byFeed.get(circuit.fuse.id) ?? []), conductor]);
          continue;
        }
        const end = circuit.fromElectrical;
        const isBattery = end?.class === 'feed' && (end.maxV ?? Infinity) >= OPERATING_SUPPLY_V.min;
        if (circuit.fuse !== null || !isBattery || circuit.kind !== 'hard-wire') continue;
        drafts.push({
          subject: circuitRef(circuit),
          severity: 'look',
          message: `${circuitWords(circuit)} is a supply, and nothing says which feed and fuse it hangs on`,
          mask: circuit.mask,
          values: [named('conductor', circuit.id), named('fuse', 'not stated')],
        });
      }
      for (const [ref, conductors] of byFeed) {
        const found = feedAt(pairing, ref);
        if (!found || isFused(pairing.side(found.side), found.feed)) continue;
        const [only] = conductors.filter(
          ({ circuit }) => circuit.from.kind !== 'part' && circuit.from.kind !== 'splice',
        );
        const choice = only && conductors.length === 1 ? chooseFuse(only.currentA, only.ampacityA) : null;
        drafts.push({
          subject: feedSubject(ref),
          message: `${found.feed.title ?? found.feed.id} (${ref}) has no fuse, nor has a feed before it; ${conductors.map(({ circuit }) => circuit.id).join(', ')} ${conductors.length === 1 ? 'hangs' : 'hang'} on it`,
          mask: conductors.reduce((mask, { circuit }) => mask | circuit.mask, 0n),
          values: [
            named('feed', ref),
            named('fuse', 'none'),
            ...conductors.map(({ circuit }) => named('conductor', circuit.id)),
            named('without a fuse at most', rounded(FUSE_RULES.unfusedM * 1000), 'mm'),
          ],
          mend:
            choice?.ratingA !== null && choice?.protectsConductor
              ? setCircuit(
                  pairing,
                  only!.circuit,
                  'fuseA',
                  choice.ratingA,
                  `add a fuse of ${choice.ratingA} A in line at the start of ${only!.circuit.id}`,
                )
              : null,
        });
      }
      return drafts;
    },
  },
  examples: {
    failing: () => ({
      says: 'A heater on a battery stud without a fuse.',
      documents: loadCase({ loadA: 2, fuseA: null }),
      expect: ['feed:host:F2'],
    }),
    passing: () => ({ says: 'Behind 3 A.', documents: loadCase({ loadA: 2, fuseA: 3 }), expect: [] }),
  },
};

/** Whether a feed, or one before it, has a fuse. */
function isFused({ feeds }: Side, feed: Feed): boolean {
  const seen = new Set<string>();
  for (let at: Feed | undefined = feed; at && !seen.has(at.id); at = feeds.get(at.from ?? '')) {
    if (at.fuseA !== null) return true;
    seen.add(at.id);
  }
  return false;
}
