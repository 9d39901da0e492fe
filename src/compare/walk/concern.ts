import { createContext, newMemory, type CheckContext, type Finding } from '../../checks/index.ts';
import { FUNCTIONS, deriveHarness, type Pairing, type Route } from '../../model/index.ts';
import { HARMS, type Harm } from './step.ts';

/** The function that a subject concerns, with its class and the route that carries it; the worst one where there are several. */
export interface Concern {
  readonly harm: Harm;
  readonly functionId: string | null;
  /** `route:id`; null when no route is concerned. */
  readonly route: string | null;
}

export const NO_CONCERN: Concern = { harm: 'other', functionId: null, route: null };

const CATALOGUE_PLACE = new Map([...FUNCTIONS.keys()].map((id, at) => [id, at]));

/** Where a function stands in the catalogue; after all of them when it is not in it. */
export function cataloguePlace(functionId: string | null): number {
  return (functionId === null ? undefined : CATALOGUE_PLACE.get(functionId)) ?? FUNCTIONS.size;
}

export function harmPlace(harm: Harm): number {
  return HARMS.indexOf(harm);
}

/** Worst harm first, then the order of the catalogue, then the route's id. */
export function compareConcerns(a: Concern, b: Concern): number {
  return (
    harmPlace(a.harm) - harmPlace(b.harm) ||
    cataloguePlace(a.functionId) - cataloguePlace(b.functionId) ||
    compareText(a.route ?? '~', b.route ?? '~')
  );
}

export function compareText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

/** What the steps of one pairing ask: the context of the rules, and whom a subject concerns. */
export interface Concerns {
  readonly pairing: Pairing;
  readonly context: CheckContext;
  ofRoute(route: Route): Concern;
  /** `route:id`, `transmit:side:Message`, `side:…`, `module:side:id`, `function:id`, `xm.in3`, `harness:id`, … */
  ofSubject(subject: string): Concern;
}

/** Indexes a pairing by its subjects; worked out once for a walk. */
export function concernsOf(pairing: Pairing): Concerns {
  const context = createContext(pairing, newMemory(pairing));
  const ofRoutes = new Map<Route, Concern>();
  const ofRoute = (route: Route): Concern => {
    const known = ofRoutes.get(route);
    if (known) return known;
    const functionId = context.functionIdOf(route);
    const concern: Concern = {
      harm: context.classOfRoute(route)?.criticality ?? 'other',
      functionId,
      route: `route:${route.id}`,
    };
    ofRoutes.set(route, concern);
    return concern;
  };
  let index: Map<string, Concern> | null = null;
  return {
    pairing,
    context,
    ofRoute,
    ofSubject(subject) {
      index ??= indexed(pairing, context, ofRoute);
      const known = index.get(subject) ?? index.get(subject.replace(/^(transmit|wire|message|need):/, ''));
      if (known) return known;
      return ofFunction(context, subject) ?? ofBearer(context, subject) ?? NO_CONCERN;
    },
  };
}

function ofFunction(context: CheckContext, subject: string): Concern | null {
  if (!subject.startsWith('function:')) return null;
  const entry = FUNCTIONS.get(subject.slice('function:'.length));
  return entry ? { harm: context.classOf(entry).criticality, functionId: entry.id, route: null } : null;
}

/** A signal, message or wire without a route: by the function it bears itself. */
function ofBearer(context: CheckContext, subject: string): Concern | null {
  const entry = context.pairing.find(subject.replace(/^transmit:/, ''));
  if (!entry) return null;
  const ids =
    entry.kind === 'wire'
      ? [entry.wire.function]
      : entry.kind === 'signal'
        ? [entry.signal.function ?? entry.message.function]
        : [entry.message.function, ...entry.message.signals.map((signal) => signal.function)];
  return ids.reduce<Concern | null>((worst, id) => {
    const of = FUNCTIONS.get(id ?? '');
    if (!of) return worst;
    const concern: Concern = { harm: context.classOf(of).criticality, functionId: of.id, route: null };
    return worst === null || compareConcerns(concern, worst) < 0 ? concern : worst;
  }, null);
}

function indexed(pairing: Pairing, context: CheckContext, ofRoute: (route: Route) => Concern): Map<string, Concern> {
  const index = new Map<string, Concern>();
  const enter = (key: string, concern: Concern): void => {
    const known = index.get(key);
    if (known === undefined || compareConcerns(concern, known) < 0) index.set(key, concern);
  };
  for (const route of pairing.map.routes) {
    const concern = ofRoute(route);
    enter(`route:${route.id}`, concern);
    for (const ref of [route.to, ...route.from]) {
      enter(ref, concern);
      const dot = ref.indexOf('.');
      if (dot > 0) enter(ref.slice(0, dot), concern);
    }
    for (const path of context.paths(route)) {
      for (const { kind, ref } of path.elements) {
        enter(ref, concern);
        enter(`harness:${ref}`, concern);
        if (ref.includes(':')) enter(`${PREFIX[kind] ?? 'module'}:${ref}`, concern);
      }
    }
  }
  for (const circuit of deriveHarness(pairing).circuits) {
    for (const id of circuit.routeIds) {
      const route = pairing.routes.get(id);
      if (route) enter(`circuit:${circuit.id}`, ofRoute(route));
    }
  }
  return index;
}

const PREFIX: Readonly<Record<string, string>> = { connector: 'connector', feed: 'feed', ground: 'ground', bus: 'bus' };

/** A stop finding about a mild function, or about none, still can hurt somebody. */
export function concernOfFinding(concerns: Concerns, finding: Finding): Concern {
  const concern = concerns.ofSubject(finding.subject);
  const mild = harmPlace(concern.harm) > harmPlace('stop');
  return finding.severity === 'stop' && mild ? { ...concern, harm: 'stop' } : concern;
}

/** The class in words, for headings. */
export const HARM_TITLES: Readonly<Record<Harm, string>> = {
  interlock: 'Interlocks',
  'motion-control': 'Motion control',
  stop: 'Stops of other functions',
  'regulated-display': 'Regulated displays and answers',
  comfort: 'Comfort and other functions',
  other: 'Without a catalogue function',
};

/** What is at stake in a class. */
export const HARM_WORDS: Readonly<Record<Harm, string>> = {
  interlock: 'One wrong value can start the engine, move the vehicle or remove a mandated inhibit.',
  'motion-control': 'A wrong value changes how the vehicle moves or stops.',
  stop: 'Somebody can be hurt, or the map cannot work.',
  'regulated-display': 'A regulation asks for what is shown or answered.',
  comfort: 'Nobody is hurt, somebody is annoyed.',
  other: 'The catalogue says nothing of what is at stake.',
};
