import type { Circuit } from '../../../model/index.ts';
import {
  chooseFuse,
  feedLoads,
  fuseAmbientFactor,
  FUSE_RULES,
  type FeedLoad,
  type WiringPlan,
} from '../../../wiring/index.ts';
import { circuitRef, circuitWords, rounded, setCircuit, TINY } from '../../circuits.ts';
import { feedSubject } from '../../supplies.ts';
import { commonPractice, named, type Draft, type Rule } from '../../rule.ts';
import { loadCase } from '../../examples/harness-case.ts';

export const rule: Rule = {
  id: 'supply/feed-overloaded',
  severity: 'fix',
  title: 'Feed carries more than its fuse holds on and on',
  why: 'A fuse holds four fifths of its rating on and on: 18 A of a fan on 20 A are 90 %, and it opens on a hot day; above its rating it opens on any day. Loads that come with an option count in the builds that have it.',
  sources: [
    commonPractice('at most 80 % of a fuse’s rating continuous'),
    { source: 'Computed: 18 A / 20 A = 90 %', provenance: 'computed' },
  ],
  check: {
    harness(context, plan) {
      return [...feeds(plan), ...inLine(context.pairing, plan)];
    },
  },
  examples: {
    failing: () => ({
      says: 'A 4.5 A heater on a 5 A fuse: 90 %.',
      documents: heater(5),
      expect: ['feed:host:F2'],
    }),
    passing: () => ({ says: 'On a 7.5 A fuse: 60 %.', documents: heater(7.5), expect: [] }),
  },
};

/** Builds in which the same conductors are fitted, as masks. */
function classesOf(circuits: readonly Circuit[], all: bigint): readonly bigint[] {
  let classes = [all];
  for (const mask of new Set(circuits.map((circuit) => circuit.mask)))
    classes = classes.flatMap((one) => [one & mask, one & ~mask].filter((part) => part !== 0n));
  return classes;
}

function over({ share }: FeedLoad): boolean {
  return share !== null && share > FUSE_RULES.continuousShare + TINY;
}

function feeds(plan: WiringPlan): Draft[] {
  const { pairing, harness } = plan;
  // All conductors together draw no less than those of any one build: most feeds are settled by that.
  const suspects = new Set(
    plan
      .feeds()
      .filter((load) => over(load) && load.addedA > 0)
      .map(({ ref }) => ref),
  );
  if (suspects.size === 0) return [];
  const worst = new Map<string, { load: FeedLoad; mask: bigint }>();
  for (const mask of classesOf(harness.circuits, pairing.options.all)) {
    const fitted = harness.circuits.filter((circuit) => (circuit.mask & mask) === mask);
    for (const load of feedLoads(pairing, fitted)) {
      if (!suspects.has(load.ref) || !over(load)) continue;
      const known = worst.get(load.ref);
      if (!known || load.worstA > known.load.worstA + TINY) worst.set(load.ref, { load, mask });
      else if (load.worstA > known.load.worstA - TINY) known.mask |= mask;
    }
  }
  return [...worst.values()].map(({ load, mask }) => {
    const { ref, feed, worstA, share, ownA, addedA, circuits } = load;
    const states = load.liveIn.filter((state) => load.loadA[state] > worstA - TINY);
    const percent = Math.round(share! * 100);
    const needed = chooseFuse(worstA, null).ratingA;
    return {
      subject: feedSubject(ref),
      severity: share! > 1 + TINY ? ('fix' as const) : ('look' as const),
      message: `${feed.title ?? feed.id} (${ref}) carries ${rounded(worstA)} A in ${states.join(', ')}, ${percent} % of its ${feed.fuseA} A fuse: ${ownA === null ? 'its own load is not stated' : `${rounded(ownA)} A of its own`} and ${rounded(addedA)} A by ${circuits.join(', ') || 'feeds after it'}${needed === null ? '' : `. ${needed} A would hold it, if every conductor after it bears ${needed} A`}`,
      mask,
      values: [
        named('feed', ref),
        named('load', rounded(worstA), 'A'),
        named('of its own', ownA === null ? 'not stated' : rounded(ownA), ownA === null ? '' : 'A'),
        named('added', rounded(addedA), 'A'),
        named('fuse', feed.fuseA!, 'A'),
        named('share', percent, '%'),
        named('key states', states.join(', ')),
      ],
    };
  });
}

/** Fuses in line that the map adds: their rating is the map's to choose. */
function inLine(pairing: WiringPlan['pairing'], { conductors }: WiringPlan): Draft[] {
  return conductors.flatMap(({ circuit, currentA, currentBy, ampacityA }): Draft[] => {
    const fuseA = circuit.fuse?.place === 'in-line' ? circuit.fuse.fuseA : null;
    if (fuseA === null || currentBy === 'assumed' || currentBy === 'fuse') return [];
    const heldA = fuseA * FUSE_RULES.continuousShare * fuseAmbientFactor(25);
    if (currentA <= heldA + TINY) return [];
    const choice = chooseFuse(currentA, ampacityA);
    return [
      {
        subject: circuitRef(circuit),
        severity: currentA > fuseA + TINY ? 'fix' : 'look',
        message: `${circuitWords(circuit)} carries ${rounded(currentA)} A through its fuse of ${fuseA} A in line, ${Math.round((currentA / fuseA) * 100)} %`,
        mask: circuit.mask,
        values: [
          named('conductor', circuit.id),
          named('load', rounded(currentA), 'A'),
          named('fuse', fuseA, 'A'),
          named('share', Math.round((currentA / fuseA) * 100), '%'),
        ],
        mend:
          choice.ratingA !== null && choice.protectsConductor && circuit.fuse!.id === circuit.id
            ? setCircuit(pairing, circuit, 'fuseA', choice.ratingA, `fuse ${circuit.id} with ${choice.ratingA} A`)
            : null,
      },
    ];
  });
}

function heater(fuseA: number) {
  return loadCase({ loadA: 4.5, fuseA, circuit: { conductor: { size: '1.5mm2', colour: 'RD' } } });
}
