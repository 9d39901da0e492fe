import { type Affine, parseExact } from '../../number/index.ts';
import type { Endpoint, Signal, Wire } from '../../model/index.ts';
import type { RouteAnalysis } from '../analysis/route-analysis.ts';
import { isRawOf } from '../domain/signal-domain.ts';
import type { NumberDomain, StateDomain } from '../domain/value-domain.ts';
import { affineFraction } from '../function/fraction.ts';
import { EVERYWHERE_SAME, chain, everywhere, throughPoints } from '../function/pieces.ts';
import { type Form, type StateLabel, refuse } from './form.ts';
import type { RangeTable } from './ranges.ts';
import { ERROR, MEASURED, MEASURED_PER_UNIT, NOT_AVAILABLE, type SourceRead } from './types.ts';

/** A label that no step can name: stands for every raw value without a name and without a mention of its digits. */
const NAMELESS: StateLabel = { label: '\u0000', unnamed: true };

export interface SourceStart {
  readonly read: SourceRead;
  readonly form: Form;
}

/** How source `slot` of a route is read, and what its integers stand for. */
export function startOf(analysis: RouteAnalysis, slot: number): SourceStart {
  const ref = analysis.route.from[slot]!;
  const endpoint = analysis.pairing.find(ref);
  if (endpoint === null) return refuse(`"${ref}" does not exist`);
  switch (endpoint.kind) {
    case 'signal':
      return ofSignal(analysis, endpoint, slot);
    case 'wire':
      return ofWire(analysis, endpoint.wire, slot);
    case 'message':
      return refuse('a whole message is copied, not computed');
  }
}

function ofSignal(
  analysis: RouteAnalysis,
  { signal }: Extract<Endpoint, { kind: 'signal' }>,
  slot: number,
): SourceStart {
  const domain = analysis.sources[slot]!;
  if (domain.kind === 'number' && domain.coding?.kind === 'float') {
    const number = domain.coding.lengthBits === 32 ? 'float32' : 'float64';
    return {
      read: { kind: 'float', bits: signal.bits, number },
      form: { kind: 'float', slot, scaling: domain.coding.scaling, interval: domain.interval, pieces: EVERYWHERE_SAME },
    };
  }
  const read = readField(signal, domain.kind === 'number' || domain.kind === 'state' ? domain : null);
  switch (domain.kind) {
    case 'text':
      return { read: { ...read, number: 'unsigned' }, form: { kind: 'text', slot, lengthBits: domain.lengthBits } };
    case 'state':
      return { read, form: { kind: 'states', slot, table: stateTable(domain, namedDigits(analysis)) } };
    case 'number': {
      if (domain.coding?.kind !== 'integer') return refuse(`"${signal.id}" has no coding`);
      const { field, scaling } = domain.coding;
      return { read, form: { kind: 'number', slot, span: field, pieces: everywhere(affineFraction(scaling)) } };
    }
    case 'frame':
      return refuse('a whole message is copied, not computed');
  }
}

function readField(signal: Signal, domain: NumberDomain | StateDomain | null): Extract<SourceRead, { kind: 'field' }> {
  const specials = (domain?.specials ?? [])
    .map(({ raw, means }) => ({ raw: BigInt(raw), status: means === 'error' ? ERROR : NOT_AVAILABLE }) as const)
    .toSorted((a, b) => (a.raw < b.raw ? -1 : 1));
  return { kind: 'field', bits: signal.bits, number: signal.number === 'signed' ? 'signed' : 'unsigned', specials };
}

/** States of a field by raw value. Raw values whose digits a step names have an entry of their own. */
function stateTable(domain: StateDomain, digits: ReadonlySet<string>): RangeTable<StateLabel> {
  const labels = new Set(domain.states.map(({ label }) => label));
  const raws = new Map<string, StateLabel>();
  for (const { raw, label } of domain.states) if (raw !== null) raws.set(raw, { label, unnamed: false });
  for (const text of digits) {
    if (domain.field !== null && isRawOf(text, domain.field) && !raws.has(text) && !labels.has(text)) {
      raws.set(text, { label: text, unnamed: true });
    }
  }
  const ranges = [...raws]
    .map(([raw, out]) => ({ lo: BigInt(raw), hi: BigInt(raw), out }))
    .toSorted((a, b) => (a.lo < b.lo ? -1 : 1));
  return { ranges, gap: domain.unnamed > 0 ? NAMELESS : null };
}

/** Every text that some step of the route looks for as a state. */
function namedDigits({ stages }: RouteAnalysis): ReadonlySet<string> {
  const texts = new Set<string>();
  for (const { effects } of stages) {
    for (const effect of effects) {
      switch (effect?.kind) {
        case 'relabel':
        case 'pick':
          for (const label of effect.map.keys()) texts.add(label);
          break;
        case 'all-of':
        case 'any-of':
          for (const label of effect.when) texts.add(label);
          break;
        case 'choose-by':
          for (const { on } of effect.cases) if (on.kind === 'state') texts.add(on.label);
          break;
        default:
          break;
      }
    }
  }
  return texts;
}

function ofWire(analysis: RouteAnalysis, wire: Wire, slot: number): SourceStart {
  const domain = analysis.sources[slot]!;
  if (domain.kind === 'state') return stateWire(wire, domain, slot);
  if (domain.kind !== 'number' || domain.coding === null) return refuse(`wire "${wire.id}" carries no value`);
  const { coding } = domain;
  if (coding.kind !== 'wire-scale' && coding.kind !== 'wire-curve') return refuse(`wire "${wire.id}" has no scale`);
  const perUnit = everywhere(affineFraction(thousandth()));
  const pieces =
    coding.kind === 'wire-scale'
      ? chain(perUnit, everywhere(affineFraction(coding.scaling)))
      : chain(perUnit, throughPoints(coding.points, 'clamp'));
  return { read: { kind: 'measured-wire', of: coding.of }, form: { kind: 'number', slot, span: MEASURED, pieces } };
}

function thousandth(): Affine {
  return { factor: { num: 1n, den: MEASURED_PER_UNIT }, offset: { num: 0n, den: 1n } };
}

function stateWire({ meaning }: Wire, domain: StateDomain, slot: number): SourceStart {
  if (meaning && 'codes' in meaning) {
    const ranges = meaning.codes
      .map(({ ohm, state }) => ({
        lo: milliohms(ohm[0]),
        hi: milliohms(ohm[1]),
        out: { label: state, unnamed: false },
      }))
      .toSorted((a, b) => (a.lo < b.lo ? -1 : 1));
    for (let index = 1; index < ranges.length; index += 1) {
      if (ranges[index - 1]!.hi >= ranges[index]!.lo)
        return refuse(`the resistor codes "${ranges[index - 1]!.out.label}" and "${ranges[index]!.out.label}" overlap`);
    }
    return { read: { kind: 'measured-wire', of: 'Ohm' }, form: { kind: 'states', slot, table: { ranges, gap: null } } };
  }
  const [active, inactive] = domain.states;
  return {
    read: { kind: 'switched-wire' },
    form: {
      kind: 'states',
      slot,
      table: {
        ranges: [
          { lo: 0n, hi: 0n, out: { label: inactive!.label, unnamed: false } },
          { lo: 1n, hi: 1n, out: { label: active!.label, unnamed: false } },
        ],
        gap: null,
      },
    },
  };
}

/** Ohm → thousandths, the nearest. */
export function milliohms(ohm: number): bigint {
  const exact = parseExact(ohm) ?? { num: 0n, den: 1n };
  return (exact.num * MEASURED_PER_UNIT * 2n + exact.den) / (exact.den * 2n);
}
