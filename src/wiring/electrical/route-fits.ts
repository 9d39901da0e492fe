import {
  findPin,
  parseRef,
  pinRef,
  wiredRoutes,
  type Electrical,
  type HarnessPart,
  type InterfaceModule,
  type Pairing,
  type Route,
  type WireEntry,
} from '../../model/index.ts';
import type { Conditioning, ConditioningKind, ElectricalFit } from './fit-types.ts';
import { pairElectrical } from './pair.ts';

/** How one driver of a route meets one receiver on the way. */
export interface RouteFit {
  readonly routeId: string;
  /** `side:wire`, `module.pin`, or the coil or contact of a relay: `k1.coil`, `k1.contact`. */
  readonly from: string;
  readonly to: string;
  /** Both ends as the documents describe them. */
  readonly driver: Electrical;
  readonly receiver: Electrical;
  readonly fit: ElectricalFit;
  /** Conditioning which parts of the harness provide already. */
  readonly provided: readonly ConditioningKind[];
  /** Conditioning which is asked for and which nothing provides. */
  readonly outstanding: readonly Conditioning[];
  readonly mask: bigint;
}

interface End {
  readonly ref: string;
  readonly electrical: Electrical;
}

/** Parts of the harness by id, and by what their terminals are joined to. */
export interface JoinedParts {
  readonly byId: ReadonlyMap<string, HarnessPart>;
  readonly byRef: ReadonlyMap<string, readonly HarnessPart[]>;
}

/** Indexes the parts of a harness once for {@link fitsOfRoute}. */
export function joinedParts(pairing: Pairing): JoinedParts {
  const parts = pairing.map.harness?.parts ?? [];
  return { byId: new Map(parts.map((part) => [part.id, part])), byRef: partsByRef(parts) };
}

/** Every driver on every receiver that the map joins by conductors: hard wires, interface pins, relay coils and contacts. Linear. */
export function electricalFits(pairing: Pairing): readonly RouteFit[] {
  const parts = joinedParts(pairing);
  return pairing.map.routes.flatMap((route) => fitsOfRoute(pairing, route, parts));
}

const NONE: readonly RouteFit[] = [];

/** The fits of one route: a hard wire, or the conductors to and from the pins of an interface module. */
export function fitsOfRoute(pairing: Pairing, route: Route, parts: JoinedParts): readonly RouteFit[] {
  if (route.carrier === 'bus' || !wiredRoutes(pairing).has(route)) return NONE;
  const via = (route.via ?? []).flatMap((id) => parts.byId.get(id) ?? []);
  const mask = pairing.options.maskOf(route.when);
  const judge = (from: End, to: End, through: readonly HarnessPart[]): RouteFit[] =>
    alongParts(pairing, route, from, to, through).map(({ a, b, between }) => {
      const fit = pairElectrical(a.electrical, b.electrical, { sharedReference: sharesReference(a, b) });
      const provided = providedBy([...between, ...(parts.byRef.get(a.ref) ?? []), ...(parts.byRef.get(b.ref) ?? [])]);
      return {
        routeId: route.id,
        from: a.ref,
        to: b.ref,
        driver: a.electrical,
        receiver: b.electrical,
        fit,
        provided,
        outstanding: fit.conditioning.filter(({ kind }) => !provided.includes(kind)),
        mask,
      };
    });
  if (route.carrier === 'interface') {
    const owner = pairing.interfaceModules.get(route.by ?? '');
    return owner ? pinFits(pairing, route, owner, via, judge) : NONE;
  }
  const target = pairing.find(route.to);
  if (target?.kind !== 'wire') return NONE;
  return route.from.flatMap((ref) => {
    const source = pairing.find(ref);
    return source?.kind === 'wire' ? judge(wireOf(source), wireOf(target), via) : [];
  });
}

function wireOf({ ref, wire }: WireEntry): End {
  return { ref, electrical: wire.electrical };
}

function pinFits(
  pairing: Pairing,
  route: Route,
  owner: InterfaceModule,
  via: readonly HarnessPart[],
  judge: (from: End, to: End, through: readonly HarnessPart[]) => RouteFit[],
): RouteFit[] {
  const enters = route.enters ?? [];
  const aligned = enters.length === route.from.length;
  const pinsInOrder = enters.filter((id) => findPin(pairing, owner.id, id) !== null);
  const target = pairing.find(route.to);
  let next = 0;
  const inward = route.from.flatMap((ref, index) => {
    const source = pairing.find(ref);
    if (source?.kind !== 'wire') return [];
    const pin = findPin(pairing, owner.id, (aligned ? enters[index] : pinsInOrder[next]) ?? '');
    next += 1;
    if (!pin) return [];
    const end = { ref: pinRef(owner.id, pin.id), electrical: pin.electrical };
    return judge(wireOf(source), end, target?.kind === 'wire' ? [] : via);
  });
  const leaves = findPin(pairing, owner.id, route.leaves ?? '');
  const outward =
    target?.kind === 'wire' && leaves
      ? judge({ ref: pinRef(owner.id, leaves.id), electrical: leaves.electrical }, wireOf(target), via)
      : [];
  return [...inward, ...outward];
}

