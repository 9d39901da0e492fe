import { type Interval, ZERO, add, equals, hull, maxOf, minOf, parseExact, sub } from '../../number/index.ts';
import { QUANTITIES, UNITS, type Unit } from '../../units/index.ts';
import type { Step } from '../../model/index.ts';
import type { NumberDomain, SpecialRaw, StateDomain, ValueDomain } from '../domain/value-domain.ts';
import type { ArithmeticKind, CaseResult, Combination } from './effect.ts';
import { type UnitText, affineOfMeeting, faultOfMeeting, isIdentity, meet } from './meet.ts';
import { type Report, note, noteUnit } from './report.ts';
import { canBe, listed } from './step-state.ts';
import { type Carried, LOST, type Track, labelsOf, numberDomain, stateDomain } from './track.ts';

export type CombiningStep = Extract<
  Step,
  { do: 'all-of' | 'any-of' | 'highest' | 'lowest' | 'sum' | 'difference' | 'first-valid' | 'choose-by' }
>;

export interface Combined {
  readonly effect: Combination | null;
  readonly track: Track;
  readonly idle: boolean;
}

const OPEN: Combined = { effect: null, track: LOST, idle: false };

/** Makes one track of all tracks of a route. */
export function combine(
  step: CombiningStep,
  at: number,
  tracks: readonly Track[],
  target: ValueDomain | null,
  report: Report,
): Combined {
  switch (step.do) {
    case 'all-of':
    case 'any-of':
      return logic(step, at, tracks, report);
    case 'highest':
    case 'lowest':
    case 'sum':
    case 'difference':
      return arithmetic(step.do, at, tracks, report);
    case 'first-valid':
      return firstValid(at, tracks, report);
    case 'choose-by':
      return chooseBy(step, at, tracks, target, report);
  }
}

function logic(
  step: Extract<Step, { do: 'all-of' | 'any-of' }>,
  at: number,
  tracks: readonly Track[],
  report: Report,
): Combined {
  const known = new Set<string>();
  for (const { domain } of tracks) {
    if (domain === null) return OPEN;
    if (domain.kind !== 'state') return mismatch(step.do, 'state', domain, at, report);
    for (const label of step.when) if (canBe(domain, label)) known.add(label);
  }
  for (const state of step.when) {
    if (known.has(state)) continue;
    note(report, {
      kind: 'state-unknown',
      at,
      state,
      message: `${step.do} waits for the state "${state}", which no source has (first source: ${listed(tracks[0]!.domain as StateDomain)}); correct the name`,
    });
  }
  const effect: Combination = {
    kind: step.do,
    when: new Set(step.when),
    yields: step.yields,
    otherwise: step.otherwise,
  };
  const single = tracks.length === 1 ? tracks[0]! : null;
  // One source: each of its states has an image of its own. Several: the two outcomes have no single origin.
  const carried: readonly Carried[] =
    single?.carried?.map((entry): Carried =>
      entry.now.kind === 'state'
        ? { ...entry, now: { kind: 'state', label: effect.when.has(entry.now.label) ? step.yields : step.otherwise } }
        : entry,
    ) ?? [step.yields, step.otherwise].map((label) => ({ source: 0, origin: null, now: { kind: 'state', label } }));
  const track: Track = {
    domain: stateDomain([step.yields, step.otherwise], specialsOf(tracks)),
    source: single === null ? null : single.source,
    reach: null,
    carried,
  };
  return { effect, track, idle: false };
}

function specialsOf(tracks: readonly Track[]): readonly SpecialRaw[] {
  const only = tracks.length === 1 ? tracks[0]!.domain : null;
  return only !== null && 'specials' in only ? only.specials : [];
}

