import { type Rational, parseExact } from '../../number/index.ts';
import type { Combination, Effect } from '../analysis/effect.ts';
import type { RouteAnalysis, Stage } from '../analysis/route-analysis.ts';
import { specialFor } from '../analysis/specials.ts';
import { bandEdges } from '../analysis/step-state.ts';
import type { StateDomain, ValueDomain } from '../domain/value-domain.ts';
import { lossWords } from './sentence.ts';
import { quantityText, shortText, symbolOf, unitPhrase } from './words.ts';

/** A table of a translation spec: every row has one cell for each column. */
export interface RouteTable {
  readonly kind: 'states' | 'special' | 'curve' | 'bands' | 'cases' | 'values' | 'wire-curve';
  readonly title: string;
  readonly columns: readonly string[];
  readonly rows: readonly (readonly string[])[];
}

/** What a sentence calls "by table": every state, special raw value, breakpoint, threshold and case of a route, in order. */
export function routeTables(analysis: RouteAnalysis): readonly RouteTable[] {
  const tables: RouteTable[] = [];
  analysis.sources.forEach((domain, index) => {
    const name = symbolOf(analysis.pairing, analysis.route.from[index]!);
    const curve = wireCurve(name, domain);
    if (curve !== null) tables.push(curve);
  });
  for (const stage of analysis.stages) tables.push(...stageTables(analysis, stage));
  const states = stateTable(analysis);
  if (states !== null) tables.push(states);
  const special = specialTable(analysis);
  if (special !== null) tables.push(special);
  const target = wireCurve(symbolOf(analysis.pairing, analysis.route.to), analysis.target);
  if (target !== null) tables.push(target);
  return tables;
}

function wireCurve(name: string, domain: ValueDomain | null): RouteTable | null {
  if (domain?.kind !== 'number' || domain.coding?.kind !== 'wire-curve') return null;
  const { of, points } = domain.coding;
  return {
    kind: 'wire-curve',
    title: `${name}: ${unitPhrase(domain.unitText)} by ${of}`,
    columns: [of, unitPhrase(domain.unitText)],
    rows: points.map(([x, y]) => [shortText(x), shortText(y)]),
  };
}

function stageTables({ pairing, route }: RouteAnalysis, stage: Stage): RouteTable[] {
  const titled = (effect: Effect, index: number): RouteTable | null => {
    const of = stage.effects.length > 1 ? `, ${symbolOf(pairing, route.from[index]!)}` : '';
    return stageTable(
      stage,
      effect,
      index,
      `Step ${stage.index + 1}, ${stage.step.do}${of}`,
      route.from.map((ref) => symbolOf(pairing, ref)),
    );
  };
  return stage.effects.flatMap((effect, index) => {
    const table = effect === null ? null : titled(effect, index);
    return table === null ? [] : [table];
  });
}

function stageTable(
  stage: Stage,
  effect: Effect,
  index: number,
  title: string,
  names: readonly string[],
): RouteTable | null {
  const input = stage.input[index];
  const output = stage.output[index];
  const unitIn = input?.kind === 'number' ? input.unitText : '';
  const unitOut = output?.kind === 'number' ? output.unitText : '';
  switch (effect.kind) {
    case 'function': {
      if (stage.step.do !== 'curve') return null;
      const points = effect.pieces.filter(({ lo, hi }) => lo !== null && hi !== null);
      const xs = points.length === 0 ? [] : [points[0]!.lo!, ...points.map(({ hi }) => hi!)];
      return {
        kind: 'curve',
        title,
        columns: [`in (${unitPhrase(unitIn)})`, `out (${unitPhrase(unitOut)})`],
        rows: xs.map((x, at) => [shortText(x), shortText(pointOf(stage, at) ?? x)]),
      };
    }
    case 'relabel':
      return {
        kind: 'states',
        title,
        columns: ['state in', 'state out'],
        rows: [
          ...[...effect.map].map(([from, to]) => [from, to]),
          ...(effect.otherwise === null ? [] : [['every other', effect.otherwise]]),
        ],
      };
    case 'pick':
      return {
        kind: 'values',
        title,
        columns: ['state in', `value out (${unitPhrase(unitOut)})`],
        rows: [
          ...[...effect.map].map(([from, to]) => [from, shortText(to)]),
          ...(effect.otherwise === null ? [] : [['every other', shortText(effect.otherwise)]]),
        ],
      };
    case 'bands':
      return {
        kind: 'bands',
        title,
        columns: ['state', `from, rising (${unitPhrase(unitIn)})`, `left when below, falling (${unitPhrase(unitIn)})`],
        rows: effect.states.map((state, band) => {
          if (band === 0) return [state, '—', '—'];
          const { enterAt, leaveBelow } = bandEdges(effect, band);
          return [state, shortText(enterAt), shortText(leaveBelow)];
        }),
      };
    case 'choose-by':
      return casesTable(effect, title, unitOut, names);
    case 'rate-limit':
    case 'smooth':
    case 'debounce':
    case 'delay':
    case 'all-of':
    case 'any-of':
    case 'highest':
    case 'lowest':
    case 'sum':
    case 'difference':
    case 'first-valid':
      return null;
  }
}

