import type { LogEvent } from './event.ts';

/** How far a line may lag behind the latest one before it and still be put into its place, in microseconds. */
export const REORDER_US = 100_000;
/** How many events may wait for a laggard; beyond it the earliest are given. */
export const REORDER_EVENTS = 10_000;
/** The longest pause of a log. Beyond it the clock has jumped, or the text is damaged: a replay would idle for hours. */
export const MOST_GAP_US = 3_600_000_000;

/**
 * Puts the events of one log in order of time. Loggers of several interfaces are a little out of order; a line that lags by at most
 * `REORDER_US` is put into its place, equal times stay in the order of the lines. A line that lags more, or is ahead by more than
 * `MOST_GAP_US`, is refused. Every decision rests on the lines before alone, so that cutting the text differently changes nothing.
 */
export interface Order {
  /** Takes an event; the reason when it is refused. */
  add(event: LogEvent): string | null;
  /** The events that no later line can precede, in order. */
  ready(): readonly LogEvent[];
  /** All that wait, in order. */
  rest(): readonly LogEvent[];
}

export function createOrder(): Order {
  /** From `given` on, those that wait; before it, those that are ready. */
  let queue: LogEvent[] = [];
  let given = 0;
  let newestLine = 0;
  /** The latest time, and the one before which an event comes too late. Doubles in an array cost no allocation when they are set. */
  const clock = Float64Array.of(-Infinity, -Infinity);

  const take = (): readonly LogEvent[] => {
    const ready = given === queue.length ? queue : queue.slice(0, given);
    queue = given === queue.length ? [] : queue.slice(given);
    given = 0;
    return ready;
  };
  return {
    add(event) {
      const { timeUs, line } = event;
      const newestUs = clock[NEWEST]!;
      if (timeUs >= newestUs) {
        if (timeUs > newestUs + MOST_GAP_US && newestLine > 0) {
          return `its time is ${seconds(timeUs - newestUs)} after line ${newestLine}; ${CLOCK}`;
        }
        queue.push(event);
        newestLine = line;
        clock[NEWEST] = timeUs;
        clock[FLOOR] = Math.max(clock[FLOOR]!, timeUs - REORDER_US);
      } else {
        if (timeUs < clock[FLOOR]!)
          return `its time is ${seconds(newestUs - timeUs)} before line ${newestLine}; ${CLOCK}`;
        let at = queue.length;
        while (at > given && queue[at - 1]!.timeUs > timeUs) at -= 1;
        queue.splice(at, 0, event);
      }
      while (given < queue.length && queue[given]!.timeUs < clock[FLOOR]!) given += 1;
      if (queue.length - given > REORDER_EVENTS) {
        clock[FLOOR] = queue[given]!.timeUs;
        given += 1;
      }
      return null;
    },
    ready: take,
    rest() {
      given = queue.length;
      return take();
    },
  };
}

const NEWEST = 0;
const FLOOR = 1;

const CLOCK = `a log may lag by ${REORDER_US / 1e6} s and pause for an hour: where its clock was set, split it into two logs`;

function seconds(us: number): string {
  return `${us < 1e9 ? us / 1e6 : Math.round(us / 1e6)} s`;
}
