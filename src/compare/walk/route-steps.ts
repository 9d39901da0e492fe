import type { Finding } from '../../checks/index.ts';
import type { CarrierRule, PathElement, Route } from '../../model/index.ts';
import { routeSentence } from '../../translate/index.ts';
import type { Concerns } from './concern.ts';
import { digested } from './facts-digest.ts';
import { firmwareFailures } from './firmware-failures.ts';
import { hardFailures } from './hard-failures.ts';
import { wireOf } from './outcome.ts';
import { guardFacts, routeFacts, routeTitle, valueFacts } from './route-facts.ts';
import type { ElementFailure, WalkElement, WalkStep } from './step.ts';
import { wayOf, type WayElement } from './way.ts';

/** A step for every route of an interlock function, and one for every route of a motion-control function. */
export function routeSteps(
  concerns: Concerns,
  findingsOf: (subjects: readonly string[]) => readonly Finding[],
): readonly WalkStep[] {
  return concerns.pairing.map.routes.flatMap((route): readonly WalkStep[] => {
    const { harm } = concerns.ofRoute(route);
    const message = route.to.split('.')[0]!;
    const findings = findingsOf([`route:${route.id}`, route.to, message, `transmit:${message}`]);
    if (harm === 'interlock') return [pathStep(concerns, route, findings)];
    return harm === 'motion-control' ? [valueStep(concerns, route, findings)] : [];
  });
}

function pathStep(concerns: Concerns, route: Route, findings: readonly Finding[]): WalkStep {
  const { context } = concerns;
  const hard = context.isHard(route);
  const paths = context.paths(route);
  const entry = context.functionOf(route);
  return digested({
    id: `path:route:${route.id}`,
    kind: 'interlock-path',
    harm: 'interlock',
    functionId: context.functionIdOf(route),
    title: routeTitle(concerns, route),
    says: [
      hardDeclared(route) ?? routeSentence(context.analysis(route)),
      paths.length === 0
        ? 'One of its ends names nothing, so there is no path to show.'
        : hard
          ? 'A conductor from end to end: nothing programmable stands between the source and the reader.'
          : inTheWay(
              programmableText(paths.flatMap(({ elements }) => elements)),
              context.classOfRoute(route)?.carrierRule ?? null,
            ),
      ...(entry === null ? [] : [entry.why]),
    ],
    facts: [
      ...routeFacts(concerns, route),
      { name: 'conductor end to end', value: hard ? 'yes' : 'no', unit: '' },
      ...(route.carrier === 'hard-wire' && (route.steps ?? []).length === 0 ? [] : valueFacts(concerns, route)),
      ...(route.carrier === 'hard-wire' ? [] : guardFacts(concerns, route)),
    ],
    elements: elementsOf(concerns, route),
    changes: [],
    findings,
    waiver: null,
    subjects: [`route:${route.id}`],
  });
}

/** What firmware or a network in the way means: against the rule of the function, or within it. */
function inTheWay(refs: string, rule: CarrierRule | null): string {
  return rule === 'hard-wired' || rule === 'hard-wired-or-backed-up'
    ? `NOT a conductor from end to end: firmware or a network stands in the way (${refs}).`
    : `Firmware or a network stands in the way (${refs}); the function’s carrier rule is ${rule ?? 'not known'}.`;
}

/** A hard wire as declared; whether it is one is said apart. */
function hardDeclared({ carrier, from, to }: Route): string | null {
  return carrier === 'hard-wire' ? `${to} hangs on ${from.join(', ')}, declared a hard wire.` : null;
}

function programmableText(elements: readonly PathElement[]): string {
  const refs = [
    ...new Set(elements.flatMap(({ role, programmable, ref }) => (role === 'carries' && programmable ? [ref] : []))),
  ];
  return refs.length === 0 ? 'something' : refs.join(', ');
}

