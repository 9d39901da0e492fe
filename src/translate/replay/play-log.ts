import type { LogEvent } from '../log/event.ts';
import type { Replay } from './types.ts';

/** Between two events a replay runs at most so long in one go, so that what comes out can be put away in between. */
const SLICE_US = 1_000_000;

/** A log going through a replay. */
export interface LogPlayer {
  /** Hands events on, in order of time. False when it was stopped on the way. */
  play(events: readonly LogEvent[]): Promise<boolean>;
  /** Lets what is due at the moment reached happen. */
  end(): Promise<void>;
  /** The moment reached: of the last event, or within the pause in which it was stopped; null before the first. */
  readonly nowUs: number | null;
}

/**
 * Plays a log into a replay. What comes out goes to the replay's `output`; `between` is awaited after every run of events and at least
 * once a second of the log, also where the log pauses for an hour: there what came out is put away, so that memory is bounded, and
 * the replay is stopped by giving false.
 */
export function playLog(replay: Replay, between: () => Promise<boolean>): LogPlayer {
  let nowUs: number | null = null;
  let putUs = 0;
  return {
    get nowUs() {
      return nowUs;
    },
    async play(events) {
      for (const event of events) {
        const { timeUs } = event;
        // Never up to the very moment of the event, which a tick at that moment must see.
        for (let at = (nowUs ?? timeUs) + SLICE_US; at < timeUs; at += SLICE_US) {
          replay.advanceTo(at);
          nowUs = at;
          if (!(await between())) return false;
        }
        if (timeUs - putUs > SLICE_US) {
          putUs = timeUs;
          if (!(await between())) return false;
        }
        nowUs = timeUs;
        if (event.kind === 'frame') replay.onFrame(event);
        else if (event.level.kind !== 'open') replay.onWire(event.wire, event.level, timeUs);
      }
      return between();
    },
    async end() {
      if (nowUs !== null) replay.advanceTo(nowUs);
      await between();
    },
  };
}
