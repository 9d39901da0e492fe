import type { Route } from '../../model/index.ts';
import type { ModulePlan, PlannedRoute } from '../plan/types.ts';
import type { RouteEvaluation } from '../evaluate/evaluate.ts';
import { conductorVectors } from './conductor-vectors.ts';
import { copyVectors } from './copy-vectors.ts';
import { inputText } from './meaning.ts';
import { type RouteCase, routeCases } from './route-cases.ts';
import type { RouteVectors, Vector } from './schema.ts';
import type { Inputs } from './source-message.ts';
import type { VectorBench } from './vector-bench.ts';
import { vectorId } from './vector-id.ts';
import { type UnderTest, messageOf, underTest } from './under-test.ts';
import { givenBy } from './written.ts';
import { type VectorRun, createVectorRun, holdOf, inputsOf } from './vector-run.ts';

type Made = Pick<RouteVectors, 'vectors' | 'leftOut'>;

/** The vectors of one route in one build; what cannot be made is named with the reason. */
export function vectorsOfRoute(bench: VectorBench, route: Route): RouteVectors {
  const { vectors, leftOut } = madeFor(bench, route);
  return {
    route: route.id,
    from: [...route.from],
    to: route.to,
    by: route.carrier === 'interface' ? (carrierOf(bench, route)?.module.id ?? route.by ?? null) : null,
    build: Object.fromEntries(bench.combination),
    vectors,
    leftOut,
  };
}

function carrierOf({ plans }: VectorBench, route: Route): ModulePlan | null {
  return plans.find(({ module }) => module.id === route.by) ?? (plans.length === 1 ? plans[0]! : null);
}

function madeFor(bench: VectorBench, route: Route): Made {
  const none = (why: string): Made => ({ vectors: [], leftOut: [{ what: 'all', why }] });
  switch (route.carrier) {
    case 'bus':
      return none('its frames travel as they are: no value of them is worked out');
    case 'hard-wire':
      return conductorVectors(bench.pairing, route);
    case 'interface': {
      const plan = carrierOf(bench, route);
      if (plan === null) return none('no interface module of this build carries it');
      const refused = plan.refused.find(({ what, id }) => what === 'route' && id === route.id);
      if (refused !== undefined) return none(`it cannot be run: ${refused.why}`);
      const copied = copyVectors(bench, plan, route);
      if (copied !== null) return copied;
      const planned = plan.routes.find((entry) => entry.route.id === route.id);
      if (planned === undefined) return none('it cannot be run');
      const under = underTest(bench.pairing, plan, planned, bench.busUs);
      return typeof under === 'string' ? none(under) : valueVectors(bench, under);
    }
  }
}

function valueVectors(bench: VectorBench, under: UnderTest): Made {
  const { planned } = under;
  const cases = routeCases(planned.compiled.analysis);
  const maker = createMaker(bench, under);
  for (const one of cases) {
    if (one.stimulus.kind === 'lost') lossVectors(maker, under, one, cases);
    else
      maker.make(one.stimulus.name, one.stimulus.kind, one, inputsOf(under, one.inputs, one.rest), (run) =>
        steady(run, under, one, cases),
      );
  }
  if (cases.length === 0) maker.leaveOut('all', 'its sources cannot be set one by one');
  return maker.made;
}

/** Rest, then what must be shown first, then the stimulus. */
function steady(run: VectorRun, under: UnderTest, one: RouteCase, cases: readonly RouteCase[]): string | null {
  run.prelude(inputsOf(under, one.rest, one.rest), false);
  const fault = takePrimaryAway(run, under) ?? showChange(run, under, cases);
  if (fault !== null) return fault;
  if (one.before !== null) run.show(inputsOf(under, one.before, one.rest), false);
  run.show(inputsOf(under, one.inputs, one.rest), true);
  return null;
}

/** A message that goes out by change alone is seen only if something changes: shows two values that are written differently. */
function showChange(run: VectorRun, under: UnderTest, cases: readonly RouteCase[]): string | null {
  const { planned, field } = under;
  if (field?.transmit.cadence.kind !== 'on-change') return null;
  const plain = cases.filter(
    ({ before, stimulus, evaluation }) =>
      before === null && stimulus.kind !== 'lost' && givenBy(planned, evaluation).kind === 'value',
  );
  for (const one of plain) {
    const other = plain.find(({ evaluation }) => differ(planned, evaluation, one.evaluation));
    if (other === undefined) continue;
    run.show(inputsOf(under, one.inputs, one.rest), false);
    run.show(inputsOf(under, other.inputs, other.rest), false);
    return null;
  }
  return 'its message goes out by change alone, and nothing that its sources show changes it';
}

/** Whether two results are surely written differently. */
function differ(planned: PlannedRoute, a: RouteEvaluation, b: RouteEvaluation): boolean {
  const [p, q] = [givenBy(planned, a), givenBy(planned, b)];
  if (p.kind === 'none' || q.kind === 'none') return false;
  if (p.written.kind === 'raw' && q.written.kind === 'raw')
    return p.written.hi < q.written.lo || q.written.hi < p.written.lo;
  if (p.written.kind === 'float' && q.written.kind === 'float')
    return Math.abs(p.written.value - q.written.value) > p.written.tolerance + q.written.tolerance;
  return false;
}