/** The written y of point `at`: exact, whatever the pieces make of it. */
function pointOf(stage: Stage, at: number): Rational | null {
  if (stage.step.do !== 'curve') return null;
  const y = stage.step.points[at]?.[1];
  return y === undefined ? null : parseExact(y);
}

function casesTable(
  effect: Extract<Combination, { kind: 'choose-by' }>,
  title: string,
  unit: string,
  names: readonly string[],
): RouteTable {
  const gives = (result: (typeof effect.cases)[number]['gives']): string => {
    switch (result.kind) {
      case 'source':
        return names[result.source] ?? `source ${result.source}`;
      case 'state':
        return result.label;
      case 'number':
        return quantityText(result.value, unit);
    }
  };
  return {
    kind: 'cases',
    title,
    columns: [names[effect.selector] ?? 'selector', 'gives'],
    rows: [
      ...effect.cases.map(({ on, gives: result }) => [
        on.kind === 'state' ? on.label : shortText(on.value),
        gives(result),
      ]),
      ['every other', effect.otherwise === null ? 'no value' : gives(effect.otherwise)],
    ],
  };
}

/** Every state of a single source, raw to raw, through all steps at once. Null unless it is states from end to end. */
function stateTable(analysis: RouteAnalysis): RouteTable | null {
  const [source] = analysis.sources;
  const { target } = analysis;
  if (analysis.sources.length !== 1 || source?.kind !== 'state' || target?.kind !== 'state') return null;
  const rows = source.states.map(({ label, raw }) => {
    const now = through(analysis.stages, label);
    const to = now === null ? null : (target.states.find((state) => state.label === now) ?? null);
    return [raw ?? '—', label, to?.label ?? 'no value', to?.raw ?? '—'];
  });
  const rest = source.unnamed > 0 ? restRow(analysis.stages, source, target) : [];
  return {
    kind: 'states',
    title: 'States from end to end',
    columns: ['raw in', 'state in', 'state out', 'raw out'],
    rows: [...rows, ...rest],
  };
}

function restRow(stages: readonly Stage[], source: StateDomain, target: StateDomain): string[][] {
  const now = through(stages, null);
  const to = now === null ? null : (target.states.find(({ label }) => label === now) ?? null);
  return [[`${source.unnamed} others`, 'no name', to?.label ?? 'no value', to?.raw ?? '—']];
}

/** The label after all steps; `null` stands for a raw value without a name, and for no value. */
function through(stages: readonly Stage[], label: string | null): string | null {
  let now = label;
  let alive = true;
  for (const { effects } of stages) {
    const effect = effects[0];
    if (!effect || !alive) return null;
    switch (effect.kind) {
      case 'relabel':
        now = (now === null ? null : effect.map.get(now)) ?? effect.otherwise;
        alive = now !== null;
        break;
      case 'all-of':
      case 'any-of':
        now = now !== null && effect.when.has(now) ? effect.yields : effect.otherwise;
        break;
      case 'debounce':
      case 'delay':
      case 'first-valid':
        break;
      default:
        return null;
    }
  }
  return now;
}

function specialTable(analysis: RouteAnalysis): RouteTable | null {
  const { notAvailable, route, pairing, target } = analysis;
  if (notAvailable.length === 0) return null;
  const several = route.from.length > 1;
  return {
    kind: 'special',
    title: 'Raw values that are no values',
    columns: [...(several ? ['source'] : []), 'raw in', 'means', 'the reader gets'],
    rows: notAvailable.map(({ source, raw, means, label, becomes }) => [
      ...(several ? [symbolOf(pairing, route.from[source]!)] : []),
      raw,
      `${means === 'error' ? 'error' : 'not available'}${label === null ? '' : ` (${label})`}`,
      becomes.kind === 'special'
        ? `raw ${becomes.raw}, ${specialFor(target, becomes.means)?.means === 'error' ? 'error' : 'not available'}`
        : becomes.kind === 'other-source'
          ? 'another source decides'
          : becomes.kind === 'loss-behaviour'
            ? lossWords(route, target)
            : 'the last value stays',
    ]),
  };
}