function arithmetic(kind: ArithmeticKind, at: number, tracks: readonly Track[], report: Report): Combined {
  const numbers: NumberDomain[] = [];
  for (const { domain } of tracks) {
    if (domain === null) return OPEN;
    if (domain.kind !== 'number') return mismatch(kind, 'number', domain, at, report);
    numbers.push(domain);
  }
  const first = numbers[0]!;
  if (!oneUnit(numbers, at, report)) return OPEN;
  if (tracks.length === 1) return { effect: { kind }, track: tracks[0]!, idle: true };
  let { unitText, unit } = first;
  if (unit !== null && unit.point && kind === 'sum') {
    noteUnit(report, {
      kind: 'point-against-difference',
      at,
      from: unitText,
      to: unitText,
      message: `a sum of two values in ${unitText} means nothing: they are points on a scale, not amounts; subtract a reference first`,
    });
  }
  if (unit !== null && unit.point && kind === 'difference') {
    const difference = differenceUnit(unit);
    if (difference !== null) [unitText, unit] = [difference.code, difference];
  }
  const interval = numbers.map((domain) => domain.interval).reduce((a, b) => merged(kind, a, b));
  const { resolution } = first;
  const same =
    resolution !== null && numbers.every((other) => other.resolution !== null && equals(other.resolution, resolution));
  return {
    effect: { kind },
    track: {
      domain: numberDomain(unitText, unit, interval, same ? resolution : null, []),
      source: null,
      reach: null,
      carried: null,
    },
    idle: false,
  };
}

function merged(kind: ArithmeticKind, a: Interval | null, b: Interval | null): Interval | null {
  if (a === null || b === null) return null;
  switch (kind) {
    case 'highest':
      return { lo: maxOf(a.lo, b.lo), hi: maxOf(a.hi, b.hi) };
    case 'lowest':
      return { lo: minOf(a.lo, b.lo), hi: minOf(a.hi, b.hi) };
    case 'sum':
      return { lo: add(a.lo, b.lo), hi: add(a.hi, b.hi) };
    case 'difference':
      return { lo: sub(a.lo, b.hi), hi: sub(a.hi, b.lo) };
  }
}

const DIFFERENCE_OF: Readonly<Record<string, string>> = {
  temperature: 'temperature-difference',
  'gauge-pressure': 'pressure',
};

/** The unit of a difference of two points, of the same size: K{difference} for Cel, kPa for kPa{gauge}. */
function differenceUnit(unit: Unit): Unit | null {
  const quantity = DIFFERENCE_OF[unit.quantity];
  if (quantity === undefined || !(quantity in QUANTITIES)) return null;
  return UNITS.find((other) => other.quantity === quantity && equals(other.toSi.factor, unit.toSi.factor)) ?? null;
}

/** Whether all are in one unit; what is not is noted. */
function oneUnit(numbers: readonly NumberDomain[], at: number, report: Report): boolean {
  const first: UnitText = { text: numbers[0]!.unitText, unit: numbers[0]!.unit };
  let one = true;
  for (const { unitText, unit } of numbers.slice(1)) {
    const other: UnitText = { text: unitText, unit };
    const meeting = meet(other, first);
    const scaling = affineOfMeeting(meeting);
    noteUnit(report, faultOfMeeting(meeting, other, first, at, 'step'));
    one &&= (scaling !== null && isIdentity(scaling)) || (meeting.kind === 'unknown' && meeting.equal);
  }
  return one;
}

function firstValid(at: number, tracks: readonly Track[], report: Report): Combined {
  const [first] = tracks;
  if (first === undefined || tracks.some(({ domain }) => domain === null)) return OPEN;
  if (tracks.length === 1) return { effect: { kind: 'first-valid' }, track: first, idle: true };
  const track = together(tracks, 'first-valid', at, report);
  return track === null ? OPEN : { effect: { kind: 'first-valid' }, track, idle: false };
}