/** A backup is seen only while the routes before it have no value. */
function takePrimaryAway(run: VectorRun, { pairing, own, planned }: UnderTest): string | null {
  const before = own.slice(0, own.indexOf(planned));
  if (before.length === 0) return null;
  const needed = new Set(planned.route.from.map((ref) => messageOf(pairing, ref)));
  const messages = before
    .flatMap(({ route }) => route.from.map((ref) => messageOf(pairing, ref)))
    .filter((ref): ref is string => ref !== null && !needed.has(ref));
  run.silence(new Set(messages), false);
  return run.primaryGone() ? null : 'the route it backs up cannot be taken away alone';
}

function lossVectors(maker: Maker, under: UnderTest, one: RouteCase, cases: readonly RouteCase[]): void {
  const { pairing, planned, own, recoverAfter } = under;
  const ref = planned.route.from[one.source]!;
  const name = one.stimulus.name;
  const message = messageOf(pairing, ref);
  if (message === null) return maker.leaveOut(name, `${ref} is a wire: its level never goes stale`);
  if (planned.route.staleAfterMs === undefined)
    return maker.leaveOut(name, 'the route has no stale limit: the last value counts for ever');
  const rest = inputsOf(under, one.rest, one.rest);
  const lose = (run: VectorRun, expecting: boolean): string | null => {
    run.prelude(rest, true);
    const fault = takePrimaryAway(run, under) ?? showChange(run, under, cases);
    if (fault !== null) return fault;
    if (under.field?.transmit.cadence.kind === 'on-change') run.show(rest, false);
    run.silence(new Set([message]), expecting);
    return null;
  };
  maker.make(name, 'lost', one, rest, (run) => lose(run, true));
  const samples = recoverAfter.get(message) ?? 1;
  const needed = planned.route.recoverAfter ?? 1;
  // A forwarded message is worked out when something comes in: only then does a hold begin.
  const holdsLate = under.field?.transmit.cadence.kind === 'forwarded' && holdOf(planned.compiled.loss.onLoss) !== null;
  if (needed > 1 && own.length === 1 && !holdsLate) {
    maker.make(`source back for ${needed - 1} of ${needed} samples`, 'not-yet-recovered', one, rest, (run) => {
      const fault = lose(run, false);
      if (fault === null) run.tease(message, needed - 1);
      return fault;
    });
  }
  const back = backWith(one, cases);
  const shown = inputsOf(under, back?.inputs ?? one.rest, one.rest);
  maker.make('source recovered', 'recovered', back ?? one, shown, (run) => {
    const fault = lose(run, false);
    if (fault === null) run.restore(message, shown, samples);
    return fault;
  });
}

/** A value other than the one at rest, so that what recovers is told from what is held. */
function backWith({ source, rest }: RouteCase, cases: readonly RouteCase[]): RouteCase | null {
  const values = cases.filter(
    (other) => other.source === source && other.before === null && other.evaluation.target.value.kind !== 'none',
  );
  const atRest = values.find(({ inputs }) => inputs[source] === rest[source])?.evaluation.target;
  return (
    values.find(
      ({ evaluation: { target } }) => target.raw !== atRest?.raw || target.level?.num !== atRest?.level?.num,
    ) ??
    values[0] ??
    null
  );
}

interface Maker {
  readonly made: Made;
  make(name: string, kind: Vector['kind'], of: RouteCase, shown: Inputs, lay: (run: VectorRun) => string | null): void;
  leaveOut(what: string, why: string): void;
}

function createMaker({ busUs }: VectorBench, under: UnderTest): Maker {
  const { pairing, planned } = under;
  const made: Made = { vectors: [], leftOut: [] };
  const several = new Set(planned.route.from).size > 1;
  const titled = (name: string, { source }: RouteCase): string => (several ? `source ${source + 1}: ${name}` : name);
  const leaveOut = (what: string, why: string): void => {
    if (!made.leftOut.some((known) => known.what === what && known.why === why)) made.leftOut.push({ what, why });
  };
  return {
    made,
    leaveOut,
    make(name, kind, of, shown, lay) {
      const title = titled(name, of);
      const run = createVectorRun(under, busUs);
      const fault = lay(run) ?? run.fault ?? (run.expect.length === 0 ? 'nothing of it can be seen' : null);
      if (fault !== null) return leaveOut(title, fault);
      made.vectors.push({
        id: vectorId(made.vectors.length + 1, title),
        name: title,
        kind,
        given: [...new Set(planned.route.from)].map((ref) => ({
          source: ref,
          text: inputText(
            pairing.find(ref),
            kind === 'lost' && ref === planned.route.from[of.source] ? null : (shown.get(ref) ?? null),
          ),
        })),
        lengthUs: run.timeline.nowUs,
        send: [...run.timeline.streams].toSorted((a, b) => a.fromUs - b.fromUs),
        levels: [...run.timeline.levels],
        expect: [...run.expect],
      });
    },
  };
}
