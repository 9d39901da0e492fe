import type { Conductor } from '../document/common.ts';
import type { Electrical } from '../document/electrical.ts';
import type { HarnessPart, InterfaceModule, Pin, Route } from '../document/map.ts';
import { findPin, type Pairing, type WireEntry } from '../pairing.ts';
import { parseRef, pinRef, sideRef } from '../reference.ts';
import { coilTerminals, entryTerminal, exitTerminal } from './circuit-parts.ts';
import { partEnd, pinEnd, platformCavityEnd, wireEnd } from './circuit-places.ts';
import type { CircuitEnd, CircuitFuse, CircuitKind, CircuitProblem } from './circuit-types.ts';

/** A conductor wanted between two places, before places that are shared get a splice. */
export interface Run {
  readonly key: string;
  readonly kind: CircuitKind;
  readonly from: CircuitEnd;
  readonly to: CircuitEnd;
  readonly routes: readonly Route[];
  readonly fromElectrical: Electrical | null;
  readonly toElectrical: Electrical | null;
  /** Conductors of the platforms that it carries on, source first: their size, colour and insulation are the default. */
  readonly platformConductors: readonly (Conductor | undefined)[];
  readonly twistGroup: string | null;
  readonly fuse: CircuitFuse | null;
  readonly of: string | null;
  readonly loadA: number | null;
  readonly inrushA: number | null;
  readonly mask: bigint;
  readonly documents: readonly string[];
  readonly missing: readonly string[];
}

export interface Runs {
  readonly runs: Run[];
  readonly problems: CircuitProblem[];
}

/** Fields of a run that most runs leave empty. */
export const plain = {
  routes: [],
  fromElectrical: null,
  toElectrical: null,
  platformConductors: [],
  twistGroup: null,
  fuse: null,
  of: null,
  loadA: null,
  inrushA: null,
  documents: [],
  missing: [],
} as const;

export function documentsOf(side: string, documents: readonly string[] | undefined): string[] {
  return (documents ?? []).map((id) => `${side}:${id}`);
}

function partsOf(pairing: Pairing, route: Route, problems: CircuitProblem[]): HarnessPart[] {
  const known = new Map((pairing.map.harness?.parts ?? []).map((part) => [part.id, part]));
  return (route.via ?? []).flatMap((id) => {
    const part = known.get(id);
    if (part) return [part];
    problems.push({
      kind: 'unknown-part',
      subject: route.id,
      message: `goes via "${id}", which is no part of the harness`,
    });
    return [];
  });
}

function missingPlace(end: CircuitEnd, missing: string[]): void {
  if (end.kind === 'unknown') missing.push(`the connector and cavity of ${end.of}`);
}

/** The fuse that stands before whatever drives a wire: the feed which the platform says supplies it. */
function fuseOf(pairing: Pairing, entry: WireEntry | null): CircuitFuse | null {
  if (!entry?.wire.feed) return null;
  const feed = pairing.side(entry.side).feeds.get(entry.wire.feed);
  return feed ? { id: sideRef(entry.side, feed.id), fuseA: feed.fuseA, place: 'feed' } : null;
}

function contactFuse(pairing: Pairing, part: HarnessPart): CircuitFuse | null {
  const ref = parseRef(part.terminals?.[entryTerminal(part, '')] ?? '');
  const feed = ref && pairing.side(ref.side).feeds.get(ref.name);
  return ref && feed ? { id: sideRef(ref.side, feed.id), fuseA: feed.fuseA, place: 'feed' } : null;
}

interface Chain {
  readonly keyOf: (hop: number, hops: number) => string;
  readonly kind: 'hard-wire' | 'pin';
  readonly route: Route;
  readonly start: CircuitEnd;
  readonly stop: CircuitEnd;
  readonly startElectrical: Electrical | null;
  readonly stopElectrical: Electrical | null;
  readonly source: WireEntry | null;
  readonly target: WireEntry | null;
  /** What `coilBy` of a relay would name if this chain drives its coil. */
  readonly startRef: string;
  readonly parts: readonly HarnessPart[];
  readonly of: string | null;
  readonly loadA: number | null;
}

