import type { LogEvent } from '../log/event.ts';
import type { Replay } from './types.ts';

/** Between two events a replay runs at most so long in one go, so that what comes out can be put away in between. */
const SLICE_US = 1_000_000;

/** A log going through a replay. */
export interface LogPlayer {
  /** Hands events on, in order of time; afterwards, and within long pauses, `putAway` is awaited. */
  play(events: readonly LogEvent[]): Promise<void>;
  /** Lets what is due at the last moment of the log happen. */
  end(): Promise<void>;
  /** Time of the last event; null before the first. */
  readonly nowUs: number | null;
}

/**
 * Plays a log into a replay. What comes out goes to the replay's `output`; `putAway` is called whenever there may be a good deal of
 * it, at least once a second of the log, so that memory is bounded also where the log pauses for an hour.
 */
export function playLog(replay: Replay, putAway: () => Promise<void>): LogPlayer {
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
          await putAway();
        }
        if (timeUs - putUs > SLICE_US) {
          await putAway();
          putUs = timeUs;
        }
        nowUs = timeUs;
        if (event.kind === 'frame') replay.onFrame(event);
        else if (event.level.kind !== 'open') replay.onWire(event.wire, event.level, timeUs);
      }
      await putAway();
    },
    async end() {
      if (nowUs !== null) replay.advanceTo(nowUs);
      await putAway();
    },
  };
}
