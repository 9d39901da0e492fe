import { Column, lastAtOrBefore } from './change-trace.ts';

/** A message that was received, or sent by an interface module. */
export interface RecordedMessage {
  /** `side:Message`. */
  readonly ref: string;
  /** Id of the interface module that sent it; null: received. */
  readonly by: string | null;
  /** `side:bus`. */
  readonly bus: string;
  readonly frameId: number;
  readonly extended: boolean;
}

/** Frames of one origin in order of time, with their bytes. */
export class FrameLog {
  readonly times = new Column();
  /** Position among the recorded messages. */
  readonly messages = new Column();
  private readonly starts = new Column();
  private payload = new Uint8Array(1024);
  private used = 0;

  add(timeUs: number, message: number, data: Uint8Array): void {
    if (this.used + data.length > this.payload.length) {
      const wider = new Uint8Array(Math.max(this.payload.length * 2, this.used + data.length));
      wider.set(this.payload);
      this.payload = wider;
    }
    this.times.push(timeUs);
    this.messages.push(message);
    this.starts.push(this.used);
    this.payload.set(data, this.used);
    this.used += data.length;
  }

  get length(): number {
    return this.times.length;
  }

  dataAt(index: number): Uint8Array {
    const end = index + 1 < this.length ? this.starts.at(index + 1) : this.used;
    return this.payload.slice(this.starts.at(index), end);
  }

  indexAt(timeUs: number): number {
    return lastAtOrBefore(this.times.view(), timeUs);
  }

  get bytes(): number {
    return this.times.bytes + this.messages.bytes + this.starts.bytes + this.payload.length;
  }
}

/** A frame of a recording: which log, and where in it. */
export interface FramePlace {
  readonly log: number;
  readonly index: number;
}

/**
 * The frame after a place in time over all logs (or before it), among messages that `wanted` takes; null at the end. Frames of the
 * same moment follow each other in the order of the logs.
 */
export function neighbour(
  logs: readonly FrameLog[],
  timeUs: number,
  at: FramePlace | null,
  step: 1 | -1,
  wanted: (message: number) => boolean,
): FramePlace | null {
  let best: FramePlace | null = null;
  let bestUs = step * Infinity;
  logs.forEach((log, order) => {
    let index = firstBeyond(log, order, timeUs, at, step);
    while (index >= 0 && index < log.length && !wanted(log.messages.at(index))) index += step;
    if (index < 0 || index >= log.length) return;
    const foundUs = log.times.at(index);
    const better = step === 1 ? foundUs < bestUs : foundUs >= bestUs;
    if (best !== null && !better) return;
    best = { log: order, index };
    bestUs = foundUs;
  });
  return best;
}

/** The first entry of a log that lies beyond a place: of the frames of the same moment those of later logs come after it. */
function firstBeyond(log: FrameLog, order: number, timeUs: number, at: FramePlace | null, step: 1 | -1): number {
  if (at !== null && at.log === order) return at.index + step;
  const upTo = log.indexAt(timeUs);
  if (at === null) return step === 1 ? upTo + 1 : upTo;
  // Frames of this very moment in an earlier log were before the place, in a later one they are after it.
  const before = lastBefore(log, timeUs);
  const passed = order < at.log ? upTo : before;
  return step === 1 ? passed + 1 : passed;
}

function lastBefore(log: FrameLog, timeUs: number): number {
  let index = log.indexAt(timeUs);
  while (index >= 0 && log.times.at(index) === timeUs) index -= 1;
  return index;
}