/** The union of several tracks of one kind. Null, with the fault noted, when they are not of one kind and unit. */
function together(tracks: readonly Track[], name: string, at: number, report: Report): Track | null {
  const kind = tracks[0]!.domain!.kind;
  const other = tracks.find(({ domain }) => domain!.kind !== kind);
  if (other !== undefined) {
    mismatch(name, kind, other.domain!, at, report);
    return null;
  }
  if (kind === 'number') {
    const numbers = tracks.map(({ domain }) => domain as NumberDomain);
    if (!oneUnit(numbers, at, report)) return null;
    const [first] = numbers;
    const interval = numbers
      .map((domain) => domain.interval)
      .reduce((a, b) => (a === null || b === null ? null : hull(a, b)));
    const same = numbers.every(
      ({ resolution }) => resolution !== null && first!.resolution !== null && equals(resolution, first!.resolution),
    );
    return {
      domain: numberDomain(first!.unitText, first!.unit, interval, same ? first!.resolution : null, []),
      source: null,
      reach: null,
      carried: null,
    };
  }
  if (kind === 'state') {
    return {
      domain: stateDomain(
        tracks.flatMap(({ domain }) => labelsOf(domain as StateDomain)),
        [],
      ),
      source: null,
      reach: null,
      carried: tracks.every(({ carried }) => carried !== null) ? tracks.flatMap(({ carried }) => carried ?? []) : null,
    };
  }
  return { domain: tracks[0]!.domain, source: null, reach: null, carried: null };
}

function chooseBy(
  step: Extract<Step, { do: 'choose-by' }>,
  at: number,
  tracks: readonly Track[],
  target: ValueDomain | null,
  report: Report,
): Combined {
  const selector = tracks[step.selector];
  if (selector === undefined) {
    note(report, { kind: 'source-index', at, index: step.selector, message: noSource(step.selector, tracks.length) });
    return OPEN;
  }
  const selects = selector.domain;
  if (selects === null) return OPEN;
  if (selects.kind !== 'state' && selects.kind !== 'number') return mismatch('choose-by', 'state', selects, at, report);
  const results: CaseResult[] = [];
  const resultOf = (given: { source: number } | { state: string } | { value: string | number }): CaseResult => {
    if ('source' in given) return { kind: 'source', source: given.source };
    if ('state' in given) return { kind: 'state', label: given.state };
    return { kind: 'number', value: parseExact(given.value) ?? ZERO };
  };
  const cases: Extract<Combination, { kind: 'choose-by' }>['cases'] = Object.entries(step.cases).map(([key, given]) => {
    const gives = resultOf(given);
    results.push(gives);
    const value = selects.kind === 'number' ? parseExact(key) : null;
    if (selects.kind === 'state' ? !canBe(selects, key) : value === null) {
      note(report, {
        kind: 'state-unknown',
        at,
        state: key,
        message: `choose-by has a case "${key}", which its selector never is${selects.kind === 'state' ? ` (${listed(selects)})` : ''}; correct the case`,
      });
    }
    return { on: value === null ? { kind: 'state', label: key } : { kind: 'number', value }, gives };
  });
  const otherwise = step.otherwise === undefined ? null : resultOf(step.otherwise);
  if (otherwise !== null) results.push(otherwise);
  const missing =
    otherwise !== null || selects.kind !== 'state'
      ? []
      : labelsOf(selects).filter((label) => !Object.hasOwn(step.cases, label));
  if (missing.length > 0) {
    note(report, {
      kind: 'case-missing',
      at,
      keys: missing,
      message: `choose-by has no case for ${missing.map((label) => `"${label}"`).join(', ')} and no otherwise; the route has no value then`,
    });
  }
  for (const result of results) {
    if (result.kind !== 'source' || tracks[result.source] !== undefined) continue;
    note(report, { kind: 'source-index', at, index: result.source, message: noSource(result.source, tracks.length) });
    return OPEN;
  }
  const effect: Combination = { kind: 'choose-by', selector: step.selector, cases, otherwise };
  const track = chosen(effect, results, selects, missing, at, tracks, target, report);
  return track === null ? OPEN : { effect, track, idle: false };
}

