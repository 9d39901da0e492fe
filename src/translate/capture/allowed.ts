import type { PlannedRoute } from '../plan/types.ts';
import type { LossAction } from '../program/loss-plan.ts';
import { MARK_ERROR, MARK_NOT_AVAILABLE } from '../replay/marks.ts';
import type { History, Moment } from './history.ts';
import type { StepsInTime } from './steady.ts';

/** All that a field or a wire may hold in a stretch of time. */
export interface Allowed {
  readonly values: readonly (number | bigint)[];
  /** Ends of stretches in which every value counts. */
  readonly spans: readonly (readonly [number | bigint, number | bigint])[];
  /** The message may be silent, the wire open. */
  readonly nothing: boolean;
  /** What was before the recording, or more than is kept, decides. */
  readonly unknown: boolean;
  /** The source may have been lost. */
  readonly lost: boolean;
  /** It had a value at one moment and may have had none at another. */
  readonly interrupted: boolean;
  /** What its source read has changed; only told of a route that asks. */
  readonly changed: boolean;
}

export interface FieldRoutes {
  /** A route before its backups. */
  readonly routes: readonly PlannedRoute[];
  readonly histories: readonly History[];
  /** How long a written value may be late: period, latency, buses. */
  readonly ageUs: number;
  /** How long after its loss a route may notice that its hold has begun: until the message is made up next. */
  readonly roundUs: number;
  /** For a route whose steps work in time: the histories are those of the route without them. */
  readonly inTime: StepsInTime | null;
}

/** What a field may hold at `timeUs`, by all that its routes gave in the worst-case age before. */
export function allowedAt(field: FieldRoutes, timeUs: number, ageUs = field.ageUs): Allowed {
  const { inTime } = field;
  if (inTime === null) return given(field, timeUs, ageUs);
  return bounded(given(field, timeUs, ageUs + inTime.settleUs), inTime, field);
}

/** What steps in time can make of what went in; unknown while a loss, or a change that may not have come through, decides. */
function bounded(allowed: Allowed, { by }: StepsInTime, { routes }: FieldRoutes): Allowed {
  const { values, spans, nothing, lost } = allowed;
  const mixed = allowed.interrupted || (lost && routes[0]!.compiled.loss.onLoss.kind === 'hold');
  const moving = (by !== 'within' && values.length + spans.length > 1) || (by === 'still' && allowed.changed);
  if (allowed.unknown || mixed || moving || nothing) return { ...allowed, unknown: true };
  if (values.length < 2) return allowed;
  const sorted = [...values].sort((a, b) => (a < b ? -1 : a > b ? 1 : 0));
  return { ...allowed, spans: [...spans, [sorted[0]!, sorted.at(-1)!]] };
}

function given(field: FieldRoutes, timeUs: number, ageUs: number): Allowed {
  const { histories } = field;
  const fromUs = timeUs - ageUs;
  const lists = histories.map((history) => history.since(fromUs).filter((moment) => moment.fromUs <= timeUs));
  const gathered = createGatherer(field);
  if (lists.some((list) => list.length === 0)) return { ...gathered.result(), unknown: true };
  const instants = [...new Set(lists.flatMap((list) => list.map((moment) => Math.max(fromUs, moment.fromUs))))].sort(
    (a, b) => a - b,
  );
  const at = lists.map(() => 0);
  for (const instant of instants) {
    lists.forEach((list, index) => {
      while (at[index]! + 1 < list.length && list[at[index]! + 1]!.fromUs <= instant) at[index] = at[index]! + 1;
    });
    gathered.take(
      lists.map((list, index) => list[at[index]!]!),
      timeUs,
    );
  }
  return gathered.result();
}

function createGatherer({ routes, histories, ageUs, roundUs }: FieldRoutes): {
  take(moments: readonly Moment[], timeUs: number): void;
  result(): Allowed;
} {
  const values: (number | bigint)[] = [];
  const spans: (readonly [number | bigint, number | bigint])[] = [];
  let nothing = false;
  let unknown = false;
  let lost = false;
  let valued = false;
  let valueless = false;
  let reading: Moment['reading'] = null;
  let changed = false;
  const put = (raw: number | bigint): void => {
    if (!values.includes(raw)) values.push(raw);
  };
  const act = (action: LossAction, timeUs: number): void => {
    switch (action.kind) {
      case 'write':
        put(plain(action.raw));
        return;
      case 'stop':
        nothing = true;
        return;
      case 'hold': {
        const history = histories[0]!;
        // The hold of the first begins when it is lost, or not before its backups have no value either: either may be meant.
        const begunUs = history.maybeLossUs ?? Infinity;
        const surelyUs = Math.max(...histories.map((one, at) => (at === 0 ? one.lossUs : one.noneUs) ?? Infinity));
        const forUs = action.forMs === null ? Infinity : Math.round(action.forMs * 1000);
        const endsUs = surelyUs + forUs + roundUs + 2 * ageUs;
        if (timeUs <= endsUs) {
          if (history.held === null) unknown = true;
          else for (const value of history.held) put(value);
          // Nothing held yet: then at once.
          if (history.held?.length === 0) act(action.then, timeUs);
        }
        if (timeUs >= begunUs + forUs - ageUs) act(action.then, timeUs);
      }
    }
  };
  return {
    take(moments, timeUs) {
      valued ||= moments[0]!.values.length > 0;
      valueless ||= moments[0]!.marks.length > 0;
      changed ||= reading !== null && moments[0]!.reading !== reading;
      reading = moments[0]!.reading;
      const [first] = routes;
      const { loss } = first!.compiled;
      for (const { values: list, between, marks, unknown: unsure } of moments) {
        if (unsure) {
          unknown = true;
          return;
        }
        if (between && list.length > 1) spans.push([list[0]!, list.at(-1)!]);
        else for (const value of list) put(value);
        if (marks.length === 0) return;
      }
      for (const mark of moments[0]!.marks) {
        const special = mark === MARK_NOT_AVAILABLE ? loss.notAvailable : mark === MARK_ERROR ? loss.error : null;
        if (special !== null) put(plain(special));
        else {
          lost = true;
          act(loss.onLoss, timeUs);
        }
      }
    },
    result: () => ({ values, spans, nothing, unknown, lost, interrupted: valued && valueless, changed }),
  };
}

/** A number where it holds the integer. */
function plain(raw: number | bigint): number | bigint {
  return typeof raw === 'bigint' && Number.isSafeInteger(Number(raw)) ? Number(raw) : raw;
}

/** Whether a raw value is among those allowed, `steps` off at most. */
export function isAllowed({ values, spans }: Allowed, raw: number | bigint, steps: number, float: boolean): boolean {
  const near = (a: number | bigint, b: number | bigint): boolean => {
    if (float) {
      const [x, y] = [Number(a), Number(b)];
      return Math.abs(x - y) <= Math.max(Math.abs(x), Math.abs(y), 1e-30) * 2 ** -20 + steps || Object.is(x, y);
    }
    if (typeof a === 'number' && typeof b === 'number') return Math.abs(a - b) <= steps;
    const off = BigInt(a) - BigInt(b);
    return (off < 0n ? -off : off) <= BigInt(Math.ceil(steps));
  };
  return (
    values.some((value) => near(raw, value)) ||
    spans.some(([lo, hi]) => (raw >= lo && raw <= hi) || near(raw, lo) || near(raw, hi))
  );
}
