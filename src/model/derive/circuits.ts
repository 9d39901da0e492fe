import type { Conductor } from '../document/common.ts';
import type { CircuitChoice, Route } from '../document/map.ts';
import { CRITICALITIES, findFunction, type Criticality } from '../functions/catalogue.ts';
import { isId } from '../document/common.ts';
import type { Pairing } from '../pairing.ts';
import type { Run, Runs } from './circuit-run.ts';
import { hardWireRuns, pinRuns } from './circuit-runs.ts';
import { splice, type Drawn } from './circuit-splices.ts';
import { busRuns, partRuns, supplyRuns } from './circuit-supplies.ts';
import type { AddedHarness, Circuit, CircuitConductor, CircuitFuse, CircuitProblem } from './circuit-types.ts';

/**
 * Every conductor of the added harness, and nothing of the vehicles' own: those of hard-wire routes (one a hop through
 * the harness parts they go via), interface pins which routes use, interface module feeds and grounds, bus pairs, coil
 * drives and part terminals. Each has two ends; where several would share a place they meet in a splice with one stub,
 * so no place holds two in one build. What cannot be resolved is a problem or a circuit's `missing`, never left out in
 * silence. Near-linear in the size of the map. `mask` keeps to some option combinations: what only others need is left away.
 */
export function deriveHarness(pairing: Pairing, mask: bigint = pairing.options.all): AddedHarness {
  const out: Runs = { runs: [], problems: [] };
  hardWireRuns(pairing, out);
  pinRuns(pairing, out);
  supplyRuns(pairing, out);
  busRuns(pairing, out);
  partRuns(pairing, out);
  const wanted = out.runs.flatMap((run) => ((run.mask & mask) === 0n ? [] : [{ ...run, mask: run.mask & mask }]));
  const { drawn, splices, problems } = splice(wanted);
  const choices = choicesByKey(pairing);
  const used = new Set<string>();
  const classOf = classes(pairing);
  const carried = worstCarried(pairing, classOf);
  const ids = namer(pairing);
  const circuits = drawn.map((it): Circuit => {
    const runs = [it.run, ...it.shared];
    const otherKeys = it.stub ? [] : [...new Set(it.shared.map(({ key }) => key))].filter((key) => key !== it.key);
    const choice = [it.key, ...otherKeys].map((key) => choices.get(key)).find((found) => found !== undefined);
    if (choice) used.add(choice.id);
    return circuitOf(it, runs, otherKeys, choice, ids, classOf, carried);
  });
  // In a part of the builds a choice may rightly find no circuit.
  const unused = (mask === pairing.options.all ? (pairing.map.harness?.circuits ?? []) : [])
    .filter(({ id }) => !used.has(id))
    .map(({ id, of }): CircuitProblem => ({
      kind: 'choice-of-nothing',
      subject: id,
      message: `is set for "${of}", which no route, module or part asks for any more`,
    }));
  return {
    circuits: withTwistGroups(circuits),
    splices,
    problems: [...out.problems, ...problems, ...unused],
  };
}

/** The conductors of {@link deriveHarness} alone. */
export function deriveCircuits(pairing: Pairing, mask: bigint = pairing.options.all): readonly Circuit[] {
  return deriveHarness(pairing, mask).circuits;
}

function choicesByKey(pairing: Pairing): Map<string, CircuitChoice> {
  const choices = new Map<string, CircuitChoice>();
  for (const choice of pairing.map.harness?.circuits ?? []) if (!choices.has(choice.of)) choices.set(choice.of, choice);
  return choices;
}

/** Marks a twist partner that is still a name. */
const WITH = 'with:';

type ClassOf = (functionId: string) => Criticality | null;

/** The class of a function in this pairing: the catalogue's, or a worse one which the map gives it. */
function classes(pairing: Pairing): ClassOf {
  const raised = new Map((pairing.map.classes ?? []).map((entry) => [entry.function, entry.criticality]));
  return (functionId) => worst([findFunction(functionId)?.criticality ?? null, raised.get(functionId) ?? null]);
}

function worst(list: readonly (Criticality | null)[]): Criticality | null {
  return CRITICALITIES.find((criticality) => list.includes(criticality)) ?? null;
}

