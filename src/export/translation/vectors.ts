import {
  routeCases,
  type CompileResult,
  type LiveValue,
  type RouteAnalysis,
  type RouteCase,
  type ValueDomain,
} from '../../translate/index.ts';
import { formatDecimal, type Rational } from '../../number/index.ts';
import { rawText } from './fields.ts';
import { lossText } from './route-words.ts';

/** One worked case of a route in words: what goes in at every source, what comes out. */
export interface RouteVector {
  readonly name: string;
  readonly inputs: readonly string[];
  readonly delivered: string;
  readonly written: string;
  readonly note: string;
}

/** The worked cases of a route, as `routeCases` computes them, in words. Steady: steps in time have settled. */
export function routeVectors(analysis: RouteAnalysis, compiled: CompileResult | null): readonly RouteVector[] {
  return routeCases(analysis).map((entry) => worded(analysis, compiled, entry));
}

function worded(analysis: RouteAnalysis, compiled: CompileResult | null, entry: RouteCase): RouteVector {
  const { source, stimulus, inputs, before, evaluation } = entry;
  const { sources, delivered, target } = evaluation;
  const lost = inputs.every((input) => input === null);
  const name = inputs.length === 1 ? stimulus.name : `source ${source + 1}: ${stimulus.name}`;
  if (stimulus.kind === 'text') {
    return {
      name,
      inputs: ['bytes 41 42 43 … (“ABC…”)'],
      delivered: 'the same bytes',
      written: 'the same bytes',
      note: '',
    };
  }
  return {
    name,
    inputs: sources.map(({ raw, level, value }, at) => {
      if (inputs[at] === null) return 'lost';
      const shown =
        raw !== null
          ? `raw ${typeof raw === 'bigint' ? rawText(raw) : raw}`
          : level !== null
            ? `${short(level)} ${codingUnit(analysis.sources[at])}`
            : '';
      return [shown, liveText(value)].filter((text) => text !== '').join(' = ');
    }),
    delivered: lost ? '–' : liveText(delivered),
    written:
      target.asOnLoss || lost
        ? `on loss: ${lossText(analysis, compiled)}`
        : [
            target.raw !== null
              ? `raw ${typeof target.raw === 'bigint' ? rawText(target.raw) : target.raw}`
              : target.level !== null
                ? `${short(target.level)} ${codingUnit(analysis.target)}`
                : '',
            liveText(target.value),
          ]
            .filter((text) => text !== '')
            .join(' = '),
    note: [
      target.clipped === 'none' ? '' : `kept at the ${target.clipped === 'low' ? 'low' : 'high'} end of the target`,
      before === null ? '' : stimulus.name.includes('rising') ? 'coming from below' : 'coming from above',
    ]
      .filter((text) => text !== '')
      .join('; '),
  };
}

const short = (value: Rational): string => formatDecimal(value, { maxSignificant: 9 });

function codingUnit(domain: ValueDomain | null | undefined): string {
  if (domain?.kind !== 'number') return '';
  return domain.coding?.kind === 'wire-scale' || domain.coding?.kind === 'wire-curve'
    ? domain.coding.of === 'Ohm'
      ? 'Ω'
      : domain.coding.of
    : '';
}

function liveText(value: LiveValue): string {
  switch (value.kind) {
    case 'number':
      return short(value.value);
    case 'state':
      return value.unnamed ? 'a state without a name' : `“${value.label}”`;
    case 'none':
      return value.means === 'error' ? 'error' : 'no value';
  }
}
