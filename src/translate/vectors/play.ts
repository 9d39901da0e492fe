import type { ReplayFrame, WireLevel } from '../replay/types.ts';
import type { Vector, VectorStream } from './schema.ts';
import { bytesOf } from './source-message.ts';

/** What a bench does at one moment of a vector. */
export type StimulusEvent =
  | { readonly kind: 'frame'; readonly frame: ReplayFrame & { readonly fd: boolean } }
  | {
      readonly kind: 'wire';
      readonly timeUs: number;
      readonly wire: string;
      readonly level: Exclude<WireLevel, { kind: 'open' }>;
    };

/** Everything a vector sends, in order of time; `atUs` is when it begins. Levels come before frames of the same moment. */
export function* stimulusOf({ send, levels }: Vector, atUs = 0): Generator<StimulusEvent> {
  const cursors = send.map((stream) => ({ stream, index: 0, payloads: stream.data.map(bytesOf) }));
  const wires = levels.toSorted((a, b) => a.atUs - b.atUs);
  let wire = 0;
  for (;;) {
    const next = cursors.reduce<(typeof cursors)[number] | null>((first, cursor) => {
      if (cursor.index >= cursor.stream.count) return first;
      return first === null || timeOf(cursor.stream, cursor.index) < timeOf(first.stream, first.index) ? cursor : first;
    }, null);
    const level = wires[wire];
    if (level !== undefined && (next === null || level.atUs <= timeOf(next.stream, next.index))) {
      wire += 1;
      yield {
        kind: 'wire',
        timeUs: atUs + level.atUs,
        wire: level.wire,
        level:
          level.level.kind === 'switched' ? level.level : { kind: 'measured', thousandths: level.level.thousandths },
      };
      continue;
    }
    if (next === null) return;
    const { stream, index, payloads } = next;
    next.index += 1;
    yield {
      kind: 'frame',
      frame: {
        timeUs: atUs + timeOf(stream, index),
        bus: stream.bus,
        frameId: Number(stream.frameId),
        extended: stream.idFormat === 'extended',
        fd: stream.frameFormat === 'fd',
        data: payloads[index % payloads.length]!,
      },
    };
  }
}

function timeOf({ fromUs, everyUs }: VectorStream, index: number): number {
  return fromUs + index * everyUs;
}
