// Logs as no vehicle sends them: wrong lengths, unknown ids, other buses, a clock that jumps. Not a test itself.
import type { Pairing, SideName } from '../../src/model/index.ts';
import { type LogEvent, randomLog } from './random-log.ts';
import { randomFrom } from './random-map.ts';

const MOST_US = 30_000_000;

/** A random log with damage of every kind, from a seed. */
export function fuzzedLog(
  pairing: Pairing,
  seed: number,
  untilMs: number,
  sides?: readonly SideName[],
): readonly LogEvent[] {
  const random = randomFrom(seed ^ 0x5f5f);
  let jumpUs = 0;
  return randomLog(pairing, seed, untilMs, sides).map((event): LogEvent => {
    if (random.chance(0.01)) jumpUs = Math.min(MOST_US, jumpUs + random.below(5_000_000));
    if (random.chance(0.01)) jumpUs = Math.max(0, jumpUs - random.below(300_000));
    const timeUs = event.timeUs + jumpUs;
    if (event.kind === 'wire') {
      if (event.level.kind === 'switched' || !random.chance(0.2)) return { ...event, timeUs };
      const thousandths = random.pick([2 ** 31 - 1, -(2 ** 31) + 1, -1, 0, random.between(-9, 9)]);
      return { ...event, timeUs, level: { kind: 'measured', thousandths } };
    }
    const data = random.chance(0.1)
      ? Uint8Array.from({ length: random.below(65) }, () => random.below(256))
      : random.chance(0.1)
        ? new Uint8Array(event.data.length).fill(random.pick([0, 0x7f, 0x80, 0xff]))
        : event.data;
    return {
      ...event,
      timeUs,
      data,
      frameId: random.chance(0.03) ? random.below(2048) : event.frameId,
      extended: random.chance(0.02) ? !event.extended : event.extended,
      bus: random.chance(0.02) ? 'host:bus' : event.bus,
    };
  });
}
