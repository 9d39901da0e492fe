import {
  FACTOR,
  HIGH,
  HOLDS,
  IN,
  INTEGERS,
  IN_MASK,
  IN_SIGN,
  LITTLE,
  LO,
  HI,
  LOW,
  type Lane,
  type LaneState,
  OFFSET,
  OUT,
  OUT_KEEP,
  OUT_KEEP_NEXT,
  OUT_MASK,
  PLACE,
  REALS,
  ROUTE,
  SHIFT,
  SPECIAL,
  runLane,
} from './lane.ts';

/** Makes a function of a parameter list and a body, as the host may: a strict page cannot, a terminal can. */
export type MakeFunction = (parameters: readonly string[], body: string) => unknown;

/** A lane made into code of its own. */
export type LaneFunction = (timeUs: number) => boolean;

/**
 * The lane unrolled: the same steps as `runLane` with every constant in its place. The text holds nothing but numbers of the plan.
 * Results are those of `runLane` (property-tested).
 */
export function laneFunction(lane: Lane, state: LaneState, words: Int32Array, make: MakeFunction): LaneFunction {
  const maker = makerOf(laneBody(lane), make);
  const bytes = new Uint8Array(state.arena.buffer);
  const general = (route: number, timeUs: number): number => state.general(route, timeUs);
  const whole = (timeUs: number): boolean => runLane(lane, state, words, timeUs);
  return maker(bytes, state.missing, general, whole, words, state.held, state.hasHeld, state.lostSince);
}

type Maker = (...given: unknown[]) => LaneFunction;

/** Makers by their text: a map replayed again, or opened in another revision, meets most of its lanes again. */
const makers = new WeakMap<MakeFunction, Map<string, Maker>>();
const MOST_KEPT = 2_000;

function makerOf(body: string, make: MakeFunction): Maker {
  let kept = makers.get(make);
  if (kept === undefined || kept.size >= MOST_KEPT) makers.set(make, (kept = new Map<string, Maker>()));
  let maker = kept.get(body);
  if (maker === undefined) {
    const parameters = ['bytes', 'missing', 'general', 'whole', 'words', 'held', 'hasHeld', 'lostSince'];
    maker = make(parameters, `return function (t) {\n${body}\n};`) as Maker;
    kept.set(body, maker);
  }
  return maker;
}

function laneBody({ count, groups, integers: I, reals: R }: Lane): string {
  const used = new Set<number>();
  const routes = Array.from({ length: count }, (_, index) =>
    routeText(I.subarray(index * INTEGERS), R.subarray(index * REALS), used),
  );
  const sorted = [...used].sort((a, b) => a - b);
  return [
    // With a source lost every route goes the general way: no need of code for that.
    ...[...groups].map((group) => `if (missing[${group}] !== 0) return whole(t);`),
    `let sent = true, x = 0, y = 0, b = 0;`,
    ...sorted.map((word) => `let w${word} = words[${word}];`),
    ...routes,
    ...sorted.map((word) => `words[${word}] = w${word};`),
    `return sent;`,
  ].join('\n');
}

function routeText(i: Int32Array, r: Float64Array, used: Set<number>): string {
  const out = i[OUT]!;
  const route = i[ROUTE]!;
  const hold = (out & HOLDS) === 0 ? '' : `held[${route}] = y; hasHeld[${route}] = 1; lostSince[${route}] = -1;`;
  const line = `${lineText(r)} ${hold}`;
  if (r[SPECIAL] === Infinity) return `x = ${readText(i)};\n${line}\n${writeText(i, used)}`;
  return `x = ${readText(i)};
if (x >= ${r[SPECIAL]}) y = general(${route}, t);
else { ${line} }
if (y !== y) sent = false;
else { ${writeText(i, used)} }`;
}

/** The field out of its bytes: only those it lies in. */
function readText(i: Int32Array): string {
  const input = i[IN]!;
  const at = input >> PLACE;
  const shift = input & SHIFT;
  const mask = i[IN_MASK]!;
  const bits = 32 - Math.clz32(mask);
  const parts: string[] = [];
  for (let byte = 0; byte < 4; byte += 1) {
    // The place of this byte in the word.
    const up = (input & LITTLE) !== 0 ? 8 * byte : 24 - 8 * byte;
    if (up + 8 <= shift || up >= shift + bits) continue;
    parts.push(up >= shift ? `bytes[${at + byte}] << ${up - shift}` : `bytes[${at + byte}] >> ${shift - up}`);
  }
  const raw = `(${parts.join(' | ')}) & ${mask}`;
  const sign = i[IN_SIGN]!;
  return sign === 0 ? raw : `((${raw}) ^ ${sign}) - ${sign}`;
}

function lineText(r: Float64Array): string {
  const line = `${r[FACTOR]} * x + ${r[OFFSET]}`;
  // Cutting the fraction off is rounding down where nothing is below zero, and quicker.
  const ends = [r[LO]!, r[HI]!].map((x) => r[FACTOR]! * x + r[OFFSET]!);
  const cuts = ends.every((end) => end >= 0 && end < 2 ** 31);
  const sloped = r[FACTOR] === 1 && r[OFFSET] === 0 ? 'x' : cuts ? `${line} | 0` : `Math.floor(${line})`;
  const low = r[LO] === -Infinity ? '' : `x < ${r[LO]} ? ${r[LOW]} : `;
  const high = r[HI] === Infinity ? '' : `x > ${r[HI]} ? ${r[HIGH]} : `;
  return `y = ${low}${high}${sloped};`;
}

function writeText(i: Int32Array, used: Set<number>): string {
  const out = i[OUT]!;
  const at = out >> PLACE;
  const first = at >> 2;
  const within = (at & 3) << 3;
  const shift = out & SHIFT;
  used.add(first);
  const placed = `(y & ${i[OUT_MASK]}) << ${shift}`;
  const swap = 'b = b >>> 24 | b >>> 8 & 65280 | b << 8 & 16711680 | b << 24;';
  const next =
    i[OUT_KEEP_NEXT] === -1 ? '' : `w${first + 1} = w${first + 1} & ${i[OUT_KEEP_NEXT]} | b >>> ${32 - within};`;
  if (next !== '') used.add(first + 1);
  if ((out & LITTLE) !== 0 && next === '') return `w${first} = w${first} & ${i[OUT_KEEP]} | ${placed} << ${within};`;
  return `b = ${placed}; ${(out & LITTLE) === 0 ? swap : ''} w${first} = w${first} & ${i[OUT_KEEP]} | b << ${within}; ${next}`;
}
