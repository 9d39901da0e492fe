import { type Rational, mul, rational, roundHalfAway } from '../../number/index.ts';
import type { RouteAnalysis } from '../analysis/route-analysis.ts';
import { writeTarget } from '../evaluate/target-end.ts';
import type { ModulePlan } from '../plan/types.ts';
import { MEASURED_PER_UNIT } from '../program/types.ts';
import type { RouteSample } from './types.ts';

/** What a route gave during a replay. Counts are samples: once for each message made up from it, or tick of its wire. */
export interface RouteTally {
  readonly route: string;
  /** Id of the interface module that carries it. */
  readonly by: string;
  readonly samples: number;
  /** By what there was: a value; the source says that it has none or that it is wrong; lost; nothing received yet. */
  readonly values: number;
  readonly notAvailable: number;
  readonly error: number;
  readonly lost: number;
  readonly notYet: number;
  /** How often it went from another state to lost. */
  readonly losses: number;
  /** Time spent lost, from the sample that found it so to the one that did not (or the end), in microseconds. */
  readonly lostUs: number;
  /** When it was first found lost; null: never. */
  readonly firstLostUs: number | null;
  /**
   * Values at the end of the target beyond which values of the source are cut (see `RouteAnalysis.clips`); null where nothing can
   * be cut. A value that is that end exactly counts too.
   */
  readonly clipped: number | null;
}

/** Gathers the samples of a replay. Hand `sample` to `createReplay`. */
export interface Tallies {
  readonly sample: (sample: RouteSample) => void;
  /** One for each route of the plans, in their order, up to this moment. */
  upTo(timeUs: number): readonly RouteTally[];
}

type Filling = { -readonly [K in keyof RouteTally]: RouteTally[K] } & { lostSinceUs: number };

/** The plans may be given when they are known: samples come only once the replay runs. */
export function tallySamples(plansOf: () => readonly ModulePlan[]): Tallies {
  let known: ReadonlyMap<string, { readonly tally: Filling; readonly ends: ReadonlySet<number | bigint> }> | null =
    null;
  const tallies = (): NonNullable<typeof known> =>
    (known ??= new Map(
      plansOf().flatMap(({ module, routes }) =>
        routes.map(({ route, compiled }) => {
          const ends = clippedRaws(compiled.analysis);
          return [route.id, { tally: emptyTally(route.id, module.id, ends.size > 0), ends }] as const;
        }),
      ),
    ));
  return {
    sample({ route, timeUs, raw, state }) {
      const entry = tallies().get(route);
      if (entry === undefined) return;
      const { tally, ends } = entry;
      tally.samples += 1;
      if (state === 'lost') {
        tally.lost += 1;
        if (tally.lostSinceUs < 0) {
          tally.lostSinceUs = timeUs;
          tally.losses += 1;
          tally.firstLostUs ??= timeUs;
        }
        return;
      }
      if (tally.lostSinceUs >= 0) {
        tally.lostUs += timeUs - tally.lostSinceUs;
        tally.lostSinceUs = -1;
      }
      switch (state) {
        case 'value':
          tally.values += 1;
          if (tally.clipped !== null && raw !== null && ends.has(raw)) tally.clipped += 1;
          return;
        case 'not-available':
          tally.notAvailable += 1;
          return;
        case 'error':
          tally.error += 1;
          return;
        case 'not-yet':
          tally.notYet += 1;
      }
    },
    upTo: (timeUs) =>
      [...tallies().values()].map(({ tally: { lostSinceUs, ...tally } }) =>
        lostSinceUs < 0 ? tally : { ...tally, lostUs: tally.lostUs + Math.max(0, timeUs - lostSinceUs) },
      ),
  };
}

function emptyTally(route: string, by: string, canBeClipped: boolean): Filling {
  return {
    route,
    by,
    samples: 0,
    values: 0,
    notAvailable: 0,
    error: 0,
    lost: 0,
    notYet: 0,
    losses: 0,
    lostUs: 0,
    firstLostUs: null,
    clipped: canBeClipped ? 0 : null,
    lostSinceUs: -1,
  };
}

/** What is written for the ends of the target that the route runs into. */
function clippedRaws({ target, clips }: RouteAnalysis): ReadonlySet<number | bigint> {
  return new Set(
    clips.flatMap(({ targetEnd }): readonly (number | bigint)[] => {
      const { raw, level } = writeTarget(target, { kind: 'number', value: targetEnd });
      if (level !== null) return [thousandths(level)];
      if (typeof raw !== 'bigint') return raw === null ? [] : [raw];
      return raw > -(2n ** 53n) && raw < 2n ** 53n ? [Number(raw)] : [raw];
    }),
  );
}

function thousandths(level: Rational): number {
  return Number(roundHalfAway(mul(level, rational(MEASURED_PER_UNIT, 1n))));
}
