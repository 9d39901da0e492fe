import type { Step, StepKind } from '../../../model/index.ts';

/** How a field of a step is written. */
export type StepFieldKind =
  | 'unit'
  | 'number'
  | 'ms'
  | 'ms-or-zero'
  | 'state'
  | 'source'
  | 'outside'
  | 'numbers'
  | 'states'
  | 'swap'
  | 'state-map'
  | 'number-map'
  | 'points'
  | 'cases'
  | 'case';

export interface StepField {
  readonly key: string;
  readonly label: string;
  readonly kind: StepFieldKind;
  readonly optional: boolean;
}

/** What a new step is started from: the values that reach it and those the target takes. */
export interface StepSurroundings {
  readonly unit: string;
  readonly targetUnit: string;
  readonly states: readonly string[];
  readonly targetStates: readonly string[];
}

export interface StepForm {
  readonly title: string;
  readonly fields: readonly StepField[];
  /** A valid step to start from. */
  readonly first: (around: StepSurroundings) => Step;
}

const needed = (key: string, label: string, kind: StepFieldKind): StepField => ({ key, label, kind, optional: false });
const free = (key: string, label: string, kind: StepFieldKind): StepField => ({ key, label, kind, optional: true });
const OF = free('of', 'only source', 'source');

function unitOut({ targetUnit, unit }: StepSurroundings): string {
  return targetUnit === '' ? unit : targetUnit;
}

/** Two state names to begin with: those of the target, else of the source, else yes and no. */
function two(first: readonly string[], second: readonly string[]): [string, string] {
  const [a, b] = first.length > 1 ? first : second.length > 1 ? second : ['no', 'yes'];
  return [a!, b!];
}

function stateMap({ states, targetStates }: StepSurroundings): Record<string, string> {
  const from = states.length > 0 ? states : ['state'];
  const fallback = targetStates[0] ?? 'state';
  return Object.fromEntries(from.map((state) => [state, targetStates.includes(state) ? state : fallback]));
}

