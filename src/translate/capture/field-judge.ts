import { toNumber } from '../../number/index.ts';
import type { ValueDomain } from '../domain/value-domain.ts';
import { physicalOfRaw } from '../domain/signal-domain.ts';
import { physicalOfLevel } from '../evaluate/source-end.ts';
import { type Allowed, type FieldRoutes, allowedAt, isAllowed } from './allowed.ts';
import { type Collector, type RouteCount, notJudged } from './collector.ts';
import type { Shadow } from './shadow.ts';

/** One field of a sent message, or one driven wire, under judgement. */
export interface FieldJudge {
  readonly routes: FieldRoutes;
  /** Judges a value seen at a moment; false when it is named as a mismatch. */
  seen(raw: number | bigint, timeUs: number): boolean;
  /** What may stand there now; null: it cannot be said. */
  expected(timeUs: number): Allowed | null;
  readonly count: RouteCount;
}

export interface FieldSetting {
  readonly routes: FieldRoutes;
  /** Positions of the routes in their module. */
  readonly indexes: readonly number[];
  readonly shadow: Shadow;
  readonly subject: string;
  readonly domain: ValueDomain | null;
  readonly float: boolean;
  /** By how much a value may be off: raw steps, and of a level a part of it. */
  readonly steps: number;
  readonly part: number;
  /** How far back an older value is looked for, in µs. */
  readonly lateUs: number;
  readonly count: RouteCount;
  readonly collector: Collector;
}

export function createFieldJudge(setting: FieldSetting): FieldJudge {
  const { routes, indexes, shadow, subject, domain, float, steps, part, lateUs, count, collector } = setting;
  const route = routes.routes[0]!.route.id;
  const tolerance = (raw: number | bigint): number => steps + (part === 0 ? 0 : Math.abs(Number(raw)) * part);
  const text = (raw: number | bigint): string => valueText(raw, domain);
  return {
    routes,
    count,
    expected(timeUs) {
      const allowed = allowedAt(routes, timeUs);
      return allowed.unknown ? null : allowed;
    },
    seen(raw, timeUs) {
      const allowed = allowedAt(routes, timeUs);
      if (isAllowed(allowed, raw, tolerance(raw), float)) {
        count.judged += 1;
        return true;
      }
      if (allowed.unknown) {
        notJudged(count, unknownReason(setting));
        return true;
      }
      if (!allowed.lost && indexes.some((index) => shadow.paused(index, timeUs))) {
        notJudged(count, 'a frame of a source is overdue: the log may lack it');
        return true;
      }
      count.judged += 1;
      const older = allowedAt(routes, timeUs, lateUs);
      const late = !allowed.lost && isAllowed(older, raw, tolerance(raw), float);
      count[late ? 'late' : 'wrong'] += 1;
      collector.add({
        kind: late ? 'late' : 'wrong',
        timeUs,
        route,
        subject,
        expected: allowedText(allowed, text),
        found: late ? `${text(raw)}, which is older than ${ms(routes.ageUs)} ms` : text(raw),
        count: 1,
      });
      return false;
    },
  };
}

function unknownReason({ indexes, shadow, routes }: FieldSetting): string {
  if (indexes.some((index) => !shadow.known(index))) return 'not all its sources had been seen';
  if (routes.routes.some(({ everyTick }) => everyTick)) return 'a step in time had not settled';
  return 'what was before the recording decides';
}

function ms(us: number): number {
  return Math.round(us / 100) / 10;
}

const MOST_WORDS = 4;

/** What was allowed, in words. */
export function allowedText({ values, spans, nothing, lost }: Allowed, text: (raw: number | bigint) => string): string {
  const words = [
    ...values.slice(0, MOST_WORDS).map(text),
    ...(values.length > MOST_WORDS ? [`${values.length - MOST_WORDS} other values`] : []),
    ...spans.slice(0, 1).map(([lo, hi]) => `${text(lo)} to ${text(hi)}`),
    ...(nothing ? ['nothing'] : []),
  ];
  const list = words.length === 0 ? 'nothing' : words.join(' or ');
  return lost ? `${list} (its source is lost)` : list;
}

/** A raw value or a level in words: `800 {rev}/min (raw 6400)`. */
export function valueText(raw: number | bigint, domain: ValueDomain | null): string {
  if (domain?.kind === 'number') {
    const special = domain.specials.find((entry) => entry.raw === String(raw));
    if (special !== undefined) return `${special.means === 'error' ? 'error' : 'not available'} (raw ${raw})`;
    const { coding, unitText } = domain;
    switch (coding?.kind) {
      case 'integer':
        return `${short(toNumber(physicalOfRaw(BigInt(raw), coding.scaling)))} ${unitText} (raw ${raw})`.replace(
          '  ',
          ' ',
        );
      case 'float':
        return `${short(Number(raw) * toNumber(coding.scaling.factor) + toNumber(coding.scaling.offset))} ${unitText}`.trim();
      case 'wire-scale':
      case 'wire-curve': {
        const level = { num: BigInt(Math.round(Number(raw))), den: 1000n };
        return `${short(toNumber(physicalOfLevel(level, coding)))} ${unitText} (${Number(raw) / 1000} ${coding.of})`.replace(
          '  ',
          ' ',
        );
      }
      case undefined:
        return `raw ${raw}`;
    }
  }
  if (domain?.kind === 'state') {
    const known = [
      ...domain.states,
      ...domain.specials.map(({ raw: special, means }) => ({ raw: special, label: means })),
    ];
    const state = known.find((entry) => entry.raw === String(raw));
    if (state !== undefined) return `“${state.label}” (raw ${raw})`;
    if (domain.field === null)
      return Number(raw) === 1 ? 'active' : Number(raw) === 0 ? 'inactive' : `${Number(raw) / 1000}`;
  }
  return `raw ${raw}`;
}

function short(x: number): string {
  return String(Number(x.toPrecision(9)));
}
