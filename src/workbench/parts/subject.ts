import { findFunction, type Endpoint, type Pairing, type Route } from '../../model/index.ts';
import type { PlaceId } from '../places/index.ts';
import { derivationOf } from '../state/derived.ts';

/** What a subject is, in words, and where it can be seen. */
export interface SubjectWords {
  readonly kind: string;
  readonly title: string;
  /** The reference as the documents write it. */
  readonly ref: string;
  /** The function it is for, when it has one. */
  readonly function: string | null;
  /** Places that show it, the best first. */
  readonly places: readonly PlaceId[];
  /** What is selected there when it is not the subject itself: the message of a transmit. */
  readonly selects?: string;
}

/** The function a signal, message or wire is for; null when it is not said. */
export function functionOfEndpoint(endpoint: Endpoint): string | null {
  switch (endpoint.kind) {
    case 'signal':
      return endpoint.signal.function ?? endpoint.message.function ?? null;
    case 'message':
      return endpoint.message.function ?? null;
    case 'wire':
      return endpoint.wire.function ?? null;
  }
}

/** The title of a signal, message or wire; its id when it has none. */
export function titleOfEndpoint(endpoint: Endpoint): string {
  switch (endpoint.kind) {
    case 'signal':
      return endpoint.signal.title ?? endpoint.signal.id;
    case 'message':
      return endpoint.message.title ?? endpoint.message.id;
    case 'wire':
      return endpoint.wire.title;
  }
}

/** The title of a function of the catalogue; its id when the catalogue has no such entry. */
export function titleOfFunction(id: string): string {
  return findFunction(id)?.title ?? id;
}

/** Puts a subject (`route:id`, `host:Message.Signal`, `module:host:id`, `xm.in3`, …) into words. */
export function subjectWords(pairing: Pairing, subject: string): SubjectWords {
  const colon = subject.indexOf(':');
  const kind = colon < 0 ? '' : subject.slice(0, colon);
  const rest = subject.slice(colon + 1);
  switch (kind) {
    case 'route':
      return routeWords(pairing, rest);
    case 'transmit':
      return transmitWords(pairing, rest);
    case 'function':
      return {
        kind: 'function',
        title: titleOfFunction(rest),
        ref: rest,
        function: rest,
        places: ['worklist', 'loom'],
      };
    case 'host':
    case 'donor':
      return endpointWords(pairing, subject);
    case 'option': {
      const axis = pairing.map.options?.find(({ id }) => id === rest);
      return { kind: 'option', title: axis?.title ?? rest, ref: rest, function: null, places: ['text'] };
    }
    case 'connector':
      return connectorWords(pairing, rest);
    case 'module':
    case 'bus':
    case 'feed':
    case 'ground':
      return partWords(pairing, kind, rest);
    case 'circuit':
    case 'cavity':
    case 'segment':
    case 'node':
    case 'splice':
    case 'part':
      return harnessWords(pairing, kind, rest);
    default:
      return ownWords(pairing, subject);
  }
}

function routeWords(pairing: Pairing, id: string): SubjectWords {
  const route = pairing.routes.get(id);
  const title = route?.title ?? (route?.function === undefined ? id : titleOfFunction(route.function));
  return { kind: 'route', title, ref: id, function: route?.function ?? null, places: ['loom', 'routes'] };
}

function transmitWords(pairing: Pairing, ref: string): SubjectWords {
  const endpoint = pairing.find(ref);
  return {
    kind: 'transmit',
    title: endpoint ? titleOfEndpoint(endpoint) : ref,
    ref,
    function: endpoint ? functionOfEndpoint(endpoint) : null,
    places: ['platforms', 'loom'],
    selects: ref,
  };
}

function endpointWords(pairing: Pairing, ref: string): SubjectWords {
  const endpoint = pairing.find(ref);
  if (!endpoint) return { kind: 'reference', title: ref, ref, function: null, places: ['platforms'] };
  const isLoose = derivationOf(pairing).needs.has(ref) && !pairing.routesTo.has(ref);
  return {
    kind: endpoint.kind,
    title: titleOfEndpoint(endpoint),
    ref,
    function: functionOfEndpoint(endpoint),
    places: isLoose ? ['worklist', 'platforms', 'loom'] : ['platforms', 'loom'],
  };
}

/** A connector of a platform, or one that the map adds. */
function connectorWords(pairing: Pairing, ref: string): SubjectWords {
  const added = pairing.map.harness?.connectors.find(({ id }) => id === ref);
  if (added) return { kind: 'connector', title: added.title, ref, function: null, places: ['harness'] };
  return { ...partWords(pairing, 'connector', ref), places: ['platforms', 'harness'] };
}

/** A thing of the added harness. */
function harnessWords(
  pairing: Pairing,
  kind: 'circuit' | 'cavity' | 'segment' | 'node' | 'splice' | 'part',
  ref: string,
): SubjectWords {
  const { harness } = pairing.map;
  const choice = kind === 'circuit' ? harness?.circuits.find(({ id, of }) => id === ref || of === ref) : undefined;
  const titles: Readonly<Record<typeof kind, string | undefined>> = {
    circuit: choice?.label ?? choice?.id,
    cavity: undefined,
    segment: undefined,
    node: harness?.nodes.find(({ id }) => id === ref)?.title,
    splice: undefined,
    part: harness?.parts?.find(({ id }) => id === ref)?.title,
  };
  return { kind, title: titles[kind] ?? ref, ref, function: null, places: ['harness', 'text'] };
}

function partWords(
  pairing: Pairing,
  kind: 'module' | 'bus' | 'connector' | 'feed' | 'ground',
  ref: string,
): SubjectWords {
  const cut = ref.indexOf(':');
  const side = ref.slice(0, cut);
  const id = ref.slice(cut + 1);
  const base = { kind, ref, function: null, places: ['platforms'] as const };
  if (side !== 'host' && side !== 'donor') return { ...base, title: ref };
  const { modules, buses, connectors, feeds, grounds } = pairing.side(side);
  const lists = { module: modules, bus: buses, connector: connectors, feed: feeds, ground: grounds };
  return { ...base, title: lists[kind].get(id)?.title ?? id };
}

/** Parts of the map: interface modules with their pins and ports, harness parts, the map itself. */
function ownWords(pairing: Pairing, subject: string): SubjectWords {
  if (subject === 'map')
    return { kind: 'map', title: pairing.map.title, ref: pairing.map.id, function: null, places: ['text'] };
  const [ownerId, partId] = subject.split('.');
  const owner = pairing.interfaceModules.get(ownerId!);
  const part = pairing.map.harness?.parts?.find(({ id }) => id === subject);
  if (part) return { kind: 'part', title: part.title, ref: subject, function: null, places: ['harness', 'text'] };
  if (!owner) return { kind: 'part', title: subject, ref: subject, function: null, places: ['text'] };
  if (partId === undefined)
    return { kind: 'interface module', title: owner.title, ref: subject, function: null, places: ['loom', 'text'] };
  const pin = owner.pins.find(({ id }) => id === partId);
  return {
    kind: pin ? 'pin' : 'port',
    title: pin?.title ?? subject,
    ref: subject,
    function: null,
    places: ['loom', 'text'],
  };
}

/** Whether a subject is a route, what it writes, or the message that carries it. */
export function isAboutRoute(subject: string, { id, to }: Route): boolean {
  const message = to.split('.')[0]!;
  return subject === `route:${id}` || subject === to || subject === message || subject === `transmit:${message}`;
}
