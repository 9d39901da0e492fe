import type { Pairing } from '../../../model/index.ts';
import { selectiveRatio, type FuseCoordination, type WiringPlan } from '../../../wiring/index.ts';
import { rounded } from '../../circuits.ts';
import { feedAt, feedSubject } from '../../supplies.ts';
import { fromMemory, named, type Draft, type Rule } from '../../rule.ts';
import { loadCase } from '../../examples/harness-case.ts';

export const rule: Rule = {
  id: 'supply/fuse-coordination',
  severity: 'fix',
  title: 'Fuse after another one is not the first to open',
  why: 'When the fuse nearer to the battery opens first, a fault in one circuit takes all the others on that feed with it. By the time gates of blade fuses the earlier one must be about twice the later.',
  sources: [fromMemory('ISO 8820-3: operating times of blade fuses at multiples of their rating')],
  check: {
    harness({ pairing }, plan) {
      const used = usedFeeds(pairing, plan);
      const pairs = [
        ...plan.coordination().filter(({ upstream, downstream }) => used.has(upstream) && used.has(downstream)),
        ...inLine(pairing, plan),
      ];
      return pairs.flatMap(({ upstream, upstreamA, downstream, downstreamA, ratio, verdict }): Draft[] => {
        if (verdict === 'selective') return [];
        return [
          {
            subject: feedAt(pairing, downstream) ? feedSubject(downstream) : `circuit:${downstream}`,
            severity: verdict === 'inverted' ? 'fix' : 'look',
            message: `${downstream} with ${downstreamA} A lies after ${upstream} with ${upstreamA} A: ${verdict === 'inverted' ? 'the earlier one opens first or together with it' : `${rounded(ratio)} times larger, and the later one is sure to open first from ${rounded(selectiveRatio())} times`}`,
            values: [
              named('earlier fuse', upstream),
              named('earlier rating', upstreamA, 'A'),
              named('later fuse', downstream),
              named('later rating', downstreamA, 'A'),
              named('ratio', rounded(ratio)),
              named('sure from', rounded(selectiveRatio())),
            ],
          },
        ];
      });
    },
  },
  examples: {
    failing: () => ({
      says: 'A 10 A fuse in line after a 5 A fuse of the vehicle.',
      documents: fuses(5, 10),
      expect: ['circuit:101'],
    }),
    passing: () => ({ says: 'A 3 A fuse in line after 10 A.', documents: fuses(10, 3), expect: [] }),
  },
};

/** Feeds on which conductors of the harness hang, and those before them. */
function usedFeeds(pairing: Pairing, { conductors }: WiringPlan): ReadonlySet<string> {
  const used = new Set<string>();
  for (const { circuit } of conductors) {
    let found = circuit.fuse?.place === 'feed' ? feedAt(pairing, circuit.fuse.id) : null;
    while (found && !used.has(`${found.side}:${found.feed.id}`)) {
      used.add(`${found.side}:${found.feed.id}`);
      found = found.feed.from === undefined ? null : feedAt(pairing, `${found.side}:${found.feed.from}`);
    }
  }
  return used;
}

/** A fuse that the map puts in line after a feed of the vehicle. */
function inLine(pairing: Pairing, { conductors }: WiringPlan): FuseCoordination[] {
  return conductors.flatMap(({ circuit }): FuseCoordination[] => {
    const { fuse } = circuit;
    if (fuse?.place !== 'in-line' || fuse.fuseA === null || fuse.id !== circuit.id) return [];
    const before = circuit.routeIds
      .flatMap((id) => pairing.routes.get(id)?.from ?? [])
      .flatMap((ref) => {
        const entry = pairing.find(ref);
        return entry?.kind === 'wire' && entry.wire.feed !== undefined ? [`${entry.side}:${entry.wire.feed}`] : [];
      });
    return [...new Set(before)].flatMap((ref) => {
      const upstreamA = feedAt(pairing, ref)?.feed.fuseA ?? null;
      if (upstreamA === null) return [];
      const ratio = upstreamA / fuse.fuseA!;
      const verdict = ratio >= selectiveRatio() ? 'selective' : ratio > 1 ? 'larger' : 'inverted';
      return [{ upstream: ref, upstreamA, downstream: circuit.id, downstreamA: fuse.fuseA!, ratio, verdict } as const];
    });
  });
}

function fuses(feedA: number, inLineA: number) {
  return loadCase({
    loadA: 2,
    fuseA: feedA,
    circuit: { fuseA: inLineA, conductor: { size: '2.5mm2', colour: 'RD' } },
  });
}