/** One conductor a hop: start → first part, part → part, last part → stop. */
function chain(pairing: Pairing, it: Chain): Run[] {
  const hops: { from: CircuitEnd; to: CircuitEnd; fuse: CircuitFuse | null }[] = [];
  let at = it.start;
  let reached = it.startRef;
  let fuse = fuseOf(pairing, it.source);
  for (const part of it.parts) {
    const drivesCoil = part.kind === 'relay' && (part.coilBy === reached || part.coilBy === it.route.id);
    const terminal = drivesCoil ? coilTerminals(part).driven : entryTerminal(part, it.route.id);
    hops.push({ from: at, to: partEnd(part, terminal), fuse });
    at = partEnd(part, exitTerminal(part, it.route.id));
    reached = part.id;
    if (part.kind === 'fuse') fuse = { id: part.id, fuseA: part.fuseA ?? null, place: 'in-line' };
    // Past a coil the current is another: the relay's contact is supplied by what its common terminal is joined to.
    if (drivesCoil) fuse = contactFuse(pairing, part);
  }
  hops.push({ from: at, to: it.stop, fuse });
  let mask = pairing.options.maskOf(it.route.when);
  for (const wire of [it.source?.wire, it.target?.wire]) if (wire?.when) mask &= pairing.options.maskOf(wire.when);
  return hops.map(({ from, to, fuse: before }, index) => {
    const missing: string[] = [];
    missingPlace(from, missing);
    missingPlace(to, missing);
    const first = index === 0;
    const last = index === hops.length - 1;
    return {
      ...plain,
      key: it.keyOf(index + 1, hops.length),
      kind: it.kind,
      from,
      to,
      routes: [it.route],
      fromElectrical: first ? it.startElectrical : null,
      toElectrical: last ? it.stopElectrical : null,
      platformConductors: [it.source?.wire.conductor, it.target?.wire.conductor],
      fuse: before,
      of: it.of,
      loadA: it.loadA,
      inrushA: last ? (it.stopElectrical?.inrushA ?? null) : null,
      mask,
      documents: [
        ...documentsOf(it.source?.side ?? '', it.source?.wire.documents),
        ...documentsOf(it.target?.side ?? '', it.target?.wire.documents),
      ],
      missing,
    };
  });
}

/** Hard-wire routes: from each source wire's cavity, through the parts, to the target wire's cavity. */
export function hardWireRuns(pairing: Pairing, out: Runs): void {
  for (const route of pairing.map.routes) {
    if (route.carrier !== 'hard-wire') continue;
    const target = pairing.find(route.to);
    if (target?.kind !== 'wire') {
      out.problems.push({
        kind: 'not-a-wire',
        subject: route.id,
        message: `${route.to} is not a wire of either platform`,
      });
      continue;
    }
    const parts = partsOf(pairing, route, out.problems);
    route.from.forEach((ref, index) => {
      const source = pairing.find(ref);
      if (source?.kind !== 'wire') {
        out.problems.push({
          kind: 'not-a-wire',
          subject: route.id,
          message: `${ref} is not a wire of either platform`,
        });
        return;
      }
      const stem = index === 0 ? `route:${route.id}` : `route:${route.id}/from-${index + 1}`;
      out.runs.push(
        ...chain(pairing, {
          keyOf: (hop) => `${stem}/${hop}`,
          kind: 'hard-wire',
          route,
          start: wireEnd(pairing, source.side, source.wire),
          stop: wireEnd(pairing, target.side, target.wire),
          startElectrical: source.wire.electrical,
          stopElectrical: target.wire.electrical,
          source,
          target,
          startRef: ref,
          parts: index === 0 ? parts : parts.slice(0, 1),
          of: null,
          loadA: target.wire.electrical.loadA ?? null,
        }),
      );
      sensorRuns(pairing, stem, route, source, target, out);
    });
  }
}

/** A sensor's supply and return follow its signal when both ends say where they lie. */
function sensorRuns(
  pairing: Pairing,
  stem: string,
  route: Route,
  source: WireEntry,
  target: WireEntry,
  out: Runs,
): void {
  const lines = [
    { line: 'supply', kind: 'sensor-supply', field: 'supplyAt', class: 'feed' },
    { line: 'return', kind: 'sensor-return', field: 'returnAt', class: 'sensor-return' },
  ] as const;
  for (const { line, kind, field, class: electricalClass } of lines) {
    const at = source.wire.electrical[field];
    const readerAt = target.wire.electrical[field];
    if (!at || !readerAt) continue;
    const sourceEnd = platformCavityEnd(source.side, at);
    const targetEnd = platformCavityEnd(target.side, readerAt);
    out.runs.push({
      ...plain,
      key: `${stem}/${line}`,
      kind,
      from: line === 'supply' ? targetEnd : sourceEnd,
      to: line === 'supply' ? sourceEnd : targetEnd,
      routes: [route],
      fromElectrical: { class: electricalClass },
      toElectrical: { class: electricalClass },
      platformConductors: [source.wire.conductor, target.wire.conductor].map(
        (conductor) => conductor && { ...conductor, colour: undefined },
      ),
      mask: pairing.options.maskOf(route.when),
      documents: documentsOf(source.side, source.wire.documents),
    });
  }
}

