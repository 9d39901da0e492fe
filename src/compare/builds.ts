import {
  countFindings,
  createContext,
  newMemory,
  type CheckContext,
  type Finding,
  type FindingCounts,
} from '../checks/index.ts';
import { deriveCircuits, type Combination, type Condition, type Pairing } from '../model/index.ts';
import { endWords } from './circuit-changes.ts';

/** One build of a map: what it holds and what the checks find in it. */
export interface BuildRow {
  readonly combination: Combination;
  /** `year=2020, drivetrain=4wd`; `the only build` for a map without options. */
  readonly name: string;
  readonly mask: bigint;
  readonly routes: number;
  readonly needs: number;
  /** Needs that a route of this build meets or that are knowingly left out. */
  readonly needsMet: number;
  readonly conductors: number;
  readonly counts: FindingCounts;
}

/** A build in words. */
export function buildName(combination: Combination): string {
  return combination.size === 0
    ? 'the only build'
    : [...combination].map(([axis, choice]) => `${axis}=${choice}`).join(', ');
}

/** Every build with its counts, from the findings of one run over all of them: nothing is checked again. */
export function buildMatrix(pairing: Pairing, findings: readonly Finding[]): readonly BuildRow[] {
  const context = createContext(pairing, newMemory(pairing));
  const routes = pairing.map.routes.map((route) => context.maskOf(route));
  const needs = [...context.derivation.needs.values()].map(({ ref, mask, function: functionId }) => ({
    mask,
    met: context.maskWritten(ref) | context.maskLeftOut(ref, functionId),
  }));
  const circuits = deriveCircuits(pairing).map(({ mask }) => mask);
  return pairing.options.combinations.map((combination, at): BuildRow => {
    const mask = 1n << BigInt(at);
    const holds = (of: bigint): boolean => (of & mask) !== 0n;
    const needed = needs.filter((need) => holds(need.mask));
    return {
      combination,
      name: buildName(combination),
      mask,
      routes: routes.filter(holds).length,
      needs: needed.length,
      needsMet: needed.filter(({ met }) => holds(met)).length,
      conductors: circuits.filter(holds).length,
      counts: countFindings(findings.filter((finding) => holds(finding.mask))),
    };
  });
}

/** Something that is there in one of two builds only. */
export interface BuildDifference {
  /** route, need, transmit, conductor, finding, module, message, signal, wire, connector, feed, ground. */
  readonly what: string;
  readonly subject: string;
  readonly in: 'first' | 'second';
  /** What it is, in a line. */
  readonly words: string;
}

export interface BuildComparison {
  readonly first: BuildRow;
  readonly second: BuildRow;
  readonly differences: readonly BuildDifference[];
  /** Needs of both builds which other routes meet in one than in the other. */
  readonly metDifferently: readonly {
    readonly need: string;
    readonly first: readonly string[];
    readonly second: readonly string[];
  }[];
}

interface Thing {
  readonly what: string;
  readonly subject: string;
  readonly mask: bigint;
  readonly words: string;
}

/** What differs between two builds of one map: worked out from the conditions, without checking anything again. */
export function compareBuilds(
  pairing: Pairing,
  findings: readonly Finding[],
  first: BuildRow,
  second: BuildRow,
): BuildComparison {
  const context = createContext(pairing, newMemory(pairing));
  const inFirst = (mask: bigint): boolean => (mask & first.mask) !== 0n;
  const inSecond = (mask: bigint): boolean => (mask & second.mask) !== 0n;
  const differences = [...platformThings(pairing), ...mapThings(context), ...findings.map(findingThing)].flatMap(
    ({ mask, ...thing }): BuildDifference[] =>
      inFirst(mask) === inSecond(mask) ? [] : [{ ...thing, in: inFirst(mask) ? 'first' : 'second' }],
  );
  const metDifferently = [...context.derivation.needs.values()].flatMap(({ ref, mask }) => {
    if (!inFirst(mask) || !inSecond(mask)) return [];
    const by = (holds: (mask: bigint) => boolean): string[] =>
      (pairing.routesTo.get(ref) ?? []).filter((route) => holds(context.maskOf(route))).map(({ id }) => id);
    const [one, other] = [by(inFirst), by(inSecond)];
    return one.join('\n') === other.join('\n') ? [] : [{ need: ref, first: one, second: other }];
  });
  return { first, second, differences, metDifferently };
}

function mapThings({ pairing, derivation }: CheckContext): Thing[] {
  const { map, options } = pairing;
  const { needs } = derivation;
  return [
    ...[...needs.values()].map(({ ref, mask, because }) => ({ what: 'need', subject: ref, mask, words: because })),
    ...map.routes.map(({ id, from, to, carrier, when }) => ({
      what: 'route',
      subject: `route:${id}`,
      mask: options.maskOf(when),
      words: `${to} from ${from.join(', ')}, ${carrier}`,
    })),
    ...map.transmits.map(({ message, by, port, when }) => ({
      what: 'transmit',
      subject: `transmit:${message}`,
      mask: options.maskOf(when),
      words: `sent by ${by} at port ${port}`,
    })),
    ...deriveCircuits(pairing).map(({ id, from, to, mask, conductor }) => ({
      what: 'conductor',
      subject: `circuit:${id}`,
      mask,
      words: [`${endWords(from)} to ${endWords(to)}`, conductor.size, conductor.colour]
        .filter((part) => part !== null)
        .join(', '),
    })),
  ];
}

function findingThing({ rule, severity, subject, message, mask, waived }: Finding): Thing {
  return {
    what: 'finding',
    subject,
    mask,
    words: `${waived === null ? severity : `${severity}, waived`}: ${rule}: ${message}`,
  };
}

function platformThings(pairing: Pairing): Thing[] {
  const conditioned = (
    what: string,
    subject: string,
    entry: { readonly title?: string | undefined; readonly when?: Condition | undefined },
  ): Thing[] =>
    entry.when === undefined
      ? []
      : [{ what, subject, mask: pairing.options.maskOf(entry.when), words: entry.title ?? subject }];
  return [pairing.host, pairing.donor].flatMap(({ name, platform }) => [
    ...platform.modules.flatMap((entry) => conditioned('module', `module:${name}:${entry.id}`, entry)),
    ...platform.messages.flatMap((message) => [
      ...conditioned('message', `${name}:${message.id}`, message),
      ...message.signals.flatMap((signal) => conditioned('signal', `${name}:${message.id}.${signal.id}`, signal)),
    ]),
    ...platform.wires.flatMap((entry) => conditioned('wire', `${name}:${entry.id}`, entry)),
    ...platform.connectors.flatMap((entry) => conditioned('connector', `connector:${name}:${entry.id}`, entry)),
    ...platform.feeds.flatMap((entry) => conditioned('feed', `feed:${name}:${entry.id}`, entry)),
    ...platform.grounds.flatMap((entry) => conditioned('ground', `ground:${name}:${entry.id}`, entry)),
  ]);
}
