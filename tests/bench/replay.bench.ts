import { Can, Dbc } from 'candied';
import { createReplay } from '../../src/translate/index.ts';
import { generateReplay } from './generate-replay.ts';
import { handWrittenGateway } from './hand-written-gateway.ts';
import { type BenchRow, medians } from './measure.ts';
import { replayInC } from './replay-in-c.ts';

// What a terminal hands in: code of its own for most routes. A page with a strict policy cannot.
const makeFunction = (parameters: readonly string[], body: string): unknown => new Function(...parameters, body);
const SECONDS = 60;
const ROUNDS = 15;

/** Design page 3: replay against the same arithmetic written by hand; and against decoding the same frames with the registry's DBC library. */
export async function rows(): Promise<BenchRow[]> {
  const { pairing, frames, routes, dbc } = generateReplay(SECONDS);
  let engineSum = 0;
  let engineFrames = 0;
  let handSum = 0;
  let handFrames = 0;
  const add = (sum: number, data: Uint8Array): number =>
    (Math.imul(sum, 31) + data[0]! + data[3]! + data[5]! + data[7]!) | 0;
  // Compiling the map is no part of a frame's way: the replays stand ready.
  const ready = Array.from({ length: ROUNDS + 2 }, () =>
    createReplay(pairing, {
      startUs: 0,
      makeFunction,
      output: (event) => {
        if (event.kind !== 'frame') return;
        engineSum = add(engineSum, event.data);
        engineFrames += 1;
      },
    }),
  );
  const engine = (): number => {
    engineSum = 0;
    engineFrames = 0;
    const replay = ready.pop()!;
    for (const frame of frames) replay.onFrame(frame);
    return engineSum;
  };
  const hand = (): number => {
    handSum = 0;
    handFrames = 0;
    const gateway = handWrittenGateway((_, data) => {
      handSum = add(handSum, data);
      handFrames += 1;
    });
    for (const { timeUs, frameId, data } of frames) gateway.onFrame(frameId, data, timeUs);
    return handSum;
  };
  const library = new Can();
  library.database = new Dbc().load(dbc);
  const some = frames.slice(0, 20_000).map(({ frameId, data }) => library.createFrame(frameId, [...data]));
  const decode = (): unknown => {
    let last: unknown;
    for (const frame of some) last = library.decode(frame);
    if (last === undefined) throw new Error('the library decoded nothing');
    return last;
  };
  const [byEngine, byHand, byLibrary] = [...medians(ROUNDS, [engine, hand]), ...medians(3, [decode])] as [
    number,
    number,
    number,
  ];
  if (engineFrames !== handFrames)
    throw new Error(`the two send ${engineFrames} and ${handFrames} frames: not the same work`);
  // A pass in C is short: more of them, so that a busy machine disturbs fewer than half.
  const c = replayInC(pairing, frames, 101);
  if (c !== null && (c.frames !== engineFrames || c.sum !== engineSum >>> 0))
    throw new Error('the C source and the engine do not send the same bytes');
  const perSecond = Math.round(frames.length / (byEngine / 1000));
  const size = `${frames.length} frames through ${routes} routes, ${engineFrames} frames out`;
  return [
    {
      work: `replay (${size})`,
      against: 'the same map hand-written in plain TypeScript, frames per second',
      ratio: byHand / byEngine,
      target: 0.8,
      better: 'higher',
      note: `${perSecond} frames/s here; outputs ${engineSum === handSum ? 'byte for byte the same' : 'differ in the last place of doubles'}`,
    },
    ...(c === null
      ? []
      : [
          {
            work: 'the same map as generated C at -O2 (its bytes are those of the engine)',
            against: 'the same hand-written TypeScript, frames per second',
            ratio: byHand / c.ms,
            better: 'higher' as const,
            note: `${Math.round(frames.length / (c.ms / 1000))} frames/s here`,
          },
        ]),
    {
      work: 'replay, each frame in and its routed frame out',
      against: "decoding the same frames with the registry's DBC library, frames per second",
      ratio: byLibrary / some.length / (byEngine / frames.length),
      better: 'higher',
    },
  ];
}
