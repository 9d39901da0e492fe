import type { WireLevel } from '../replay/types.ts';
import { allowedAt, isAllowed } from './allowed.ts';
import type { Collector } from './collector.ts';
import { type FieldJudge, allowedText } from './field-judge.ts';

/** A wire that an interface module drives, as it is recorded. */
export interface WireWatch {
  level(level: WireLevel, timeUs: number): void;
  tick(timeUs: number): void;
  readonly heard: boolean;
}

export function createWireWatch(
  wire: string,
  judge: FieldJudge,
  periodUs: number,
  tolerance: (raw: number) => number,
  text: (raw: number | bigint) => string,
  collector: Collector,
): WireWatch {
  const route = judge.routes.routes[0]!.route.id;
  let now: WireLevel | null = null;
  let stale = false;
  const open = (timeUs: number): void => {
    const allowed = judge.expected(timeUs);
    if (allowed === null || allowed.nothing) return;
    judge.count.judged += 1;
    judge.count.wrong += 1;
    collector.add({
      kind: 'wrong',
      timeUs,
      route,
      subject: wire,
      expected: allowedText(allowed, text),
      found: 'open',
      count: 1,
    });
  };
  return {
    get heard() {
      return now !== null;
    },
    level(level, timeUs) {
      now = level;
      stale = false;
      if (level.kind === 'open') open(timeUs);
      else judge.seen(rawOf(level), timeUs);
    },
    tick(timeUs) {
      if (now === null || stale) return;
      const allowed = allowedAt(judge.routes, timeUs, judge.routes.ageUs + periodUs);
      if (allowed.unknown) return;
      const right =
        now.kind === 'open' ? allowed.nothing : isAllowed(allowed, rawOf(now), tolerance(rawOf(now)), false);
      if (right) return;
      stale = true;
      judge.count.missing += 1;
      collector.add({
        kind: 'missing',
        timeUs,
        route,
        subject: wire,
        expected: allowedText(allowed, text),
        found: now.kind === 'open' ? 'open still' : `${text(rawOf(now))} still`,
        count: 1,
      });
    },
  };
}

function rawOf(level: Exclude<WireLevel, { kind: 'open' }>): number {
  return level.kind === 'switched' ? Number(level.active) : level.thousandths;
}