function functionsOf(pairing: Pairing, route: Route): string[] {
  if (route.function !== undefined) return [route.function];
  const target = pairing.find(route.to);
  const functionId =
    target?.kind === 'wire' ? target.wire.function : target?.kind === 'signal' ? target.signal.function : undefined;
  return functionId === undefined ? [] : [functionId];
}

interface Carried {
  readonly functions: (route: Route) => readonly string[];
  /** Worst class of what goes through an interface module: its feed and ground carry all of it. */
  readonly through: (owner: string) => Criticality | null;
}

function worstCarried(pairing: Pairing, classOf: ClassOf): Carried {
  const functions = (route: Route): string[] => functionsOf(pairing, route);
  let through: Map<string, Criticality | null> | null = null;
  const collect = (): Map<string, Criticality | null> => {
    const classes = new Map<string, Set<Criticality | null>>();
    for (const route of pairing.map.routes) {
      if (route.by === undefined) continue;
      const known = classes.get(route.by) ?? new Set();
      classes.set(route.by, known);
      for (const id of functions(route)) known.add(classOf(id));
    }
    return new Map([...classes].map(([owner, list]) => [owner, worst([...list])]));
  };
  return { functions, through: (owner) => (through ??= collect()).get(owner) ?? null };
}

type Namer = (key: string, choice: CircuitChoice | undefined) => string;

/** A person's number where one is set; else the key without its kind, made unique. */
function namer(pairing: Pairing): Namer {
  const taken = new Set((pairing.map.harness?.circuits ?? []).map(({ id }) => id));
  return (key, choice) => {
    if (choice) return choice.id;
    const stem = generatedId(key);
    let id = stem;
    for (let count = 2; taken.has(id); count += 1) id = `${stem}+${count}`;
    taken.add(id);
    return id;
  };
}

function generatedId(key: string): string {
  const colon = key.indexOf(':');
  const kind = key.slice(0, colon);
  const rest = key.slice(colon + 1).replace(/[^A-Za-z0-9_+/-]+/g, '-');
  const id = kind === 'route' || kind === 'pin' ? rest : `${kind}-${rest}`;
  return isId(id) ? id : `${kind}-${rest}`.slice(0, 120);
}

function conductorOf(it: Drawn, routes: readonly Route[], choice: CircuitChoice | undefined): CircuitConductor {
  const own = choice?.conductor;
  const byRoute = routes.map(({ conductor }) => conductor).filter((conductor) => conductor !== undefined);
  const byPlatform = it.run.platformConductors.filter((conductor) => conductor !== undefined);
  const first = <K extends keyof Conductor>(field: K): NonNullable<Conductor[K]> | null =>
    [own, ...byRoute, ...byPlatform].map((conductor) => conductor?.[field]).find((value) => value !== undefined) ??
    null;
  // A platform's length and shield are those of its own conductor, not of the added one.
  const added = [own, ...byRoute];
  return {
    size: first('size'),
    sizeFrom:
      own?.size !== undefined
        ? 'circuit'
        : byRoute.some(({ size }) => size !== undefined)
          ? 'route'
          : byPlatform.some(({ size }) => size !== undefined)
            ? 'platform'
            : null,
    colour: first('colour'),
    insulation: first('insulation'),
    maxC: first('maxC'),
    lengthM: own?.lengthM ?? null,
    shielded: added.some((conductor) => conductor?.shielded === true),
  };
}

/** Runs on one conductor feed one load, so the greatest counts; a stub carries the loads of all places of its net. */
function currentOf(it: Drawn, runs: readonly Run[], field: 'loadA' | 'inrushA'): number | null {
  const byPlaces = new Map<string, number>();
  for (const run of runs) {
    const ampere = run[field];
    if (ampere === null) continue;
    const places = it.stub ? `${run.from.key}|${run.to.key}` : '';
    byPlaces.set(places, Math.max(byPlaces.get(places) ?? 0, ampere));
  }
  return byPlaces.size === 0 ? null : [...byPlaces.values()].reduce((total, ampere) => total + ampere, 0);
}

