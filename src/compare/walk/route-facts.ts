import { deliveredAge, type NamedValue } from '../../checks/index.ts';
import { findFunction, type Endpoint, type Route } from '../../model/index.ts';
import { formatDecimal, type Interval } from '../../number/index.ts';
import { unitSymbol } from '../../units/index.ts';
import { lossWords, type ValueDomain } from '../../translate/index.ts';
import type { Concerns } from './concern.ts';

function row(name: string, value: string | number, unit = ''): NamedValue {
  return { name, value, unit };
}

/** What a reviewer must know of every route: function, class, ends, carrier, builds. */
export function routeFacts(concerns: Concerns, route: Route): readonly NamedValue[] {
  const { context, pairing } = concerns;
  const entry = context.functionOf(route);
  const is = context.classOfRoute(route);
  const builds = pairing.options.describe(context.maskOf(route));
  return [
    row('function', entry === null ? 'none' : `${entry.title} (${entry.id})`),
    ...(is === null ? [] : [row('class', is.criticality), row('carrier asked for', is.carrierRule)]),
    ...route.from.map((ref) => row('from', ref)),
    row('to', route.to),
    row('carrier', route.carrier),
    ...(route.by === undefined ? [] : [row('through', route.by)]),
    ...(route.via === undefined ? [] : [row('via', route.via.join(', '))]),
    ...(route.backupOf === undefined ? [] : [row('backup of', `route:${route.backupOf}`)]),
    row('builds', builds.length === 0 ? 'all' : builds.join('; ')),
    ...(route.assumed === true ? [row('assumed', 'yes: verify on the vehicle')] : []),
    ...(route.measured === true ? [row('measured', 'yes')] : []),
    ...(entry === null ? [] : [row('safe state', entry.safeState)]),
    ...(route.note === undefined ? [] : [row('note', route.note)]),
  ];
}

/** What the value is: range in and out, in units, or states. */
export function valueFacts(concerns: Concerns, route: Route): readonly NamedValue[] {
  const { sources, target, delivered, clips, worstError } = concerns.context.analysis(route);
  return [
    ...sources.map((domain, at) => row(`range of ${route.from[at]!}`, domainText(domain), unitText(domain))),
    ...(delivered === null ? [] : [row('range delivered', domainText(delivered), unitText(delivered))]),
    row('range of the target', domainText(target), unitText(target)),
    ...(route.steps ?? []).map((step, at) => row(`step ${at + 1}`, stepText(step))),
    ...clips.map(({ from, to, unit }) => row('cut', `${decimal(from)} … ${decimal(to)}`, unitSymbol(unit))),
    ...(worstError === null || worstError.physical.num === 0n
      ? []
      : [row('worst rounding', decimal(worstError.physical), unitSymbol(worstError.unit))]),
  ];
}

/** How the value is guarded on both sides, how old it can be, and what happens on loss. Times in ms. */
export function guardFacts(concerns: Concerns, route: Route): readonly NamedValue[] {
  const { context, pairing } = concerns;
  const age = deliveredAge(context, route);
  const tolerance = context.classOfRoute(route)?.staleAfterMs ?? null;
  const target = pairing.find(route.to);
  const sources = context.sources(route);
  const transmits = target === null ? [] : context.transmitsFor(target);
  return [
    ...sources.map(({ ref, entry }) => row(`guard of ${ref}`, guardOfSource(entry, route))),
    ...(target === null
      ? []
      : target.kind === 'wire'
        ? [row(`guard of ${route.to}`, 'a conductor: none')]
        : [
            row('guard the reader expects', guardText(target.message.protection)),
            ...(route.carrier === 'interface'
              ? transmits.length === 0
                ? [row('guard that is sent', 'nothing sends the message')]
                : transmits.map(({ by, protection }) => row(`guard that ${by} sends`, guardText(protection)))
              : []),
          ]),
    row('worst age', age.lacks.length > 0 ? `${age.totalMs}, without ${age.lacks.join(' and ')}` : age.totalMs, 'ms'),
    row('age tolerated', tolerance ?? 'not in the catalogue', tolerance === null ? '' : 'ms'),
    ...(route.carrier === 'hard-wire'
      ? []
      : [
          row('counts as lost after', route.staleAfterMs ?? 'no limit', route.staleAfterMs === undefined ? '' : 'ms'),
          row('on loss', lossWords(route, context.analysis(route).target)),
          row('comes back after', route.recoverAfter ?? 1, 'good samples'),
          row('before the first value', route.atStart ?? 'not said'),
        ]),
  ];
}

type Protection = Extract<Endpoint, { kind: 'message' }>['message']['protection'];

function guardOfSource(entry: Endpoint | null, route: Route): string {
  if (entry === null) return 'names nothing';
  if (entry.kind === 'wire') return 'a conductor: none';
  const guard = guardText(entry.message.protection);
  if (entry.message.protection === undefined) return guard;
  if (route.carrier !== 'interface') return `${guard}; passed on as it is`;
  return `${guard}; ${route.verifySource === true ? 'verified' : 'NOT verified'}`;
}

function guardText(protection: Protection): string {
  if (protection === undefined) return 'none';
  const { counter, counterModulo, checksum, algorithm, dataId } = protection;
  return [
    ...(counter === undefined
      ? []
      : [`counter ${counter}${counterModulo === undefined ? '' : ` modulo ${counterModulo}`}`]),
    ...(checksum === undefined ? [] : [`checksum ${checksum}${algorithm === undefined ? '' : ` ${algorithm}`}`]),
    ...(dataId === undefined ? [] : [`data id ${dataId}`]),
  ].join(', ');
}

function domainText(domain: ValueDomain | null): string {
  if (domain === null) return 'unknown';
  switch (domain.kind) {
    case 'number':
      return domain.interval === null ? 'unknown' : intervalText(domain.interval);
    case 'state':
      return domain.states.map(({ label }) => label).join(' | ');
    default:
      return domain.kind;
  }
}

function intervalText({ lo, hi }: Interval): string {
  return `${decimal(lo)} … ${decimal(hi)}`;
}

function decimal(r: Interval['lo']): string {
  return formatDecimal(r, { maxSignificant: 9 });
}

function unitText(domain: ValueDomain | null): string {
  return domain?.kind === 'number' ? unitSymbol(domain.unitText) : '';
}

/** A step as its fields: `convert to km/h`, `limit max 85 [mi_i]/h`. */
function stepText({ do: what, ...fields }: NonNullable<Route['steps']>[number]): string {
  const said = Object.entries(fields).map(([name, value]) =>
    typeof value === 'object' ? `${name} ${plainJson(value)}` : `${name} ${String(value)}`,
  );
  return [what, ...said].join(' ');
}

function plainJson(value: unknown): string {
  if (Array.isArray(value)) return value.map(plainJson).join(', ');
  if (typeof value !== 'object' || value === null) return String(value);
  return Object.entries(value)
    .map(([key, inner]) => `${key} → ${plainJson(inner)}`)
    .join('; ');
}

/** The title of a route: its own, its function's, or what it writes. */
export function routeTitle(concerns: Concerns, route: Route): string {
  return route.title ?? findFunction(concerns.context.functionIdOf(route) ?? undefined)?.title ?? route.to;
}
