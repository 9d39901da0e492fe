import { formatDecimal, toNumber, type Affine, type Rational } from '../../../../number/index.ts';
import type { Endpoint, Wire } from '../../../../model/index.ts';
import {
  domainOfEndpoint,
  readSource,
  type LiveValue,
  type SourceInput,
  type ValueDomain,
} from '../../../../translate/index.ts';

/**
 * What recorded numbers of one signal or wire mean. A signal is recorded by its raw value, a wire by its level as the engine has it:
 * 1 active and 0 inactive, or thousandths of the electrical quantity.
 */
export interface Reading {
  readonly domain: ValueDomain;
  /** The unit of `y`; '' for states. */
  readonly unit: string;
  /** The names along the axis, from the lowest up; null for a number. */
  readonly labels: readonly string[] | null;
  inputOf(recorded: number | bigint): SourceInput | null;
  valueOf(recorded: number | bigint): LiveValue;
  /** Where it is drawn: the physical value, or the position of the state among `labels`. NaN: no value. */
  yOf(recorded: number | bigint): number;
  yOfValue(value: LiveValue): number;
  /** The raw value in digits, or the level on the wire with its unit. */
  rawText(recorded: number | bigint): string;
}

const THOUSAND = 1000n;

/** How what was recorded of an endpoint is read; null for a whole message. */
export function readingOf(endpoint: Endpoint): Reading | null {
  if (endpoint.kind === 'message') return null;
  const domain = domainOfEndpoint(endpoint);
  const inputOf = endpoint.kind === 'wire' ? levelInput(endpoint.wire, domain) : rawInput;
  const labels = labelsOf(domain, endpoint);
  const places = new Map((labels ?? []).map((label, index) => [label, index]));
  const yOfValue = (value: LiveValue): number => {
    if (value.kind === 'number') return toNumber(value.value);
    if (value.kind === 'none' || labels === null) return Number.NaN;
    return places.get(value.label) ?? labels.length - 1;
  };
  const valueOf = (recorded: number | bigint): LiveValue => readSource(domain, inputOf(recorded)).value;
  const known = new Map<number | bigint, number>();
  const remembered = (recorded: number | bigint): number => {
    const before = known.get(recorded);
    if (before !== undefined) return before;
    const y = yOfValue(valueOf(recorded));
    if (known.size < MOST_REMEMBERED) known.set(recorded, y);
    return y;
  };
  return {
    domain,
    unit: domain.kind === 'number' ? domain.unitText : '',
    labels,
    inputOf,
    valueOf,
    yOf: quickY(domain) ?? remembered,
    yOfValue,
    rawText: rawTextOf(endpoint, domain),
  };
}

function rawTextOf(endpoint: Endpoint, domain: ValueDomain): (recorded: number | bigint) => string {
  if (endpoint.kind !== 'wire') return (raw) => String(raw).replace('-', '−');
  const measured = (unit: string) => (level: number | bigint) =>
    `${formatDecimal({ num: BigInt(level), den: THOUSAND }, { maxSignificant: 7 }).replace('-', '−')} ${unit}`;
  if (domain.kind === 'number' && (domain.coding?.kind === 'wire-scale' || domain.coding?.kind === 'wire-curve'))
    return measured(domain.coding.of === 'Ohm' ? 'Ω' : domain.coding.of);
  const { meaning } = endpoint.wire;
  return meaning && 'codes' in meaning ? measured('Ω') : (level) => (Number(level) === 1 ? 'active' : 'inactive');
}

const MOST_REMEMBERED = 100_000;
/** Stands for every raw value without a name, at the top of the axis. */
export const UNNAMED = 'without a name';

function rawInput(raw: number | bigint): SourceInput {
  return { kind: 'raw', raw: typeof raw === 'number' && Number.isInteger(raw) ? BigInt(raw) : raw };
}

/** A level in thousandths or as a bit, as the source end of a route takes it. */
function levelInput({ meaning }: Wire, domain: ValueDomain): (level: number | bigint) => SourceInput | null {
  if (domain.kind === 'number')
    return (level) => ({ kind: 'level', quantity: { num: BigInt(level), den: THOUSAND } satisfies Rational });
  if (domain.kind !== 'state') return () => null;
  if (meaning && 'codes' in meaning) {
    const codes = meaning.codes.map(({ ohm, state }) => ({
      low: Math.round(Number(ohm[0]) * 1000),
      high: Math.round(Number(ohm[1]) * 1000),
      state,
    }));
    return (level) => {
      const code = codes.find(({ low, high }) => low <= Number(level) && Number(level) <= high);
      return code === undefined ? null : { kind: 'state', label: code.state };
    };
  }
  const [active, inactive] = domain.states;
  return (level) => ({ kind: 'state', label: Number(level) === 1 ? active!.label : inactive!.label });
}

function labelsOf(domain: ValueDomain, { kind }: Endpoint): readonly string[] | null {
  if (domain.kind !== 'state') return null;
  const labels = [...new Set(domain.states.map(({ label }) => label))];
  // A switched wire names its active level first; active is drawn above inactive.
  if (kind === 'wire') labels.reverse();
  return domain.unnamed > 0 || labels.length === 0 ? [...labels, UNNAMED] : labels;
}

/** Raw → physical of a plain number in doubles, which is what a drawing needs; null where it takes more than one line. */
function quickY(domain: ValueDomain): ((recorded: number | bigint) => number) | null {
  if (domain.kind !== 'number' || domain.coding === null) return null;
  const { coding, specials } = domain;
  switch (coding.kind) {
    case 'integer': {
      const line = lineOf(coding.scaling);
      const none = new Set(specials.map(({ raw }) => Number(raw)));
      return (raw) => (none.size > 0 && none.has(Number(raw)) ? Number.NaN : line(Number(raw)));
    }
    case 'float': {
      const line = lineOf(coding.scaling);
      return (raw) => (Number.isFinite(Number(raw)) ? line(Number(raw)) : Number.NaN);
    }
    case 'wire-scale': {
      const line = lineOf(coding.scaling);
      return (level) => line(Number(level) / 1000);
    }
    case 'wire-curve':
      return null;
  }
}

/** factor · x + offset with one rounding less than in plain doubles where the factor is a fraction. */
function lineOf({ factor, offset }: Affine): (x: number) => number {
  const times = Number(factor.num);
  const by = Number(factor.den);
  const plus = toNumber(offset);
  return (x) => (x * times) / by + plus;
}
