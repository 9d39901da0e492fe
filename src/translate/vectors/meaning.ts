import { type Rational, formatDecimal, toNumber } from '../../number/index.ts';
import type { Endpoint } from '../../model/index.ts';
import type { ValueDomain } from '../domain/value-domain.ts';
import { domainOfEndpoint } from '../domain/endpoint-domain.ts';
import { physicalOfRaw } from '../domain/signal-domain.ts';
import type { LiveValue } from '../evaluate/live-value.ts';
import { type SourceInput, physicalOfLevel, readSource } from '../evaluate/source-end.ts';
import type { VectorExpectation } from './schema.ts';
import type { Written } from './written.ts';

const short = (value: Rational): string => formatDecimal(value, { maxSignificant: 9 });

/** What a source shows, in words: `800 {rev}/min (raw 6400)`. */
export function inputText(endpoint: Endpoint | null, input: SourceInput | null): string {
  if (input === null || endpoint === null) return 'nothing: it is withheld';
  const domain = domainOfEndpoint(endpoint);
  if (domain.kind === 'text') return 'the text ABC…';
  const { raw, level, value } = readSource(domain, input);
  const shown = liveText(value, domain);
  if (raw !== null) return `${shown} (raw ${raw})`;
  return level === null ? shown : `${shown} (${short(level)} ${quantityOf(domain)})`;
}

function liveText(value: LiveValue, domain: ValueDomain): string {
  switch (value.kind) {
    case 'number':
      return `${short(value.value)} ${domain.kind === 'number' ? domain.unitText : ''}`.trim();
    case 'state':
      return value.unnamed ? 'a state without a name' : `“${value.label}”`;
    case 'none':
      return value.means === 'error' ? 'error' : 'not available';
  }
}

function quantityOf(domain: ValueDomain): string {
  const coding = domain.kind === 'number' ? domain.coding : null;
  return coding?.kind === 'wire-scale' || coding?.kind === 'wire-curve' ? coding.of : '';
}

/** What stands in the target, in words and, for a number, as a value with its tolerance in the unit of the target. */
export function meaningOf(written: Written, target: ValueDomain | null): VectorExpectation['meaning'] {
  switch (written.kind) {
    case 'nothing':
      return { text: 'nothing: not sent, or open' };
    case 'switched': {
      const label = target?.kind === 'state' ? target.states[written.active ? 0 : 1]?.label : undefined;
      return { text: `“${label ?? (written.active ? 'active' : 'inactive')}”` };
    }
    case 'float':
      return numberMeaning(target, floatPhysical(written.value, target), floatSpan(written.tolerance, target));
    case 'raw':
      return rawMeaning(written, target);
    case 'measured': {
      if (target?.kind !== 'number') return stateMeaning(written.value);
      const at = (thousandths: number): number => {
        const { coding } = target;
        if (coding?.kind !== 'wire-scale' && coding?.kind !== 'wire-curve') return thousandths / 1000;
        return toNumber(physicalOfLevel({ num: BigInt(thousandths), den: 1000n }, coding));
      };
      const [a, b] = [at(written.lo), at(written.hi)];
      return numberMeaning(target, (a + b) / 2, Math.abs(a - b) / 2);
    }
  }
}

function rawMeaning(
  { lo, hi, value }: Extract<Written, { kind: 'raw' }>,
  target: ValueDomain | null,
): VectorExpectation['meaning'] {
  if (target?.kind === 'text') return { text: 'the same bytes' };
  const domain = target?.kind === 'number' || target?.kind === 'state' ? target : null;
  const special = domain?.specials.find(({ raw }) => raw === lo.toString());
  if (special !== undefined && lo === hi) return { text: special.means === 'error' ? 'error' : 'not available' };
  if (target?.kind === 'number' && target.coding?.kind === 'integer') {
    const { scaling } = target.coding;
    const [a, b] = [lo, hi].map((raw) => toNumber(physicalOfRaw(raw, scaling)));
    const half = Math.abs(toNumber(scaling.factor)) / 2;
    return numberMeaning(target, (a! + b!) / 2, Math.abs(a! - b!) / 2 + half);
  }
  if (value !== null) return stateMeaning(value);
  const state = target?.kind === 'state' ? target.states.find(({ raw }) => raw === lo.toString()) : undefined;
  return { text: state === undefined ? `raw ${lo}` : `“${state.label}”` };
}

function stateMeaning(value: LiveValue | null): VectorExpectation['meaning'] {
  return { text: value?.kind === 'state' ? `“${value.label}”` : 'a level' };
}

function floatPhysical(raw: number, target: ValueDomain | null): number {
  const coding = target?.kind === 'number' ? target.coding : null;
  return coding?.kind === 'float' ? raw * toNumber(coding.scaling.factor) + toNumber(coding.scaling.offset) : raw;
}

function floatSpan(span: number, target: ValueDomain | null): number {
  const coding = target?.kind === 'number' ? target.coding : null;
  return coding?.kind === 'float' ? span * Math.abs(toNumber(coding.scaling.factor)) : span;
}

function numberMeaning(target: ValueDomain | null, value: number, tolerance: number): VectorExpectation['meaning'] {
  const unit = target?.kind === 'number' ? target.unitText : '';
  return { text: `${tidy(value)} ${unit}`.trim(), value: tidy(value), tolerance: tidy(tolerance), unit };
}

/** Twelve digits: beyond them a double only shows its own rounding. */
function tidy(x: number): number {
  return Number(x.toPrecision(12));
}
