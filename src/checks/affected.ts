import { busJoins, FUNCTIONS, readerIds, senderIds, type Pairing, type Route } from '../model/index.ts';
import { busMemory, sameJoins, segmentOf } from './bus-segments.ts';
import type { BusSegment } from './bus-types.ts';
import type { CheckContext } from './context.ts';
import { messagesWithFrame } from './frames-on-bus.ts';
import type { Rule, Scope } from './rule.ts';
import { busRef, moduleRef } from './subjects.ts';

/** Parts of a map that every subject may depend on: a change there means checking in full. */
const WHOLE = ['fates', 'requires', 'classes', 'options', 'impossible', 'interfaceModules', 'harness'] as const;

/**
 * The subjects whose answers an edit can have changed, by scope; null when that can be all of them. A route is tied to what it
 * reads, writes and passes, to the routes that share those, and to the transmits, needs, modules, buses and functions around.
 */
export function affectedSubjects(
  before: Pairing,
  context: CheckContext,
  changed: readonly string[],
  rules: readonly Rule[],
): ReadonlyMap<Scope, ReadonlySet<string>> | null {
  const { pairing } = context;
  if (WHOLE.some((key) => before.map[key] !== pairing.map[key])) return null;
  const routeIds = new Set<string>();
  const messages = new Set<string>();
  for (const ref of changed) {
    if (ref.startsWith('route:')) routeIds.add(ref.slice('route:'.length));
    else if (ref.startsWith('transmit:')) messages.add(ref.slice('transmit:'.length));
    else if (ref.startsWith('host:') || ref.startsWith('donor:')) return null;
  }
  for (const id of changedRoutes(before, pairing)) routeIds.add(id);
  if (before.map.transmits !== pairing.map.transmits) {
    for (const ref of changedKeys(before.transmitsOf, pairing.transmitsOf)) messages.add(ref);
  }
  if (!sameJoins(busJoins(before), busMemory(context).joins)) return null;
  const subjects = new Map<Scope, Set<string>>(SCOPES.map((scope) => [scope, new Set<string>()]));
  const add = (scope: Scope, ref: string): void => {
    subjects.get(scope)!.add(ref);
  };
  const functions = new Set<string>();
  for (const id of routeIds) {
    add('route', `route:${id}`);
    add('fit', `route:${id}`);
    if (changesHarness(before, pairing, id)) add('harness', 'map');
    for (const route of [before.routes.get(id), pairing.routes.get(id)]) {
      if (!route) continue;
      addAroundRoute(before, context, route, add);
      const functionId = context.functionIdOf(route);
      if (functionId !== null) functions.add(functionId);
    }
  }
  for (const id of functionsTiedTo(context, functions, rules)) {
    for (const route of context.routesOf(id)) add('route', `route:${route.id}`);
  }
  for (const message of messages) addMessage(context, message, add);
  addBuses(context, messages, add);
  if (before.map.leftOut !== pairing.map.leftOut) {
    for (const ref of context.derivation.needs.keys()) add('need', ref);
    for (const ref of pairing.map.transmits) add('transmit', `transmit:${ref.message}`);
  }
  // Few, and they ask after routes anywhere.
  for (const id of FUNCTIONS.keys()) add('function', `function:${id}`);
  for (const { id } of pairing.map.options ?? []) add('option', `option:${id}`);
  add('map', 'map');
  return subjects;
}

/** What of a route the added harness is made from. */
const HARNESS_FIELDS = [
  'function',
  'from',
  'to',
  'carrier',
  'by',
  'enters',
  'leaves',
  'via',
  'backupOf',
  'when',
  'conductor',
] as const satisfies readonly (keyof Route)[];

/** Whether a changed route can have changed a conductor. One by networks only gives the supply of its interface module its class. */
function changesHarness(before: Pairing, after: Pairing, id: string): boolean {
  const [old, now] = [before.routes.get(id), after.routes.get(id)];
  return HARNESS_FIELDS.some((field) => old?.[field] !== now?.[field]);
}

const SCOPES: readonly Scope[] = [
  'route',
  'fit',
  'transmit',
  'need',
  'message',
  'wire',
  'module',
  'bus',
  'interface',
  'option',
  'function',
  'harness',
  'map',
];

/** Functions whose routes ask about routes of those given: of the same one, and of those that a rule ties to them. */
function functionsTiedTo(
  context: CheckContext,
  changed: ReadonlySet<string>,
  rules: readonly Rule[],
): ReadonlySet<string> {
  const tied = new Set<string>();
  for (const id of changed) {
    const entry = FUNCTIONS.get(id);
    // Whether a hard wire or a backup stands beside a route is asked for these only.
    const rule = entry && context.classOf(entry).carrierRule;
    if (rule === 'hard-wired' || rule === 'hard-wired-or-backed-up') tied.add(id);
    for (const { ties } of rules) if (ties?.about.has(id)) for (const of of ties.of) tied.add(of);
  }
  return tied;
}

