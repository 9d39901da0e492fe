import { type Combination, type Pairing } from '../../model/index.ts';
import { createReplay } from '../replay/create.ts';
import type { MakeFunction } from '../replay/lane-code.ts';
import type { ReplayOutput, WireLevel } from '../replay/types.ts';
import { createVectorJudge } from './judge.ts';
import { stimulusOf } from './play.ts';
import type { RouteVectors, Vector } from './schema.ts';

/** A vector whose expectation the replay engine did not meet. */
export interface UnmetVector {
  readonly route: string;
  readonly vector: string;
  readonly expectation: number;
  readonly seen: string;
}

/** The replay engine as a bench plays vectors on it: one after another, without ever being switched off. */
export interface EngineCheck {
  play(route: string, vector: Vector): readonly UnmetVector[];
}

/** Plays vectors of one build through the replay engine. They are whole in themselves, so their order does not matter. */
export function createEngineCheck(
  pairing: Pairing,
  combination: Combination,
  makeFunction?: MakeFunction,
): EngineCheck {
  let take: (event: ReplayOutput) => void = () => undefined;
  const levels = new Map<string, WireLevel>();
  const replay = createReplay(pairing, {
    combination,
    startUs: 0,
    output: (event) => {
      take(event);
      if (event.kind === 'wire') levels.set(event.wire, event.level);
    },
    ...(makeFunction === undefined ? {} : { makeFunction }),
  });
  let nowUs = 0;
  return {
    play(route, vector) {
      const atUs = nowUs;
      const judge = createVectorJudge(vector, new Map(levels));
      take = (event) => judge.take({ ...event, timeUs: event.timeUs - atUs });
      for (const event of stimulusOf(vector, atUs)) {
        if (event.kind === 'frame') replay.onFrame(event.frame);
        else replay.onWire(event.wire, event.level, event.timeUs);
      }
      nowUs = atUs + vector.lengthUs;
      replay.advanceTo(nowUs);
      take = () => undefined;
      return judge
        .verdicts()
        .filter(({ met }) => !met)
        .map(({ expectation, seen }) => ({ route, vector: vector.id, expectation, seen }));
    },
  };
}

/** The build that vectors of a route were made for. */
export function combinationOf({ build }: RouteVectors): Combination {
  return new Map(Object.entries(build));
}
