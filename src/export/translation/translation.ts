import { createContext, newMemory, type CheckContext, type Finding } from '../../checks/index.ts';
import { compareArbitration } from '../../can/index.ts';
import {
  isFrameField,
  portOnBus,
  sideRef,
  type InterfaceModule,
  type MessageEntry,
  type Pairing,
  type Port,
  type Protection,
  type Route,
  type Transmit,
} from '../../model/index.ts';
import { compileRoute, type CompileResult } from '../../translate/index.ts';
import { ref, type Run } from '../document/index.ts';
import { buildScope, openItems, type BuildScope, type OpenItems, type SpecIssue } from '../record/index.ts';

/** A message which an interface module must receive, and what it takes from it. */
export interface ReceivedMessage {
  readonly entry: MessageEntry;
  readonly by: InterfaceModule;
  readonly port: Port | null;
  /** Routes that read it, whole or by a field. */
  readonly routes: readonly Route[];
  readonly routesOfField: ReadonlyMap<string, readonly Route[]>;
  readonly mask: bigint;
}

/** A message which an interface module sends. */
export interface SentMessage {
  readonly entry: MessageEntry;
  readonly transmit: Transmit;
  readonly by: InterfaceModule | null;
  readonly port: Port | null;
  readonly protection: Protection | undefined;
  readonly routesOfField: ReadonlyMap<string, readonly Route[]>;
  /** Routes that write it whole. */
  readonly wholeRoutes: readonly Route[];
  readonly mask: bigint;
}

/** What all sections of a translation spec look at. */
export interface Translation {
  readonly pairing: Pairing;
  readonly findings: readonly Finding[];
  readonly issue: SpecIssue;
  readonly scope: BuildScope;
  readonly pages: boolean;
  readonly context: CheckContext;
  readonly open: OpenItems;
  /** The integer form of a route through an interface module; null for every other. */
  readonly compiled: (route: Route) => CompileResult | null;
  /** Routes of the builds covered, in the order of the map. */
  readonly routes: readonly Route[];
  readonly received: readonly ReceivedMessage[];
  /** By bus, highest priority first. */
  readonly sent: readonly SentMessage[];
}

export function translationOf(pairing: Pairing, findings: readonly Finding[], issue: SpecIssue): Translation {
  const scope = buildScope(pairing, issue.build);
  const context = createContext(pairing, newMemory(pairing));
  const routes = pairing.map.routes.filter((route) => scope.holds(context.maskOf(route)));
  return {
    pairing,
    findings,
    issue,
    scope,
    pages: issue.arrangement !== 'sheets',
    context,
    open: openItems(),
    compiled: compiler(pairing, context),
    routes,
    received: receivedMessages(pairing, context, routes),
    sent: sentMessages(pairing, context, scope, routes),
  };
}

function compiler(pairing: Pairing, context: CheckContext): Translation['compiled'] {
  const known = new Map<string, CompileResult | null>();
  return (route) => {
    const before = known.get(route.id);
    if (before !== undefined) return before;
    const by = route.by === undefined ? undefined : pairing.interfaceModules.get(route.by);
    const result = by && route.carrier !== 'hard-wire' ? compileRoute(context.analysis(route), by.periodMs) : null;
    known.set(route.id, result);
    return result;
  };
}

function add<K, V>(lists: Map<K, V[]>, key: K, value: V): void {
  const list = lists.get(key);
  if (list) list.push(value);
  else lists.set(key, [value]);
}

function receivedMessages(pairing: Pairing, context: CheckContext, routes: readonly Route[]): ReceivedMessage[] {
  interface Gathering {
    readonly entry: MessageEntry;
    readonly by: InterfaceModule;
    readonly routes: Set<Route>;
    readonly routesOfField: Map<string, Route[]>;
  }
  const found = new Map<string, Gathering>();
  for (const route of routes) {
    const by = route.by === undefined ? undefined : pairing.interfaceModules.get(route.by);
    if (!by) continue;
    for (const source of new Set(route.from)) {
      const endpoint = pairing.find(source);
      if (!endpoint || endpoint.kind === 'wire') continue;
      const messageRef = sideRef(endpoint.side, endpoint.message.id);
      const key = `${by.id} ${messageRef}`;
      let one = found.get(key);
      if (!one) {
        const entry: MessageEntry = {
          kind: 'message',
          side: endpoint.side,
          ref: messageRef,
          message: endpoint.message,
        };
        one = { entry, by, routes: new Set(), routesOfField: new Map() };
        found.set(key, one);
      }
      one.routes.add(route);
      if (endpoint.kind === 'signal') add(one.routesOfField, endpoint.signal.id, route);
    }
  }
  return [...found.values()]
    .map(({ entry, by, routes: readBy, routesOfField }): ReceivedMessage => ({
      entry,
      by,
      port: portOnBus(by, sideRef(entry.side, entry.message.bus)),
      routes: [...readBy],
      routesOfField,
      mask: [...readBy].reduce((mask, route) => mask | context.maskOf(route), 0n),
    }))
    .sort((a, b) => compareMessages(a.entry, b.entry) || (a.by.id < b.by.id ? -1 : 1));
}