function circuitOf(
  it: Drawn,
  runs: readonly Run[],
  otherKeys: readonly string[],
  choice: CircuitChoice | undefined,
  ids: Namer,
  classOf: ClassOf,
  carried: Carried,
): Circuit {
  const routes = [...new Set(runs.flatMap((run) => run.routes))];
  const functionIds = [...new Set(routes.flatMap(carried.functions))];
  const supply = it.run.kind === 'feed' || it.run.kind === 'ground';
  const conductor = conductorOf(it, routes, choice);
  const partner =
    choice?.conductor?.twistedWith ?? routes.find((route) => route.conductor?.twistedWith)?.conductor?.twistedWith;
  const fuse: CircuitFuse | null =
    choice?.fuseA === undefined ? it.run.fuse : { id: choice.id, fuseA: choice.fuseA, place: 'in-line' };
  const notes = [choice?.note, ...routes.map(({ note }) => note)].filter((note) => note !== undefined);
  return {
    id: ids(it.key, choice),
    key: it.key,
    otherKeys,
    kind: it.stub ? 'splice-stub' : it.run.kind,
    from: it.from,
    to: it.to,
    functionIds,
    routeIds: routes.map(({ id }) => id),
    criticality: worst([
      ...functionIds.map(classOf),
      ...(supply && it.run.of !== null ? [carried.through(it.run.of)] : []),
    ]),
    conductor,
    fromElectrical: it.stub && it.from.kind === 'splice' ? null : it.run.fromElectrical,
    toElectrical: it.stub && it.to.kind === 'splice' ? null : it.run.toElectrical,
    loadA: choice?.loadA ?? currentOf(it, runs, 'loadA'),
    inrushA: choice?.inrushA ?? currentOf(it, runs, 'inrushA'),
    twistGroup: it.run.twistGroup ?? (partner === undefined ? null : `${WITH}${partner}`),
    fuse,
    of: it.run.of,
    through: choice?.through ?? [],
    serviceM: choice?.serviceM ?? null,
    label: choice?.label ?? null,
    mask: it.mask,
    documents: [...new Set(runs.flatMap((run) => run.documents))],
    note: notes.length === 0 ? null : notes[0]!,
    missing: [...new Set(runs.flatMap((run) => missingOf(run, it)))],
  };
}

/** A place that is not known matters to the conductor that reaches it, not to the others of its net. */
function missingOf(run: Run, it: Drawn): readonly string[] {
  if (!it.stub && run === it.run && it.from.kind !== 'splice' && it.to.kind !== 'splice') return run.missing;
  const unknown = [it.from, it.to].flatMap((end) =>
    end.kind === 'unknown' ? [`the connector and cavity of ${end.of}`] : [],
  );
  return [...unknown, ...run.missing.filter((text) => !text.startsWith('the connector and cavity of '))];
}

/** `twistedWith` may stand at one of two conductors only and name a circuit, a key or a route: both get the name of the pair. */
function withTwistGroups(circuits: readonly Circuit[]): readonly Circuit[] {
  const named = new Map<string, Circuit>();
  for (const circuit of circuits)
    for (const name of [circuit.id, circuit.key, ...circuit.otherKeys]) named.set(name, circuit);
  // A route names its own conductors to its own, and the stub of its net to the stub of the other's.
  const byRoute = new Map<string, Circuit>();
  const nameOf = (circuit: Circuit, routeId: string): string => `${circuit.kind === 'splice-stub'} ${routeId}`;
  for (const circuit of circuits) {
    for (const routeId of circuit.routeIds) {
      const name = nameOf(circuit, routeId);
      if (!byRoute.has(name)) byRoute.set(name, circuit);
    }
  }
  const groups = new Map<string, string>();
  for (const circuit of circuits) {
    if (!circuit.twistGroup?.startsWith(WITH)) continue;
    const name = circuit.twistGroup.slice(WITH.length);
    const partner = named.get(name) ?? byRoute.get(nameOf(circuit, name));
    if (!partner || partner === circuit) continue;
    const group = groups.get(partner.key) ?? groups.get(circuit.key) ?? `twist:${[circuit.key, partner.key].sort()[0]}`;
    groups.set(circuit.key, group);
    groups.set(partner.key, group);
  }
  return circuits.map((circuit) => {
    const group = groups.get(circuit.key);
    if (group !== undefined) return { ...circuit, twistGroup: group };
    if (!circuit.twistGroup?.startsWith(WITH)) return circuit;
    const lacking = `the conductor it is twisted with (${circuit.twistGroup.slice(WITH.length)} is none of the harness)`;
    return { ...circuit, twistGroup: null, missing: [...circuit.missing, lacking] };
  });
}