/** Interface pins which routes use: platform wire → input pin, output pin → (parts) → platform wire. */
export function pinRuns(pairing: Pairing, out: Runs): void {
  const wiresOfPin = new Map<string, string[]>();
  const stemOf = (pin: string, wireRef: string): string => {
    const known = wiresOfPin.get(pin) ?? [];
    if (!known.includes(wireRef)) wiresOfPin.set(pin, [...known, wireRef]);
    return known.length === 0 || known[0] === wireRef ? `pin:${pin}` : `pin:${pin}/${wireRef}`;
  };
  for (const route of pairing.map.routes) {
    if (route.carrier !== 'interface') continue;
    const owner = pairing.interfaceModules.get(route.by ?? '');
    if (!owner) continue;
    const target = pairing.find(route.to);
    const parts = partsOf(pairing, route, out.problems);
    for (const { entry, pin } of enteringPins(pairing, route, owner, out.problems)) {
      const ref = pinRef(owner.id, pin.id);
      const stem = stemOf(ref, entry.ref);
      out.runs.push(
        ...chain(pairing, {
          keyOf: (hop, hops) => (hops === 1 ? stem : `${stem}/${hop}`),
          kind: 'pin',
          route,
          start: wireEnd(pairing, entry.side, entry.wire),
          stop: pinEnd(pin),
          startElectrical: entry.wire.electrical,
          stopElectrical: pin.electrical,
          source: entry,
          target: null,
          startRef: entry.ref,
          parts: target?.kind === 'wire' ? [] : parts,
          of: owner.id,
          loadA: pin.electrical.loadA ?? null,
        }),
      );
    }
    if (target?.kind !== 'wire') continue;
    const pin = route.leaves === undefined ? null : findPin(pairing, owner.id, route.leaves);
    if (!pin) {
      const named =
        route.leaves === undefined ? 'no pin is named that it leaves by' : `${owner.id} has no pin "${route.leaves}"`;
      out.problems.push({
        kind: route.leaves === undefined ? 'wire-without-pin' : 'unknown-pin',
        subject: route.id,
        message: `ends in the wire ${route.to}, but ${named}`,
      });
      continue;
    }
    const ref = pinRef(owner.id, pin.id);
    const stem = stemOf(ref, target.ref);
    out.runs.push(
      ...chain(pairing, {
        keyOf: (hop, hops) => (hops === 1 ? stem : `${stem}/${hop}`),
        kind: 'pin',
        route,
        start: pinEnd(pin),
        stop: wireEnd(pairing, target.side, target.wire),
        startElectrical: pin.electrical,
        stopElectrical: target.wire.electrical,
        source: null,
        target,
        startRef: ref,
        parts,
        of: owner.id,
        loadA: target.wire.electrical.loadA ?? null,
      }),
    );
  }
}

/**
 * Pairs the wires of a route's sources with the pins it enters by: place by place when both lists are of one length, else
 * the pins in the order of the wires (ports of network sources left aside).
 */
function enteringPins(
  pairing: Pairing,
  route: Route,
  owner: InterfaceModule,
  problems: CircuitProblem[],
): { readonly entry: WireEntry; readonly pin: Pin }[] {
  const enters = route.enters ?? [];
  const ports = new Set(owner.ports.map(({ id }) => id));
  for (const id of enters) {
    if (!ports.has(id) && !findPin(pairing, owner.id, id))
      problems.push({
        kind: 'unknown-pin',
        subject: route.id,
        message: `enters by "${id}", which ${owner.id} does not have`,
      });
  }
  const aligned = enters.length === route.from.length;
  const pinsInOrder = enters.filter((id) => findPin(pairing, owner.id, id) !== null);
  let next = 0;
  return route.from.flatMap((ref, index) => {
    const entry = pairing.find(ref);
    if (entry?.kind !== 'wire') return [];
    const pinId = aligned ? enters[index] : pinsInOrder[next];
    next += 1;
    const pin = pinId === undefined ? null : findPin(pairing, owner.id, pinId);
    if (pin) return [{ entry, pin }];
    problems.push({
      kind: 'wire-without-pin',
      subject: route.id,
      message: `no pin is named that the wire ${ref} enters by`,
    });
    return [];
  });
}