interface Meeting {
  readonly a: End;
  readonly b: End;
  readonly between: readonly HarnessPart[];
}

/** Cuts the way at each relay whose coil it drives: driver on coil, then contact on what follows. */
function alongParts(
  pairing: Pairing,
  route: Route,
  from: End,
  to: End,
  through: readonly HarnessPart[],
): readonly Meeting[] {
  const meetings: Meeting[] = [];
  let a = from;
  let between: HarnessPart[] = [];
  let reached = from.ref;
  for (const part of through) {
    if (part.kind === 'relay' && (part.coilBy === reached || part.coilBy === route.id)) {
      meetings.push({ a, b: coilOf(pairing, part), between });
      a = contactOf(pairing, part);
      // What follows the contact has its relay already.
      between = [part];
    } else {
      between.push(part);
    }
    reached = part.id;
  }
  meetings.push({ a, b: to, between });
  return meetings;
}

type Joined = 'feed' | 'ground' | null;

function joinedTo(pairing: Pairing, ref: string | undefined): Joined {
  const parsed = parseRef(ref ?? '');
  if (!parsed) return null;
  const side = pairing.side(parsed.side);
  return side.feeds.has(parsed.name) ? 'feed' : side.grounds.has(parsed.name) ? 'ground' : null;
}

const COIL = ['85', '86', 'coil', 'coil+', 'coil-'] as const;
const COMMON = ['30', 'common'] as const;

/** A relay's coil as a load: its other terminal lies on a feed or on a ground. */
function coilOf(pairing: Pairing, part: HarnessPart): End {
  const ends = COIL.map((terminal) => joinedTo(pairing, part.terminals?.[terminal]));
  const toGround = ends.includes('ground') && !ends.includes('feed');
  const loadA = part.ohm === undefined || part.ohm === 0 ? undefined : (part.volt ?? 12) / part.ohm;
  return {
    ref: `${part.id}.coil`,
    electrical: {
      class: toGround ? 'coil-to-ground' : 'coil-to-battery',
      ...(loadA === undefined ? {} : { loadA }),
      ...(part.suppressed === undefined ? {} : { suppressed: part.suppressed }),
    },
  };
}

/** A relay's contact as a driver: it switches what its common terminal lies on. */
function contactOf(pairing: Pairing, part: HarnessPart): End {
  const common = COMMON.map((terminal) => joinedTo(pairing, part.terminals?.[terminal])).find((end) => end !== null);
  return {
    ref: `${part.id}.contact`,
    electrical: {
      class: common === 'ground' ? 'switched-ground' : 'switched-battery',
      ...(part.ampere === undefined ? {} : { maxA: part.ampere }),
      ...(part.inrushA === undefined ? {} : { inrushA: part.inrushA }),
      ...(part.contact === undefined ? {} : { contact: part.contact }),
    },
  };
}

/** Supply and return run along where both ends say where theirs lie. */
function sharesReference(a: End, b: End): boolean {
  return (
    a.electrical.supplyAt !== undefined &&
    b.electrical.supplyAt !== undefined &&
    (a.electrical.returnAt === undefined) === (b.electrical.returnAt === undefined)
  );
}

function partsByRef(parts: readonly HarnessPart[]): Map<string, HarnessPart[]> {
  const byRef = new Map<string, HarnessPart[]>();
  for (const part of parts) {
    for (const ref of Object.values(part.terminals ?? {})) byRef.set(ref, [...(byRef.get(ref) ?? []), part]);
  }
  return byRef;
}

/** What a part in the way, or beside it, can be: a resistor may pull, bleed, divide or limit. Its value is for its own rule. */
function providedBy(parts: readonly HarnessPart[]): readonly ConditioningKind[] {
  const kinds = new Set<ConditioningKind>();
  for (const { kind } of parts) {
    switch (kind) {
      case 'diode':
        kinds.add('diode').add('suppression');
        break;
      case 'resistor':
        kinds.add('pull-up').add('pull-down').add('divider').add('current-limit').add('suppression');
        break;
      case 'relay':
        kinds.add('relay').add('low-side-driver').add('high-side-driver').add('inverter');
        break;
      case 'fuse':
      case 'in-line-connector':
      case 'terminator':
        break;
    }
  }
  return [...kinds];
}
