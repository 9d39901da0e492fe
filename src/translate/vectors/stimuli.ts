import { type Rational, add, applyAffine, ceil, compare, div, equals, floor, mul, sub } from '../../number/index.ts';
import type { RouteAnalysis } from '../analysis/route-analysis.ts';
import { isCombination } from '../analysis/effect.ts';
import type { NumberDomain, StateDomain, ValueDomain } from '../domain/value-domain.ts';
import { solvePiece } from '../evaluate/inverse.ts';
import { type SourceInput, levelFor, readSource } from '../evaluate/source-end.ts';
import { type PiecewiseFunction, chain, sameOn, valueAt } from '../function/pieces.ts';

/** What one vector gives a source, and what is worth seeing about it. */
export interface Stimulus {
  readonly name: string;
  readonly kind: 'end' | 'inside' | 'breakpoint' | 'state' | 'no-value' | 'text' | 'lost';
  /** Null: the source is withheld. */
  readonly input: SourceInput | null;
  /** What the source shows first, where the result depends on it (hysteresis). */
  readonly before?: SourceInput;
}

const MOST_THRESHOLDS = 12;
const MOST_BREAKPOINTS = 16;
const MOST_SPECIALS = 4;

/**
 * Everything worth trying at source `index` of a route: for a number both ends, quarters, zero, every bend of the steps, every band
 * threshold from both sides with its hysteresis, the ends of what the target can show, a value beyond the declared range; for states
 * each of them and one without a name; the raw values that are no value; and the source lost.
 */
export function stimuliOf(analysis: RouteAnalysis, index: number): readonly Stimulus[] {
  const domain = analysis.sources[index];
  switch (domain?.kind) {
    case 'state':
      return stateStimuli(domain);
    case 'number':
      return numberStimuli(analysis, domain, index);
    case 'text':
      return [
        {
          name: 'text',
          kind: 'text',
          input: { kind: 'raw', raw: textRaw(domain.lengthBits, orderOf(analysis, index)) },
        },
        { name: 'source lost', kind: 'lost', input: null },
      ];
    case 'frame':
    case undefined:
      return [];
  }
}

function orderOf({ pairing, route }: RouteAnalysis, index: number): 'little' | 'big' {
  const endpoint = pairing.find(route.from[index]!);
  return endpoint?.kind === 'signal' ? endpoint.signal.bits.order : 'big';
}

/** The raw value of a field of so many bits whose bytes read `ABC…` in the order in which they lie in the frame. */
function textRaw(lengthBits: number, order: 'little' | 'big'): bigint {
  let raw = 0n;
  for (let byte = 0; byte * 8 < lengthBits; byte += 1) {
    const letter = BigInt(0x41 + (byte % 26));
    raw = order === 'big' ? (raw << 8n) | letter : raw | (letter << BigInt(byte * 8));
  }
  return BigInt.asUintN(lengthBits, raw);
}

function stateStimuli(domain: StateDomain): readonly Stimulus[] {
  const states = domain.states.map(({ label, raw }): Stimulus => ({
    name: `state “${label}”`,
    kind: 'state',
    input: raw === null ? { kind: 'state', label } : { kind: 'raw', raw: BigInt(raw) },
  }));
  return [...states, ...unnamed(domain), ...specials(domain), { name: 'source lost', kind: 'lost', input: null }];
}

/** The least raw value that has neither a name nor a special meaning. */
function unnamed({ field, states, specials: special, unnamed: count }: StateDomain): readonly Stimulus[] {
  if (field === null || count === 0) return [];
  const taken = new Set([...states.map(({ raw }) => raw), ...special.map(({ raw }) => raw)]);
  for (let raw = field.lo; raw <= field.hi && raw - field.lo <= BigInt(taken.size); raw += 1n) {
    if (!taken.has(raw.toString()))
      return [{ name: 'a raw value without a name', kind: 'state', input: { kind: 'raw', raw } }];
  }
  return [];
}

function specials({ specials: list }: StateDomain | NumberDomain): readonly Stimulus[] {
  return list.slice(0, MOST_SPECIALS).map(({ raw, means }): Stimulus => ({
    name: means === 'error' ? 'error' : 'not available',
    kind: 'no-value',
    input: { kind: 'raw', raw: BigInt(raw) },
  }));
}

const ZERO: Rational = { num: 0n, den: 1n };

const UNBOUNDED: readonly (readonly [string, bigint])[] = [
  ['zero', 0n],
  ['one', 1n],
  ['a hundred', 100n],
  ['minus one', -1n],
];

function numberStimuli(analysis: RouteAnalysis, domain: NumberDomain, index: number): readonly Stimulus[] {
  const { interval, coding } = domain;
  const stimuli: Stimulus[] = [];
  if (interval === null) {
    // Nothing bounds it: some plain values.
    for (const [name, num] of UNBOUNDED)
      stimuli.push({ name, kind: 'inside', input: { kind: 'physical', value: { num, den: 1n } } });
  } else {
    const physical = (name: string, kind: Stimulus['kind'], value: Rational): void =>
      void stimuli.push({ name, kind, input: { kind: 'physical', value } });
    physical('least', 'end', interval.lo);
    for (const quarter of [1n, 2n, 3n])
      physical(
        `${quarter}/4 of the range`,
        'inside',
        add(interval.lo, mul(sub(interval.hi, interval.lo), { num: quarter, den: 4n })),
      );
    physical('most', 'end', interval.hi);
    const tried = new Set(stimuli.map(({ input }) => inputKey(domain, input)));
    const extra = (name: string, value: Rational): void => {
      const inside = compare(interval.lo, value) <= 0 && compare(value, interval.hi) <= 0;
      const key = inputKey(domain, { kind: 'physical', value });
      if (!inside || tried.has(key)) return;
      tried.add(key);
      physical(name, name === 'zero' ? 'inside' : 'breakpoint', value);
    };
    extra('zero', ZERO);
    const way = wayTo(analysis, index);
    for (const at of way.seams.slice(0, MOST_BREAKPOINTS)) extra('breakpoint', at);
    for (const { from, to, of } of analysis.clips) {
      if (of !== 'source') continue;
      extra('end of what the target shows', from);
      extra('end of what the target shows', to);
    }
    if (way.bands !== null) stimuli.push(...thresholdStimuli(domain, way.reach, way.bands));
  }
  if (coding?.kind === 'integer' && coding.usable !== null && coding.usable.hi < coding.field.hi) {
    const beyond = coding.usable.hi + 1n;
    if (!domain.specials.some(({ raw }) => raw === beyond.toString()))
      stimuli.push({ name: 'beyond the declared range', kind: 'end', input: { kind: 'raw', raw: beyond } });
  }
  return [...stimuli, ...specials(domain), { name: 'source lost', kind: 'lost', input: null }];
}

