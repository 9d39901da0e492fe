// A recording made by the replay engine: what went in and what came out, in order of time. Not a test itself.
import type { Combination, Pairing } from '../../../src/model/index.ts';
import {
  type CaptureOptions,
  type CaptureReport,
  type ReplayFrame,
  type WireLevel,
  createCapture,
  createReplay,
} from '../../../src/translate/index.ts';
import type { LogEvent } from '../random-log.ts';

export type Recorded =
  | ({ readonly kind: 'frame'; readonly sent: string | null } & ReplayFrame)
  | {
      readonly kind: 'wire';
      readonly driven: boolean;
      readonly timeUs: number;
      readonly wire: string;
      readonly level: WireLevel;
    };

/** Everything on all buses and wires while a map runs on a log, what goes in before what comes out at the same time. */
export function record(
  pairing: Pairing,
  log: readonly LogEvent[],
  { combination, startUs, untilUs }: { combination?: Combination; startUs?: number; untilUs: number },
): readonly Recorded[] {
  const events: Recorded[] = [];
  const replay = createReplay(pairing, {
    ...(combination === undefined ? {} : { combination }),
    ...(startUs === undefined ? {} : { startUs }),
    output: (event) =>
      events.push(
        event.kind === 'frame'
          ? {
              kind: 'frame',
              sent: event.message,
              timeUs: event.timeUs,
              bus: event.bus,
              frameId: event.frameId,
              extended: event.extended,
              data: event.data.slice(),
            }
          : { kind: 'wire', driven: true, timeUs: event.timeUs, wire: event.wire, level: event.level },
      ),
  });
  for (const event of log) {
    if (event.kind === 'frame') {
      replay.onFrame(event);
      events.push({ ...event, sent: null });
    } else {
      replay.onWire(event.wire, event.level, event.timeUs);
      events.push({ ...event, driven: false });
    }
  }
  replay.advanceTo(untilUs);
  const comesOut = (event: Recorded): number => Number(event.kind === 'frame' ? event.sent !== null : event.driven);
  return events
    .map((event, at) => ({ event, at }))
    .sort((a, b) => a.event.timeUs - b.event.timeUs || comesOut(a.event) - comesOut(b.event) || a.at - b.at)
    .map(({ event }) => event);
}

/** What the comparison says of a recording. */
export function verify(pairing: Pairing, events: readonly Recorded[], options: CaptureOptions = {}): CaptureReport {
  const capture = createCapture(pairing, options);
  for (const event of events) {
    if (event.kind === 'frame') capture.onFrame(event);
    else capture.onWire(event.wire, event.level, event.timeUs);
  }
  return capture.report(true);
}
