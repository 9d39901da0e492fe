import { parseRef, type Pairing } from '../../../model/index.ts';
import type { PlanIndex } from './plan-index.ts';

/** What the subject that is selected in the window means in the harness. */
export interface Selected {
  readonly kind: 'circuit' | 'circuits' | 'connector' | 'segment' | 'node' | 'splice' | 'nothing';
  /** Keys of the circuits it concerns; of kind `circuit` the one. */
  readonly circuits: readonly string[];
  /** Reference of the connector, id of the segment, node or splice. */
  readonly id: string | null;
  /** The cavity named, of a connector. */
  readonly cavity: string | null;
}

export const NOTHING_SELECTED: Selected = { kind: 'nothing', circuits: [], id: null, cavity: null };

/** Kinds that a subject of the harness begins with. */
export const circuitSubject = (id: string): string => `circuit:${id}`;
export const connectorSubject = (ref: string): string => `connector:${ref}`;
export const segmentSubject = (id: string): string => `segment:${id}`;
export const nodeSubject = (id: string): string => `node:${id}`;
export const spliceSubject = (id: string): string => `splice:${id.replace(/^splice:/, '')}`;

/**
 * Reads a subject, in the form in which findings and the other places name things: the harness's own (`circuit:103`,
 * `connector:host:X1`, `segment:s1`, `node:b1`, `splice:…`, `part:k1`), a route, a wire, a pin or port, an interface module, a
 * feed, ground or bus. A circuit may be named by its number or by its key, a cavity as `connector:host:X1/41` or
 * `cavity:host:X1/41`.
 */
export function selectedBy(index: PlanIndex, pairing: Pairing, subject: string | null): Selected {
  if (subject === null) return NOTHING_SELECTED;
  const colon = subject.indexOf(':');
  const kind = colon < 0 ? '' : subject.slice(0, colon);
  const rest = subject.slice(colon + 1);
  switch (kind) {
    case 'circuit': {
      const found = index.byId.get(rest) ?? index.byAnyKey.get(rest);
      return found ? one(found.conductor.circuit.key) : NOTHING_SELECTED;
    }
    case 'route':
      return several(index.byRoute.get(rest));
    case 'connector':
    case 'cavity':
      return connectorOf(index, rest);
    case 'segment':
      return index.plan.drawing.segments.some(({ id }) => id === rest)
        ? { kind: 'segment', circuits: index.bySegment.get(rest) ?? [], id: rest, cavity: null }
        : NOTHING_SELECTED;
    case 'node':
      return index.plan.drawing.nodes.some(({ id }) => id === rest)
        ? { kind: 'node', circuits: index.byNode.get(rest) ?? [], id: rest, cavity: null }
        : NOTHING_SELECTED;
    case 'splice': {
      const id = [rest, `splice:${rest}`].find((name) => index.splices.has(name));
      return id === undefined
        ? NOTHING_SELECTED
        : { kind: 'splice', circuits: index.bySplice.get(id) ?? [], id, cavity: null };
    }
    case 'part':
      return several(index.byPart.get(rest));
    case 'feed':
      return several(index.byFuse.get(rest));
    case 'ground':
      return several(groundCircuits(index, pairing, rest));
    case 'bus':
      return several(busCircuits(index, pairing, rest));
    case 'host':
    case 'donor':
      return several(wireCircuits(index, pairing, subject));
    case 'module':
    case 'transmit':
    case 'function':
    case 'option':
      return NOTHING_SELECTED;
    default:
      return ownPart(index, subject);
  }
}

function one(key: string): Selected {
  return { kind: 'circuit', circuits: [key], id: null, cavity: null };
}

function several(keys: readonly string[] = []): Selected {
  const circuits = [...new Set(keys)];
  if (circuits.length === 0) return NOTHING_SELECTED;
  return circuits.length === 1 ? one(circuits[0]!) : { kind: 'circuits', circuits, id: null, cavity: null };
}

function connectorOf(index: PlanIndex, rest: string): Selected {
  if (index.pages.has(rest)) {
    return { kind: 'connector', circuits: index.byConnector.get(rest) ?? [], id: rest, cavity: null };
  }
  const cut = rest.lastIndexOf('/');
  const [ref, cavity] = [rest.slice(0, cut), rest.slice(cut + 1)];
  if (cut < 0 || !index.pages.has(ref)) return NOTHING_SELECTED;
  return { kind: 'connector', circuits: index.byCavity.get(rest) ?? [], id: ref, cavity };
}

function groundCircuits(index: PlanIndex, pairing: Pairing, ref: string): readonly string[] {
  const parsed = parseRef(ref);
  const at = parsed ? pairing.side(parsed.side).grounds.get(parsed.name)?.at : undefined;
  const atCavity = at && parsed ? index.byCavity.get(`${parsed.side}:${at.connector}/${at.cavity}`) : undefined;
  return [...(index.byGround.get(ref) ?? []), ...(atCavity ?? [])];
}

function busCircuits(index: PlanIndex, pairing: Pairing, bus: string): readonly string[] {
  return pairing.map.interfaceModules.flatMap((owner) =>
    owner.ports
      .filter((port) => port.bus === bus)
      .flatMap((port) =>
        ['high', 'low'].flatMap((line) => {
          const found = index.byAnyKey.get(`bus:${owner.id}.${port.id}/${line}`);
          return found ? [found.conductor.circuit.key] : [];
        }),
      ),
  );
}

/** Circuits of a wire: those at its cavity, and those of the routes that it is an end of. */
function wireCircuits(index: PlanIndex, pairing: Pairing, ref: string): readonly string[] {
  const endpoint = pairing.find(ref);
  if (endpoint?.kind !== 'wire') return [];
  const { at } = endpoint.wire;
  const atCavity = at ? index.byCavity.get(`${endpoint.side}:${at.connector}/${at.cavity}`) : undefined;
  const routes = [...(pairing.routesTo.get(ref) ?? []), ...(pairing.routesFrom.get(ref) ?? [])];
  return [...(atCavity ?? []), ...routes.flatMap(({ id }) => index.byRoute.get(id) ?? [])];
}

/** A pin or port (`xm.in3`, `xm.A`), an interface module (`xm`) or a part of the harness (`k1`). */
function ownPart(index: PlanIndex, subject: string): Selected {
  const keys = index.plan.conductors.flatMap(({ conductor: { circuit } }) => {
    const names = [circuit.key, ...circuit.otherKeys];
    const isOf = names.some((name) => {
      const bare = name.slice(name.indexOf(':') + 1);
      return bare === subject || bare.startsWith(`${subject}/`) || (circuit.of !== null && circuit.of === subject);
    });
    const isAt = [circuit.from, circuit.to].some((end) => end.kind === 'part' && end.part === subject);
    return isOf || isAt ? [circuit.key] : [];
  });
  return several(keys);
}