function inputKey(domain: ValueDomain, input: SourceInput | null): string {
  const { raw, level } = readSource(domain, input);
  return raw !== null ? String(raw) : level !== null ? `${level.num}/${level.den}` : '';
}

interface Bands {
  readonly at: readonly Rational[];
  readonly hysteresis: Rational;
}

interface Way {
  /** Source value → value before the first `bands` step, or before the values of several sources meet. */
  readonly reach: PiecewiseFunction;
  /** Where it bends, in the unit of the source. */
  readonly seams: readonly Rational[];
  readonly bands: Bands | null;
}

/** Follows one source through the steps for as long as it stays a number on its own. */
function wayTo({ sources, stages }: RouteAnalysis, index: number): Way {
  const domain = sources[index] as NumberDomain;
  let reach = sameOn(domain.interval);
  let bands: Bands | null = null;
  for (const { effects } of stages) {
    const [first] = effects;
    const combines = effects.length === 1 && first && isCombination(first);
    if (combines && sources.length > 1) break;
    const effect = effects[index];
    if (effect?.kind === 'function') reach = chain(reach, effect.pieces);
    else if (effect?.kind === 'bands') {
      bands = effect;
      break;
    } else if (effect?.kind === 'pick' || effect?.kind === 'relabel' || effect?.kind === 'choose-by') break;
  }
  const seams: Rational[] = [];
  for (const { hi } of reach) if (hi !== null && !seams.some((known) => equals(known, hi))) seams.push(hi);
  return { reach, seams, bands };
}

/** Each threshold just below and at it, and where there is hysteresis the way back just below it and at it. */
function thresholdStimuli(domain: NumberDomain, reach: PiecewiseFunction, bands: Bands): readonly Stimulus[] {
  return bands.at.slice(0, MOST_THRESHOLDS).flatMap((at): Stimulus[] => {
    const up = around(domain, reach, at);
    const leaves = sub(at, bands.hysteresis);
    const down = bands.hysteresis.num === 0n ? up : around(domain, reach, leaves);
    if (up === null || down === null) return [];
    const stimulus = (name: string, input: SourceInput, before: SourceInput): Stimulus => ({
      name,
      kind: 'breakpoint',
      input,
      before,
    });
    return [
      stimulus('threshold, rising, just below', up.below, down.below),
      stimulus('threshold, rising, at it', up.above, down.below),
      ...(bands.hysteresis.num === 0n
        ? []
        : [stimulus('threshold, falling, inside the hysteresis', down.above, up.above)]),
      stimulus('threshold, falling, just below', down.below, up.above),
    ];
  });
}

/** The two neighbouring settings of a source between which what it gives crosses y; null when it never does. */
function around(
  domain: NumberDomain,
  reach: PiecewiseFunction,
  y: Rational,
): { readonly below: SourceInput; readonly above: SourceInput } | null {
  for (const piece of reach) {
    const x = solvePiece(piece, y);
    if (x === null) continue;
    const settings = neighbours(domain, x).flatMap((input) => {
      const { value } = readSource(domain, input);
      const reached = value.kind === 'number' ? valueAt(reach, value.value) : null;
      return reached === null ? [] : [{ input, over: compare(reached, y) >= 0 }];
    });
    const below = settings.find(({ over }) => !over);
    const above = settings.find(({ over }) => over);
    if (below !== undefined && above !== undefined) return { below: below.input, above: above.input };
  }
  return null;
}

/** Settings beside x, the nearest first: raw values of a field, thousandths on a wire, close floats. */
function neighbours({ coding }: NumberDomain, x: Rational): readonly SourceInput[] {
  switch (coding?.kind) {
    case 'integer': {
      if (coding.scaling.factor.num === 0n) return [];
      return besides(div(sub(x, coding.scaling.offset), coding.scaling.factor)).map((raw) => ({ kind: 'raw', raw }));
    }
    case 'float': {
      const off = mul(x.num === 0n ? { num: 1n, den: 1n } : x, { num: 1n, den: 4096n });
      return [x, sub(x, off), add(x, off)].map((value) => ({ kind: 'physical', value }));
    }
    case 'wire-scale':
    case 'wire-curve': {
      const level = levelFor(x, coding);
      if (level === null) return [];
      const thousand = { factor: { num: 1000n, den: 1n }, offset: ZERO };
      return besides(applyAffine(thousand, level)).map((thousandths) => ({
        kind: 'level',
        quantity: { num: thousandths, den: 1000n },
      }));
    }
    case undefined:
      return [];
  }
}

function besides(x: Rational): readonly bigint[] {
  const low = floor(x);
  const high = ceil(x);
  return low === high ? [low, low - 1n, low + 1n] : [low, high];
}