function valueStep(concerns: Concerns, route: Route, findings: readonly Finding[]): WalkStep {
  const { context } = concerns;
  const entry = context.functionOf(route);
  return digested({
    id: `value:route:${route.id}`,
    kind: 'motion-value',
    harm: 'motion-control',
    functionId: context.functionIdOf(route),
    title: routeTitle(concerns, route),
    says: [routeSentence(context.analysis(route)), ...(entry === null ? [] : [entry.why])],
    facts: [...guardFacts(concerns, route), ...valueFacts(concerns, route), ...routeFacts(concerns, route)],
    elements: [],
    changes: [],
    findings,
    waiver: null,
    subjects: [`route:${route.id}`],
  });
}

/** The elements of every path of a route, each with its failures. */
function elementsOf(concerns: Concerns, route: Route): readonly WalkElement[] {
  const failuresOf = failuresFor(concerns, route);
  const way = wayOf(concerns.context.paths(route));
  return way.map((element, at): WalkElement => {
    const { kind, ref, role, programmable, why, place, sources } = element;
    return {
      kind,
      ref,
      title: titleOf(concerns, element),
      role,
      programmable,
      why,
      place,
      sources: sources.length === new Set(route.from).size ? [] : sources,
      failures: failuresOf(element, way.slice(at + 1)),
    };
  });
}

type FailuresOf = (element: WayElement, behind: readonly WayElement[]) => readonly ElementFailure[];

function failuresFor(concerns: Concerns, route: Route): FailuresOf {
  const { pairing, context } = concerns;
  const target = pairing.find(route.to);
  const functionId = context.functionIdOf(route);
  if (route.carrier === 'hard-wire' && target?.kind === 'wire') {
    return (element, after) => {
      const source = wireOf(pairing.find(element.sources[0] ?? ''));
      const behind = after
        .filter(({ kind, role }) => kind === 'relay' && role === 'carries')
        .map(({ ref }) => ({ ref, heldByOther: context.part(ref)?.coilBy !== undefined }));
      return hardFailures(element, { pairing, route, functionId, source, reader: target, behind });
    };
  }
  const by = route.by === undefined ? null : (pairing.interfaceModules.get(route.by) ?? null);
  const analysis = context.analysis(route);
  return (element) => firmwareFailures(element, { pairing, route, functionId, analysis, by, target });
}

function titleOf({ pairing }: Concerns, { kind, ref }: WayElement): string {
  const harness = pairing.map.harness;
  const own =
    pairing.interfaceModules.get(ref)?.title ??
    harness?.parts?.find(({ id }) => id === ref)?.title ??
    harness?.nodes.find(({ id }) => id === ref)?.title ??
    harness?.connectors.find(({ id }) => id === ref)?.title;
  if (own !== undefined) return own;
  const colon = ref.indexOf(':');
  const [name, id] = [ref.slice(0, colon), ref.slice(colon + 1)];
  if (name !== 'host' && name !== 'donor') return pinTitle(pairing, ref);
  const side = pairing.side(name);
  switch (kind) {
    case 'wire':
      return side.wires.get(id)?.wire.title ?? id;
    case 'connector':
      return side.connectors.get(id)?.title ?? id;
    case 'feed':
      return side.feeds.get(id)?.title ?? id;
    case 'ground':
      return side.grounds.get(id)?.title ?? id;
    case 'bus':
      return side.buses.get(id)?.title ?? id;
    default:
      return side.modules.get(id)?.title ?? id;
  }
}

function pinTitle(pairing: Concerns['pairing'], ref: string): string {
  const dot = ref.indexOf('.');
  const owner = dot < 0 ? undefined : pairing.interfaceModules.get(ref.slice(0, dot));
  const id = ref.slice(dot + 1);
  const pin = owner?.pins.find((entry) => entry.id === id);
  const port = owner?.ports.find((entry) => entry.id === id);
  return pin?.title ?? (port ? `port on ${port.bus}` : ref);
}
