import { type Interval, type Rational, abs, compare, sub } from '../../number/index.ts';
import type { NumberDomain } from '../domain/value-domain.ts';
import { apply, invert, isConstant, slopeSign } from '../function/fraction.ts';
import { type Piece, imageOfPiece, sameOn } from '../function/pieces.ts';
import type { Clip, RouteAnalysis } from './route-analysis.ts';
import type { Track } from './track.ts';

type Clips = Pick<RouteAnalysis, 'clips' | 'clippedLow' | 'clippedHigh'>;

const NONE: Clips = { clips: [], clippedLow: null, clippedHigh: null };

/**
 * The parts of the range that arrive as an end value of the target: of the source where the way from it is known, else of what
 * the steps deliver.
 */
export function clipsOf(last: Track, delivered: NumberDomain, sourceUnit: string | null, target: NumberDomain): Clips {
  const shown = target.interval;
  if (shown === null || delivered.interval === null) return NONE;
  if (compare(shown.lo, delivered.interval.lo) <= 0 && compare(delivered.interval.hi, shown.hi) <= 0) return NONE;
  const ofSource = last.reach !== null && last.reach.length > 0 && sourceUnit !== null;
  const reach = ofSource ? last.reach! : sameOn(delivered.interval);
  const unit = ofSource ? sourceUnit! : delivered.unitText;
  const clips: Clip[] = [];
  for (const piece of reach) {
    for (const part of partsBeyond(piece, shown)) {
      joinOrAdd(clips, { ...part, unit, of: ofSource ? 'source' : 'delivered', targetUnit: target.unitText });
    }
  }
  const first = reach[0]!.lo;
  const end = reach.at(-1)!.hi;
  return {
    clips,
    clippedLow: clips.find(({ from }) => first !== null && compare(from, first) === 0) ?? null,
    clippedHigh: clips.find(({ to }) => end !== null && compare(to, end) === 0) ?? null,
  };
}

type Part = Pick<Clip, 'from' | 'to' | 'targetEnd' | 'wouldBe'>;

/** The stretches of a bounded piece whose values lie below or above what is shown, in rising order of x. */
function partsBeyond(piece: Piece, shown: Interval): Part[] {
  const { lo, hi, fraction } = piece;
  if (lo === null || hi === null) return [];
  if (isConstant(fraction)) {
    const y = apply(fraction, lo)!;
    const end = compare(y, shown.lo) < 0 ? shown.lo : compare(y, shown.hi) > 0 ? shown.hi : null;
    return end === null ? [] : [{ from: lo, to: hi, targetEnd: end, wouldBe: y }];
  }
  const rising = slopeSign(fraction) > 0;
  const image = imageOfPiece(piece);
  const back = invert(fraction);
  const parts: Part[] = [];
  if (image.lo === null || compare(image.lo, shown.lo) < 0) {
    const edge = image.hi !== null && compare(image.hi, shown.lo) < 0 ? (rising ? hi : lo) : apply(back, shown.lo)!;
    parts.push({
      ...(rising ? { from: lo, to: edge } : { from: edge, to: hi }),
      targetEnd: shown.lo,
      wouldBe: image.lo ?? shown.lo,
    });
  }
  if (image.hi === null || compare(image.hi, shown.hi) > 0) {
    const edge = image.lo !== null && compare(image.lo, shown.hi) > 0 ? (rising ? lo : hi) : apply(back, shown.hi)!;
    parts.push({
      ...(rising ? { from: edge, to: hi } : { from: lo, to: edge }),
      targetEnd: shown.hi,
      wouldBe: image.hi ?? shown.hi,
    });
  }
  return rising ? parts : parts.reverse();
}

/** Stretches of neighbouring pieces that run into the same end are one clip. */
function joinOrAdd(clips: Clip[], clip: Clip): void {
  const before = clips.at(-1);
  if (before === undefined || compare(before.to, clip.from) !== 0 || before.targetEnd !== clip.targetEnd) {
    clips.push(clip);
    return;
  }
  const further = compare(beyond(clip), beyond(before)) > 0 ? clip : before;
  clips[clips.length - 1] = { ...before, to: clip.to, wouldBe: further.wouldBe };
}

/** How far beyond the target's end a clip would go. */
function beyond({ wouldBe, targetEnd }: Clip): Rational {
  return abs(sub(wouldBe, targetEnd));
}
