// Random traffic for a pairing from a seed: regular messages with gaps, short and corrupted frames, wire levels. Not a test itself.
import { applyChecksum, firstCount, insertRaw, nextCount } from '../../src/can/index.ts';
import type { Message, Pairing, SideName } from '../../src/model/index.ts';
import type { ReplayFrame, WireLevel } from '../../src/translate/index.ts';
import { type Random, randomFrom } from './random-map.ts';

export type LogEvent =
  | ({ readonly kind: 'frame' } & ReplayFrame)
  | {
      readonly kind: 'wire';
      readonly timeUs: number;
      readonly wire: string;
      readonly level: Exclude<WireLevel, { kind: 'open' }>;
    };

/** Events of the first so many milliseconds, in order of time: what the modules of a side send and drive. */
export function randomLog(
  pairing: Pairing,
  seed: number,
  untilMs: number,
  sides: readonly SideName[] = ['donor'],
): readonly LogEvent[] {
  const random = randomFrom(seed);
  const events = sides.flatMap((name) => [
    ...[...pairing.side(name).messages.values()].flatMap(({ message }) => framesOf(random, name, message, untilMs)),
    ...levelsOf(random, pairing, name, untilMs),
  ]);
  return events
    .map((event, at) => ({ event, at }))
    .sort((a, b) => a.event.timeUs - b.event.timeUs || a.at - b.at)
    .map(({ event }) => event);
}

function levelsOf(random: Random, pairing: Pairing, side: SideName, untilMs: number): LogEvent[] {
  const events: LogEvent[] = [];
  for (const { ref, wire } of pairing.side(side).wires.values()) {
    const switched = wire.meaning !== undefined && 'active' in wire.meaning;
    for (let ms = random.below(30); ms < untilMs; ms += random.between(1, 120)) {
      events.push({
        kind: 'wire',
        timeUs: ms * 1000 + random.below(1000),
        wire: ref,
        level: switched
          ? { kind: 'switched', active: random.chance(0.5) }
          : { kind: 'measured', thousandths: random.between(-2_000, 300_000) },
      });
    }
  }
  return events;
}

function framesOf(random: Random, side: SideName, message: Message, untilMs: number): LogEvent[] {
  const events: LogEvent[] = [];
  const cycleMs = random.between(4, 50);
  const { protection } = message;
  const counter = message.signals.find(({ id }) => id === protection?.counter);
  const check = message.signals.find(({ id }) => id === protection?.checksum);
  const spec = counter
    ? {
        modulo: protection?.counterModulo ?? 2 ** counter.bits.length,
        ...(protection?.counterSkips ? { skips: protection.counterSkips } : {}),
      }
    : null;
  let count = spec ? firstCount(spec) : 0;
  let last = new Uint8Array(message.length);
  for (let ms = random.below(cycleMs); ms < untilMs; ms += cycleMs) {
    // Now and then the sender falls silent.
    if (random.chance(0.03)) ms += random.between(50, 400);
    const length = random.chance(0.02) ? random.below(message.length) : message.length;
    const data = random.chance(0.3)
      ? last.slice()
      : Uint8Array.from({ length: message.length }, () => random.pick([random.below(256), 255, 0, 127]));
    if (message.signals[0]?.multiplexer) data[message.signals[0].bits.start >> 3] = random.below(4);
    if (spec && counter) {
      insertRaw(data, counter.bits, BigInt(count));
      if (!random.chance(0.05)) count = nextCount(count, spec);
    }
    if (check && protection?.algorithm && protection.algorithm !== 'unknown') {
      applyChecksum(
        data,
        {
          algorithm: protection.algorithm,
          ...(protection.dataId === undefined ? {} : { dataId: protection.dataId }),
          ...(protection.dataIdAt ? { dataIdAt: protection.dataIdAt } : {}),
        },
        check.bits,
      );
      if (random.chance(0.05)) data[random.below(data.length)]! ^= 1;
    }
    last = data;
    events.push({
      kind: 'frame',
      timeUs: ms * 1000 + random.below(1000),
      bus: `${side}:${message.bus}`,
      frameId: Number(message.frameId),
      extended: message.idFormat === 'extended',
      data: data.slice(0, length),
    });
  }
  return events;
}