function chosen(
  effect: Extract<Combination, { kind: 'choose-by' }>,
  results: readonly CaseResult[],
  selects: ValueDomain,
  missing: readonly string[],
  at: number,
  tracks: readonly Track[],
  target: ValueDomain | null,
  report: Report,
): Track | null {
  const used = [...new Set(results.flatMap((result) => (result.kind === 'source' ? [result.source] : [])))].map(
    (index) => tracks[index]!,
  );
  if (used.some(({ domain }) => domain === null)) return null;
  const base = used.length === 0 ? null : together(used, 'choose-by', at, report);
  if (used.length > 0 && base === null) return null;
  const kinds = new Set<ValueDomain['kind']>(
    results.map((result) => (result.kind === 'source' ? base!.domain!.kind : result.kind)),
  );
  if (kinds.size !== 1) {
    note(report, {
      kind: 'case-kind',
      at,
      key: '',
      message: `the cases of choose-by give ${[...kinds].join(' and ')}: all must give one kind of value`,
    });
    return null;
  }
  const lost = missing.map((origin): Carried => ({ source: effect.selector, origin, now: { kind: 'lost', at } }));
  if (kinds.has('state')) {
    const given = stateCases(effect, selects);
    const labels = [
      ...(base?.domain?.kind === 'state' ? labelsOf(base.domain) : []),
      ...results.flatMap((result) => (result.kind === 'state' ? [result.label] : [])),
    ];
    return {
      domain: stateDomain(labels, []),
      source: null,
      reach: null,
      carried: [...(base?.carried ?? []), ...given, ...lost],
    };
  }
  if (!kinds.has('number')) return base;
  const constants = results.flatMap((result) => (result.kind === 'number' ? [result.value] : []));
  // Values of the cases are in the unit of the sources beside them; with no source among the results, in the target's.
  const from = base?.domain?.kind === 'number' ? base.domain : null;
  const unitOfValues = from ?? (target?.kind === 'number' ? target : null);
  let interval = from?.interval ?? null;
  if (from === null || interval !== null) {
    for (const value of constants)
      interval = interval === null ? { lo: value, hi: value } : hull(interval, { lo: value, hi: value });
  }
  const domain = numberDomain(unitOfValues?.unitText ?? '', unitOfValues?.unit ?? null, interval, null, []);
  return { domain, source: null, reach: null, carried: null };
}

/** The selector's states that lead to a fixed state. */
function stateCases(effect: Extract<Combination, { kind: 'choose-by' }>, selects: ValueDomain): readonly Carried[] {
  const entry = (origin: string | null, label: string): Carried => ({
    source: effect.selector,
    origin,
    now: { kind: 'state', label },
  });
  const given = effect.cases.flatMap(({ on, gives }) =>
    gives.kind === 'state' ? [entry(on.kind === 'state' ? on.label : null, gives.label)] : [],
  );
  const { otherwise } = effect;
  if (otherwise?.kind !== 'state') return given;
  if (selects.kind !== 'state') return [...given, entry(null, otherwise.label)];
  const cased = new Set(effect.cases.map(({ on }) => (on.kind === 'state' ? on.label : '')));
  const rest = labelsOf(selects).filter((label) => !cased.has(label));
  return [...given, ...rest.map((origin) => entry(origin, otherwise.label))];
}

function mismatch(name: string, needs: ValueDomain['kind'], domain: ValueDomain, at: number, report: Report): Combined {
  note(report, {
    kind: 'kind-mismatch',
    at,
    needs,
    has: domain.kind,
    message: `${name} needs a ${needs} from every source, but a ${domain.kind} comes in`,
  });
  return OPEN;
}

/** A message for a source index that does not exist. */
export function noSource(index: number, count: number): string {
  return `there is no source ${index}: the route has ${count}, numbered from 0`;
}
