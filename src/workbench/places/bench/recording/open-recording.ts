import { parseRef, sideRef } from '../../../../model/index.ts';
import type { BenchSummary, FrameAt, LogNotes, Moment, StepScope } from '../../../worker/bench-protocol.ts';
import { lastReceived, looksOf, routeAt } from './at-cursor.ts';
import type { Span } from './columns.ts';
import { neighbour, type FramePlace } from './frame-log.ts';
import { laneOf, type Lane, type LaneHead, type LanePoints } from './lane.ts';
import type { Replayed } from './log-replay.ts';

/** A recording with what is asked of it; lanes are worked out when they are first traced. */
export interface OpenRecording {
  summary(elapsedMs: number): BenchSummary;
  lanes(
    routes: readonly string[],
    span: Span,
  ): { readonly heads: readonly LaneHead[]; readonly points: readonly LanePoints[] };
  /** All routes at a moment, and the frame `at` or the last one before. */
  moment(timeUs: number, at: FramePlace | null, scope: StepScope): Moment;
  /** The moment of the next frame, or the one before; at the end, the same moment again. */
  step(timeUs: number, at: FramePlace | null, step: 1 | -1, scope: StepScope): Moment;
  /** The next moment, or the one before, at which one of the routes turns: loss or clipping begins or ends. */
  turn(timeUs: number, step: 1 | -1, routes: readonly string[]): Moment;
}

const MOST_LANES_KEPT = 60;

export function openRecording({ recording, readers, inferred, capture, cutShort }: Replayed): OpenRecording {
  const looks = looksOf(recording);
  const lanes = new Map<string, Lane>();
  const { pairing, frames, messages } = recording;

  const laneFor = (id: string): Lane | null => {
    const known = lanes.get(id);
    if (known !== undefined) return known;
    const route = pairing.routes.get(id);
    if (route === undefined) return null;
    const lane = laneOf(recording, route);
    if (lanes.size >= MOST_LANES_KEPT) lanes.delete(lanes.keys().next().value!);
    lanes.set(id, lane);
    return lane;
  };
  const frameAt = (place: FramePlace | null): FrameAt | null => {
    if (place === null) return null;
    const log = frames[place.log]!;
    const { ref, by, bus, frameId, extended } = messages[log.messages.at(place.index)]!;
    return {
      place,
      timeUs: log.times.at(place.index),
      ref,
      bus,
      by,
      frameId: `0x${frameId
        .toString(16)
        .toUpperCase()
        .padStart(extended ? 8 : 3, '0')}`,
      hex: [...log.dataAt(place.index)].map((byte) => byte.toString(16).toUpperCase().padStart(2, '0')).join(' '),
    };
  };
  const wantedBy = (scope: StepScope): ((message: number) => boolean) => {
    if (scope === 'all') return () => true;
    const refs = new Set(
      scope.flatMap((id) => {
        const route = pairing.routes.get(id);
        return route === undefined ? [] : [...route.from, route.to].map(messageOfRef);
      }),
    );
    return (message) => refs.has(messages[message]!.ref);
  };
  const momentOf = (timeUs: number, place: FramePlace | null): Moment => {
    const received = lastReceived(recording, timeUs);
    return { timeUs, frame: frameAt(place), routes: looks.map((look) => routeAt(recording, look, timeUs, received)) };
  };
  return {
    summary: (elapsedMs) => ({
      startUs: recording.startUs,
      endUs: recording.endUs,
      ...recording.counts,
      elapsedMs,
      cutShort,
      logs: readers.map(({ name, reader: { report } }): LogNotes => ({
        name,
        frames: report.frames,
        levels: report.levels,
        bad: report.bad,
        faults: report.faults.map(({ line, column, problem }) => `${name}:${line}:${column}: ${problem}`),
        unmapped: [...report.unmapped],
      })),
      inferred,
      capture,
      refused: recording.refused,
    }),
    lanes(routes, span) {
      const found = routes.flatMap((id) => laneFor(id) ?? []);
      return { heads: found.map(({ head }) => head), points: found.map((lane) => lane.points(span)) };
    },
    moment: (timeUs, at, scope) => momentOf(timeUs, at ?? neighbour(frames, timeUs, null, -1, wantedBy(scope))),
    step(timeUs, at, step, scope) {
      const place = neighbour(frames, timeUs, at, step, wantedBy(scope));
      return place === null ? momentOf(timeUs, at) : momentOf(frames[place.log]!.times.at(place.index), place);
    },
    turn(timeUs, step, routes) {
      let best = step * Infinity;
      for (const id of routes) {
        const at = laneFor(id)?.turn(timeUs, step) ?? null;
        if (at !== null && (step === 1 ? at < best : at > best)) best = at;
      }
      const foundUs = Number.isFinite(best) ? best : timeUs;
      return momentOf(foundUs, neighbour(frames, foundUs, null, -1, wantedBy(routes)));
    },
  };
}

/** The message a signal belongs to, or the reference itself. */
function messageOfRef(ref: string): string {
  const parsed = parseRef(ref);
  return parsed === null || parsed.signal === null ? ref : sideRef(parsed.side, parsed.name);
}