type Add = (scope: Scope, ref: string) => void;

function addAroundRoute(before: Pairing, context: CheckContext, route: Route, add: Add): void {
  const { pairing } = context;
  const near = new Set<Route>();
  for (const { routesTo, routesFrom, routes } of [before, pairing]) {
    for (const list of [routesTo.get(route.to), routesFrom.get(route.to)])
      for (const other of list ?? []) near.add(other);
    for (const ref of route.from) {
      for (const list of [routesTo.get(ref), routesFrom.get(ref)]) for (const other of list ?? []) near.add(other);
    }
    const primary = route.backupOf === undefined ? undefined : routes.get(route.backupOf);
    if (primary) near.add(primary);
  }
  for (const other of pairing.map.routes) if (other.backupOf === route.id) near.add(other);
  if (route.by !== undefined) {
    for (const pin of [...(route.enters ?? []), ...(route.leaves === undefined ? [] : [route.leaves])]) {
      for (const other of context.routesAtPin(route.by, pin)) near.add(other);
    }
    add('interface', route.by);
  }
  for (const other of near) add('route', `route:${other.id}`);
  for (const ref of [route.to, ...route.from]) addEndpoint(context, ref, add);
}

function addEndpoint(context: CheckContext, ref: string, add: Add): void {
  const entry = context.pairing.find(ref);
  if (!entry) return;
  for (const id of [...senderIds(entry), ...readerIds(entry)]) add('module', moduleRef(entry.side, id));
  if (entry.kind === 'wire') {
    add('wire', ref);
    add('need', ref);
    return;
  }
  addMessage(context, `${entry.side}:${entry.message.id}`, add);
}

/** A message with its transmits, its needs, the routes that write it, and its bus. */
function addMessage(context: CheckContext, messageRef: string, add: Add): void {
  const { pairing } = context;
  add('transmit', `transmit:${messageRef}`);
  add('message', messageRef);
  add('need', messageRef);
  const entry = pairing.find(messageRef);
  if (entry?.kind !== 'message') return;
  add('bus', busRef(entry.side, entry.message.bus));
  for (const { ref } of messagesWithFrame(context, entry)) add('message', ref);
  const written = [messageRef, ...entry.message.signals.map(({ id }) => `${messageRef}.${id}`)];
  for (const ref of written) {
    add('need', ref);
    for (const route of pairing.routesTo.get(ref) ?? []) add('route', `route:${route.id}`);
  }
}

/** What is sent on a bus decides how long every frame of its segment waits: the buses of it, and the routes over them. */
function addBuses(context: CheckContext, messages: ReadonlySet<string>, add: Add): void {
  const segments = new Set<BusSegment>();
  for (const message of messages) {
    const entry = context.pairing.find(message);
    const segment = entry?.kind === 'message' ? segmentOf(context, `${entry.side}:${entry.message.bus}`) : null;
    if (segment) segments.add(segment);
  }
  if (segments.size === 0) return;
  const buses = new Set([...segments].flatMap(({ refs }) => refs));
  for (const ref of buses) add('bus', `bus:${ref}`);
  for (const route of context.pairing.map.routes) {
    const isOver = [route.to, ...route.from].some((ref) => {
      const entry = context.pairing.find(ref);
      return entry !== null && entry.kind !== 'wire' && buses.has(`${entry.side}:${entry.message.bus}`);
    });
    if (isOver) add('route', `route:${route.id}`);
  }
}

function changedRoutes(before: Pairing, after: Pairing): Set<string> {
  const ids = new Set<string>();
  if (before.map.routes === after.map.routes) return ids;
  for (const route of after.map.routes) if (before.routes.get(route.id) !== route) ids.add(route.id);
  for (const route of before.map.routes) if (!after.routes.has(route.id)) ids.add(route.id);
  return ids;
}

function changedKeys<T>(
  before: ReadonlyMap<string, readonly T[]>,
  after: ReadonlyMap<string, readonly T[]>,
): Set<string> {
  const keys = new Set<string>();
  for (const [key, list] of after) {
    const old = before.get(key) ?? [];
    if (old.length !== list.length || list.some((entry, index) => entry !== old[index])) keys.add(key);
  }
  for (const key of before.keys()) if (!after.has(key)) keys.add(key);
  return keys;
}
