import { parseExact, sign } from '../../number/index.ts';
import type { Step } from '../../model/index.ts';
import type { Stage } from '../analysis/route-analysis.ts';
import type { ValueDomain } from '../domain/value-domain.ts';
import { exactText, givenText, listText, quoted, timeText, unitPhrase } from './words.ts';

/** One step as a phrase that continues "… is X, …": "converted from mph to km/h". `names` are the sources in order. */
export function stepPhrase(stage: Stage, names: readonly string[]): string {
  const { step } = stage;
  const phrase = bare(step, stage, names);
  const of = 'of' in step ? step.of : undefined;
  if (of === undefined || names.length < 2) return phrase;
  return `with ${names[of] ?? `source ${of}`} ${phrase.replace(/^with /, 'having ')}`;
}

function bare(step: Step, stage: Stage, names: readonly string[]): string {
  switch (step.do) {
    case 'convert':
      return `converted from ${unitPhrase(unitIn(stage))} to ${unitPhrase(step.to ?? unitOut(stage))}`;
    case 'linear':
      return `multiplied by ${given(step.factor)}${plusOffset(step.offset)}, which gives ${unitPhrase(step.unit)}`;
    case 'states':
      return `with each state translated by table${step.otherwise === undefined ? '' : `, every other one to ${quoted(step.otherwise)}`}`;
    case 'pick':
      return `with each state given its value in ${unitPhrase(step.unit)} by table${step.otherwise === undefined ? '' : `, every other one ${givenText(step.otherwise, step.unit)}`}`;
    case 'bands':
      return bandsPhrase(step);
    case 'curve':
      return `read off a curve of ${step.points.length} points from ${unitPhrase(step.from)} to ${unitPhrase(step.unit)}, ${
        step.outside === 'clamp' ? 'which keeps its end values outside' : 'with no value outside'
      }`;
    case 'reciprocal':
      return `taken as ${given(step.k)} divided by it, which gives ${unitPhrase(step.unit)}`;
    case 'limit':
      return limitPhrase(step);
    case 'rate-limit':
      return `allowed to ${listText([
        ...(step.risePerS === undefined ? [] : [`rise by at most ${givenText(step.risePerS, step.unit)} a second`]),
        ...(step.fallPerS === undefined ? [] : [`fall by at most ${givenText(step.fallPerS, step.unit)} a second`]),
      ])}`;
    case 'smooth':
      return `smoothed with a time constant of ${timeText(step.timeConstantMs)}`;
    case 'debounce':
      return `taken over once it has stayed the same for ${timeText(step.forMs)}`;
    case 'delay':
      return `delayed by ${timeText(step.byMs)}`;
    case 'pulses':
      return `turned from ${unitPhrase(unitIn(stage))} into ${unitPhrase(step.unit)} at ${given(step.pulsesPerUnit)} pulses per ${unitPhrase(step.per)}`;
    case 'not':
      return `with ${quoted(step.swap[0])} and ${quoted(step.swap[1])} swapped`;
    case 'all-of':
    case 'any-of': {
      const when = listText(step.when.map(quoted)).replace(/ and /g, ' or ');
      const which =
        step.do === 'all-of'
          ? names.length > 1
            ? 'every one of them is'
            : 'it is'
          : names.length > 1
            ? 'any of them is'
            : 'it is';
      return `made ${quoted(step.yields)} when ${which} ${when}, else ${quoted(step.otherwise)}`;
    }
    case 'highest':
    case 'lowest':
      return `of which the ${step.do} counts`;
    case 'sum':
      return 'added up';
    case 'difference':
      return `with ${listText(names.slice(1))} subtracted from ${names[0] ?? 'the first'}`;
    case 'first-valid':
      return 'of which the first that is fresh and valid counts, in this order';
    case 'choose-by':
      return `of which ${names[step.selector] ?? 'the selector'} chooses by table`;
  }
}

function given(x: string | number): string {
  const exact = parseExact(x);
  return exact === null ? String(x) : exactText(exact);
}

function plusOffset(offset: string | number): string {
  const exact = parseExact(offset);
  if (exact === null || exact.num === 0n) return '';
  return sign(exact) > 0 ? ` plus ${exactText(exact)}` : ` minus ${exactText({ num: -exact.num, den: exact.den })}`;
}

function limitPhrase({ min, max, unit }: Extract<Step, { do: 'limit' }>): string {
  if (min !== undefined && max !== undefined) return `held between ${givenText(min, unit)} and ${givenText(max, unit)}`;
  if (max !== undefined) return `held at ${givenText(max, unit)} or below`;
  if (min !== undefined) return `held at ${givenText(min, unit)} or above`;
  return 'not limited';
}

function bandsPhrase({ at, states, unit, hysteresis, dwellMs }: Extract<Step, { do: 'bands' }>): string {
  const parts = states.map((state, index) => {
    if (index === 0) return `${quoted(state)} below ${givenText(at[0]!, unit)}`;
    const from = at[index - 1];
    return from === undefined ? quoted(state) : `${quoted(state)} from ${givenText(from, unit)}`;
  });
  const falling =
    hysteresis === undefined || parseExact(hysteresis)?.num === 0n
      ? ''
      : `, on the way down ${givenText(hysteresis, unit)} lower`;
  const dwell = dwellMs === undefined || dwellMs === 0 ? '' : `, each once it has lasted ${timeText(dwellMs)}`;
  return `sorted into ${listText(parts)}${falling}${dwell}`;
}

function unitOf(domain: ValueDomain | null | undefined): string {
  return domain?.kind === 'number' ? domain.unitText : '';
}
function unitIn({ step, input }: Stage): string {
  return unitOf(
    'of' in step && step.of !== undefined ? input[step.of] : input.find((domain) => domain?.kind === 'number'),
  );
}
function unitOut({ step, output }: Stage): string {
  return unitOf(
    'of' in step && step.of !== undefined ? output[step.of] : output.find((domain) => domain?.kind === 'number'),
  );
}
