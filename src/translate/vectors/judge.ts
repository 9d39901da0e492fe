import { type CompiledField, compileField } from '../../can/index.ts';
import type { ReplayOutput, WireLevel } from '../replay/types.ts';
import type { FrameExpectation, Vector, WireExpectation } from './schema.ts';
import { bytesOf } from './source-message.ts';

/** What became of one expectation of a vector. */
export interface VectorVerdict {
  readonly expectation: number;
  readonly met: boolean;
  /** What was seen where it was not met, in words. */
  readonly seen: string;
}

/** Judges what a module did while a vector was played. */
export interface VectorJudge {
  /** Everything the module sent or drove, in order of time; times from the start of the vector. */
  take(event: ReplayOutput): void;
  verdicts(): readonly VectorVerdict[];
}

interface Watch {
  take(event: ReplayOutput): void;
  verdict(): { readonly met: boolean; readonly seen: string };
}

/** `levels`: what the wires bore before the vector began; open where nothing is said. */
export function createVectorJudge(vector: Vector, levels: ReadonlyMap<string, WireLevel> = new Map()): VectorJudge {
  const watches = vector.expect.map((expectation) =>
    expectation.on === 'frame'
      ? watchFrames(expectation)
      : watchWire(expectation, levels.get(expectation.wire) ?? { kind: 'open' }),
  );
  return {
    take(event) {
      for (const watch of watches) watch.take(event);
    },
    verdicts: () => watches.map((watch, expectation) => ({ expectation, ...watch.verdict() })),
  };
}

function watchFrames(expectation: FrameExpectation): Watch {
  const { judge, fromUs, untilUs } = expectation;
  const id = Number(expectation.frameId);
  const extended = expectation.idFormat === 'extended';
  const test = payloadTest(expectation);
  let frames = 0;
  let wrong: string | null = null;
  let latest: { fault: string | null } | null = null;
  return {
    take(event) {
      if (event.kind !== 'frame' || event.frameId !== id || event.extended !== extended) return;
      if (event.bus !== expectation.bus || event.timeUs > untilUs) return;
      if (judge === 'latest') {
        const fault = test(event.data);
        if (fault !== undefined) latest = { fault: fault === null ? null : `at ${event.timeUs} µs ${fault}` };
        return;
      }
      if (event.timeUs < fromUs) return;
      if (judge === 'never') {
        if (test(event.data) === undefined) return;
        frames += 1;
        wrong ??= `a frame at ${event.timeUs} µs`;
        return;
      }
      const fault = test(event.data);
      if (fault === undefined) return;
      frames += 1;
      if (fault !== null) wrong ??= `at ${event.timeUs} µs ${fault}`;
    },
    verdict() {
      if (judge === 'latest') {
        if (latest === null) return { met: false, seen: 'no frame' };
        return { met: latest.fault === null, seen: latest.fault ?? '' };
      }
      if (wrong !== null) return { met: false, seen: wrong };
      if (judge === 'every' && frames === 0) return { met: false, seen: 'no frame in the window' };
      return { met: true, seen: '' };
    },
  };
}

/** Undefined: a frame of another page; null: as expected; else what is there instead. */
function payloadTest(expectation: FrameExpectation): (data: Uint8Array) => string | null | undefined {
  const { page, mask, value, field, raw, float } = expectation;
  const pageMask = page === undefined ? null : bytesOf(page.mask);
  const pageValue = page === undefined ? null : bytesOf(page.value);
  const content =
    field !== undefined
      ? fieldTest(compileField(field, field.number), raw, float)
      : maskTest(bytesOf(mask ?? ''), bytesOf(value ?? ''));
  return (data) => {
    if (pageMask !== null && pageValue !== null && !same(data, pageValue, pageMask)) return undefined;
    return content(data);
  };
}

function same(data: Uint8Array, value: Uint8Array, mask: Uint8Array): boolean {
  return mask.every((bits, at) => ((data[at] ?? 0) & bits) === ((value[at] ?? 0) & bits));
}

function maskTest(mask: Uint8Array, value: Uint8Array): (data: Uint8Array) => string | null {
  return (data) => (data.length === mask.length && same(data, value, mask) ? null : 'other bytes');
}

function fieldTest(
  { read, needsBytes }: CompiledField,
  raw: FrameExpectation['raw'],
  float: FrameExpectation['float'],
): (data: Uint8Array) => string | null {
  const span = raw === undefined ? null : ([BigInt(raw[0]), BigInt(raw[1])] as const);
  return (data) => {
    if (data.length < needsBytes) return `only ${data.length} bytes`;
    const seen = read(data);
    const right =
      span !== null
        ? BigInt(seen) >= span[0] && BigInt(seen) <= span[1]
        : float !== undefined && Math.abs(Number(seen) - float.value) <= float.tolerance;
    return right ? null : `raw ${seen}`;
  };
}

/** The level must be right from `fromUs` to `untilUs`: what was driven last before the window counts too. */
function watchWire(expectation: WireExpectation, first: WireLevel): Watch {
  const { wire, fromUs, untilUs } = expectation;
  let level: WireLevel = first;
  let wrong: string | null = null;
  let begun = false;
  const look = (timeUs: number): void => {
    if (!isRight(level, expectation.level)) wrong ??= `${levelText(level)} at ${timeUs} µs`;
  };
  return {
    take(event) {
      if (event.kind !== 'wire' || event.wire !== wire || event.timeUs > untilUs) return;
      if (event.timeUs > fromUs && !begun) {
        begun = true;
        look(fromUs);
      }
      level = event.level;
      if (event.timeUs > fromUs) look(event.timeUs);
    },
    verdict() {
      if (!begun) {
        begun = true;
        look(fromUs);
      }
      return { met: wrong === null, seen: wrong ?? '' };
    },
  };
}

function isRight(level: WireLevel, wanted: WireExpectation['level']): boolean {
  switch (wanted.kind) {
    case 'open':
      return level.kind === 'open';
    case 'switched':
      return level.kind === 'switched' && level.active === wanted.active;
    case 'measured':
      return (
        level.kind === 'measured' &&
        level.thousandths >= wanted.thousandths[0] &&
        level.thousandths <= wanted.thousandths[1]
      );
  }
}

function levelText(level: WireLevel): string {
  switch (level.kind) {
    case 'open':
      return 'open';
    case 'switched':
      return level.active ? 'active' : 'inactive';
    case 'measured':
      return `${level.thousandths} thousandths`;
  }
}