/** Every step kind: its title, its fields in the order they are written, a step to start from. */
export const STEP_FORMS: Readonly<Record<StepKind, StepForm>> = {
  convert: {
    title: 'convert the unit',
    fields: [OF, free('to', 'to unit', 'unit')],
    first: () => ({ do: 'convert' }),
  },
  linear: {
    title: 'factor and offset',
    fields: [
      OF,
      needed('factor', 'factor', 'number'),
      needed('offset', 'offset', 'number'),
      needed('unit', 'yields unit', 'unit'),
    ],
    first: (around) => ({ do: 'linear', factor: 1, offset: 0, unit: unitOut(around) }),
  },
  states: {
    title: 'state to state',
    fields: [OF, needed('map', 'states', 'state-map'), free('otherwise', 'otherwise', 'state')],
    first: (around) => ({ do: 'states', map: stateMap(around) }),
  },
  pick: {
    title: 'state to number',
    fields: [
      OF,
      needed('map', 'values', 'number-map'),
      free('otherwise', 'otherwise', 'number'),
      needed('unit', 'unit', 'unit'),
    ],
    first: (around) => ({
      do: 'pick',
      map: Object.fromEntries((around.states.length > 0 ? around.states : ['state']).map((state, at) => [state, at])),
      unit: around.targetUnit,
    }),
  },
  bands: {
    title: 'number to state by thresholds',
    fields: [
      OF,
      needed('at', 'thresholds', 'numbers'),
      needed('states', 'states, lowest first', 'states'),
      free('hysteresis', 'hysteresis', 'number'),
      free('dwellMs', 'dwell', 'ms-or-zero'),
      needed('unit', 'unit', 'unit'),
    ],
    first: (around) => ({ do: 'bands', at: [0], states: two(around.targetStates, []), unit: around.unit }),
  },
  curve: {
    title: 'curve through points',
    fields: [
      OF,
      needed('points', 'points', 'points'),
      needed('from', 'from unit', 'unit'),
      needed('unit', 'to unit', 'unit'),
      needed('outside', 'outside the points', 'outside'),
    ],
    first: (around) => ({
      do: 'curve',
      points: [
        [0, 0],
        [1, 1],
      ],
      from: around.unit,
      unit: unitOut(around),
      outside: 'clamp',
    }),
  },
  reciprocal: {
    title: 'k divided by the value',
    fields: [OF, needed('k', 'k', 'number'), needed('unit', 'yields unit', 'unit')],
    first: (around) => ({ do: 'reciprocal', k: 1, unit: unitOut(around) }),
  },
  limit: {
    title: 'hold within limits',
    fields: [OF, free('min', 'at least', 'number'), free('max', 'at most', 'number'), needed('unit', 'unit', 'unit')],
    first: (around) => ({ do: 'limit', min: 0, max: 100, unit: around.unit }),
  },
  'rate-limit': {
    title: 'limit the rate',
    fields: [
      OF,
      free('risePerS', 'rise at most, per second', 'number'),
      free('fallPerS', 'fall at most, per second', 'number'),
      needed('unit', 'unit', 'unit'),
    ],
    first: (around) => ({ do: 'rate-limit', risePerS: 10, fallPerS: 10, unit: around.unit }),
  },
  smooth: {
    title: 'smooth',
    fields: [OF, needed('timeConstantMs', 'time constant', 'ms')],
    first: () => ({ do: 'smooth', timeConstantMs: 100 }),
  },
  debounce: {
    title: 'debounce',
    fields: [OF, needed('forMs', 'steady for', 'ms')],
    first: () => ({ do: 'debounce', forMs: 50 }),
  },
  delay: {
    title: 'delay',
    fields: [OF, needed('byMs', 'by', 'ms')],
    first: () => ({ do: 'delay', byMs: 100 }),
  },
  pulses: {
    title: 'pulse rate and speed',
    fields: [
      OF,
      needed('pulsesPerUnit', 'pulses per unit', 'number'),
      needed('per', 'per', 'unit'),
      needed('unit', 'yields unit', 'unit'),
    ],
    first: (around) => ({ do: 'pulses', pulsesPerUnit: 1, per: 'km', unit: unitOut(around) }),
  },
  not: {
    title: 'swap two states',
    fields: [OF, needed('swap', 'states', 'swap')],
    first: (around) => ({ do: 'not', swap: two(around.states, around.targetStates) }),
  },
  'all-of': {
    title: 'all sources are …',
    fields: [
      needed('when', 'in any of', 'states'),
      needed('yields', 'yields', 'state'),
      needed('otherwise', 'otherwise', 'state'),
    ],
    first: (around) => combination('all-of', around),
  },
  'any-of': {
    title: 'any source is …',
    fields: [
      needed('when', 'in any of', 'states'),
      needed('yields', 'yields', 'state'),
      needed('otherwise', 'otherwise', 'state'),
    ],
    first: (around) => combination('any-of', around),
  },
  highest: { title: 'the highest source', fields: [], first: () => ({ do: 'highest' }) },
  lowest: { title: 'the lowest source', fields: [], first: () => ({ do: 'lowest' }) },
  sum: { title: 'sum of the sources', fields: [], first: () => ({ do: 'sum' }) },
  difference: { title: 'first less the others', fields: [], first: () => ({ do: 'difference' }) },
  'first-valid': { title: 'the first valid source', fields: [], first: () => ({ do: 'first-valid' }) },
  'choose-by': {
    title: 'one source chooses',
    fields: [
      needed('selector', 'chosen by source', 'source'),
      needed('cases', 'cases', 'cases'),
      free('otherwise', 'otherwise', 'case'),
    ],
    first: (around) => ({ do: 'choose-by', selector: 0, cases: { [around.states[0] ?? '0']: { source: 0 } } }),
  },
};

function combination(kind: 'all-of' | 'any-of', { states, targetStates }: StepSurroundings): Step {
  const [otherwise, yields] = two(targetStates, states);
  return { do: kind, when: [states.at(-1) ?? 'yes'], yields, otherwise };
}

/** All step kinds, those for one value first, those that combine sources after. */
export const STEP_KINDS = Object.keys(STEP_FORMS) as readonly StepKind[];