function sentMessages(
  pairing: Pairing,
  context: CheckContext,
  scope: BuildScope,
  routes: readonly Route[],
): SentMessage[] {
  const byField = new Map<string, Route[]>();
  for (const route of routes) add(byField, route.to, route);
  return pairing.map.transmits
    .flatMap((transmit): SentMessage[] => {
      const entry = pairing.find(transmit.message);
      const mask = pairing.options.maskOf(transmit.when);
      if (entry?.kind !== 'message' || !scope.holds(mask)) return [];
      const by = pairing.interfaceModules.get(transmit.by) ?? null;
      const routesOfField = new Map<string, readonly Route[]>();
      for (const { id } of entry.message.signals) {
        const writing = (byField.get(`${entry.ref}.${id}`) ?? []).filter(
          (route) => (context.maskOf(route) & mask) !== 0n,
        );
        if (writing.length > 0) routesOfField.set(id, writing);
      }
      return [
        {
          entry,
          transmit,
          by,
          port: by?.ports.find(({ id }) => id === transmit.port) ?? null,
          protection: transmit.protection ?? entry.message.protection,
          routesOfField,
          wholeRoutes: byField.get(entry.ref) ?? [],
          mask,
        },
      ];
    })
    .sort((a, b) => compareMessages(a.entry, b.entry));
}

function compareMessages(a: MessageEntry, b: MessageEntry): number {
  const busA = sideRef(a.side, a.message.bus);
  const busB = sideRef(b.side, b.message.bus);
  if (busA !== busB) return busA < busB ? -1 : 1;
  const arbitration = ({ message }: MessageEntry) => ({ frameId: Number(message.frameId), idFormat: message.idFormat });
  return compareArbitration(arbitration(a), arbitration(b)) || (a.ref < b.ref ? -1 : a.ref > b.ref ? 1 : 0);
}

/** Anchor of a route: its own pages, or its row where there are none. */
export const routeAnchor = (id: string): string => `route-${id}`;
export const sentAnchor = ({ transmit }: SentMessage): string => `sent-${transmit.by}-${transmit.message}`;
export const receivedAnchor = ({ by, entry }: ReceivedMessage): string => `received-${by.id}-${entry.ref}`;

/** Links to routes, in a row. */
export function routeLinks(routes: readonly Route[]): readonly Run[] {
  return routes.flatMap(({ id }, at): Run[] => [...(at === 0 ? [] : [', ']), ref(id, routeAnchor(id))]);
}

/** What fills a field of a sent message, for people. */
export type FieldFill =
  | { readonly kind: 'routes'; readonly routes: readonly Route[] }
  | { readonly kind: 'frame'; readonly what: 'counter' | 'checksum' | 'multiplexer' }
  | { readonly kind: 'fill'; readonly raw: number | string }
  | { readonly kind: 'open' };

export function fillOf(sent: SentMessage, signalId: string): FieldFill {
  const { entry, protection, transmit } = sent;
  const signal = entry.message.signals.find(({ id }) => id === signalId);
  if (protection?.counter === signalId) return { kind: 'frame', what: 'counter' };
  if (protection?.checksum === signalId) return { kind: 'frame', what: 'checksum' };
  const routes = sent.routesOfField.get(signalId);
  if (routes) return { kind: 'routes', routes };
  const raw = transmit.fill?.[signalId];
  if (raw !== undefined) return { kind: 'fill', raw };
  if (signal && isFrameField(entry.message, signal)) return { kind: 'frame', what: 'multiplexer' };
  return { kind: 'open' };
}
