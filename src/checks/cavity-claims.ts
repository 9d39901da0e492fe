import { parseRef, type Cavity, type Connector, type Edit, type Pairing, type SideName } from '../model/index.ts';
import { mendBy } from './mends.ts';
import type { Mend } from './rule.ts';

/** Something that the documents put into a cavity. */
export interface CavityClaim {
  /** `side:connector`, or the id of one which the map adds. */
  readonly connector: string;
  readonly cavity: string;
  /** What is there: `host:wire`, `xm.in1`, `xm feed`, `k1 terminal 30`. */
  readonly what: string;
  /** Claims of one net are the same conductor told twice: a feed and the wire of class `feed`. */
  readonly net: string;
  readonly mask: bigint;
  /** Moves it to another cavity of the same connector; null when it is the vehicle's. */
  readonly move: ((cavity: string) => Edit) | null;
}

export interface CavityClaims {
  readonly all: readonly CavityClaim[];
  /** By `connector/cavity`. */
  readonly byPlace: ReadonlyMap<string, readonly CavityClaim[]>;
}

const known = new WeakMap<Pairing, CavityClaims>();

/** Everything that the documents put into cavities; worked out once for a pairing. Linear. */
export function cavityClaims(pairing: Pairing): CavityClaims {
  const cached = known.get(pairing);
  if (cached) return cached;
  const all: CavityClaim[] = [];
  for (const side of ['host', 'donor'] as const) claimsOfPlatform(pairing, side, all);
  claimsOfMap(pairing, all);
  const byPlace = new Map<string, CavityClaim[]>();
  for (const claim of all) {
    const key = `${claim.connector}/${claim.cavity}`;
    const list = byPlace.get(key);
    if (list) list.push(claim);
    else byPlace.set(key, [claim]);
  }
  const claims = { all, byPlace };
  known.set(pairing, claims);
  return claims;
}

/** Classes of wires that only repeat what a feed, a ground or a network says of the same cavity. */
const SUPPLIES: ReadonlySet<string> = new Set(['feed', 'power-ground', 'sensor-return', 'can-high', 'can-low']);

/** Where a network is joined; a line of it in the same cavity is the same conductor, exchanged or not. */
const TAP = 'network tap';

/** Whether two claims are the same conductor told twice. */
export function isSameNet(a: CavityClaim, b: CavityClaim): boolean {
  const line = (net: string): boolean => net === 'can-high' || net === 'can-low';
  return a.net === b.net || (a.net === TAP && line(b.net)) || (b.net === TAP && line(a.net));
}

function claimsOfPlatform(pairing: Pairing, side: SideName, all: CavityClaim[]): void {
  const { platform } = pairing.side(side);
  const add = (at: Cavity | undefined, what: string, net: string, mask: bigint): void => {
    if (at) all.push({ connector: `${side}:${at.connector}`, cavity: at.cavity, what, net, mask, move: null });
  };
  const maskOf = pairing.options.maskOf;
  for (const { id, at, electrical, when } of platform.wires) {
    const ref = `${side}:${id}`;
    add(at, ref, SUPPLIES.has(electrical.class) ? electrical.class : ref, maskOf(when));
  }
  for (const { id, at, when } of platform.feeds) add(at, `${side}:${id}`, 'feed', maskOf(when));
  for (const { id, at, kind, when } of platform.grounds)
    add(at, `${side}:${id}`, kind === 'sensor' ? 'sensor-return' : 'power-ground', maskOf(when));
  for (const { id, tap } of platform.buses) {
    add(tap?.high, `${side}:${id}.high`, TAP, pairing.options.all);
    add(tap?.low, `${side}:${id}.low`, TAP, pairing.options.all);
  }
}

function claimsOfMap(pairing: Pairing, all: CavityClaim[]): void {
  const { map, options } = pairing;
  for (const owner of map.interfaceModules) {
    const mask = options.maskOf(owner.when);
    const path = ['interfaceModules', { id: owner.id }] as const;
    const add = (at: Cavity | undefined, what: string, way: readonly (string | { readonly id: string })[]): void => {
      if (!at) return;
      const move = (to: string): Edit => ({ do: 'set', in: 'map', path: [...path, ...way, 'cavity'], to });
      all.push({ ...at, what, net: what, mask, move });
    };
    for (const { id, at } of owner.pins) add(at, `${owner.id}.${id}`, ['pins', { id }, 'at']);
    for (const { id, at } of owner.ports) {
      add(at?.high, `${owner.id}.${id} high`, ['ports', { id }, 'at', 'high']);
      add(at?.low, `${owner.id}.${id} low`, ['ports', { id }, 'at', 'low']);
    }
    add(owner.feedAt, `${owner.id} feed`, ['feedAt']);
    add(owner.groundAt, `${owner.id} ground`, ['groundAt']);
  }
  for (const { id, at, when } of map.harness?.parts ?? []) {
    for (const [terminal, place] of Object.entries(at ?? {})) {
      const what = `${id} terminal ${terminal}`;
      const path = ['harness', 'parts', { id }, 'at', terminal, 'cavity'];
      const move = (to: string): Edit => ({ do: 'set', in: 'map', path, to });
      all.push({ ...place, what, net: what, mask: options.maskOf(when), move });
    }
  }
}

/** The subject of a finding about a connector. */
export function connectorSubject(ref: string): string {
  return `connector:${ref}`;
}

/** Cavities of a connector into which nothing is put, in the order of the housing. */
export function freeCavities(pairing: Pairing, ref: string, connector: Connector | null): readonly string[] {
  const { byPlace } = cavityClaims(pairing);
  return (connector?.cavities ?? []).filter((cavity) => !byPlace.has(`${ref}/${cavity}`));
}

/** Moves a claim to the first free cavity of its connector; null when it is the vehicle's or none is free. */
export function moveToFree(pairing: Pairing, claim: CavityClaim, connector: Connector | null): Mend | null {
  const free = freeCavities(pairing, claim.connector, connector)[0];
  if (claim.move === null || free === undefined) return null;
  return mendBy(`move ${claim.what} to the free cavity ${free} of ${claim.connector}`, claim.move(free));
}

/** Whether a connector reference is that of a platform. */
export function isPlatformConnector(ref: string): boolean {
  return parseRef(ref) !== null;
}
