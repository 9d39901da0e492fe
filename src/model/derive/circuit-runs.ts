import type { Cavity, Conductor } from '../document/common.ts';
import type { Electrical } from '../document/electrical.ts';
import type { HarnessPart, InterfaceModule, Pin, Route } from '../document/map.ts';
import { findPin, type Pairing, type WireEntry } from '../pairing.ts';
import { pinRef } from '../reference.ts';
import { chain } from './circuit-chain.ts';
import { mapCavityEnd, pinEnd, platformCavityEnd, wireEnd } from './circuit-places.ts';
import { documentsOf, plain, type Runs } from './circuit-run.ts';
import type { CircuitEnd, CircuitProblem } from './circuit-types.ts';
import { wiredRoutes } from './wired-routes.ts';

function partsOf(pairing: Pairing, route: Route, problems: CircuitProblem[]): HarnessPart[] {
  if (route.via === undefined) return [];
  const known = new Map((pairing.map.harness?.parts ?? []).map((part) => [part.id, part]));
  return route.via.flatMap((id) => {
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
      const reader: SensorReader = {
        electrical: target.wire.electrical,
        conductor: target.wire.conductor,
        endOf: (at) => platformCavityEnd(target.side, at),
      };
      sensorRuns(pairing, stem, route, source, reader, out);
    });
  }
}

/** What looks at a sensor: a wire of a platform, or a pin of an interface module. */
interface SensorReader {
  readonly electrical: Electrical;
  readonly conductor: Conductor | undefined;
  readonly endOf: (at: Cavity) => CircuitEnd;
}

/** A sensor's supply and return follow its signal when both ends say where they lie. */
function sensorRuns(
  pairing: Pairing,
  stem: string,
  route: Route,
  source: WireEntry,
  reader: SensorReader,
  out: Runs,
): void {
  const lines = [
    { line: 'supply', kind: 'sensor-supply', field: 'supplyAt', class: 'feed' },
    { line: 'return', kind: 'sensor-return', field: 'returnAt', class: 'sensor-return' },
  ] as const;
  for (const { line, kind, field, class: electricalClass } of lines) {
    const at = source.wire.electrical[field];
    const readerAt = reader.electrical[field];
    if (!at || !readerAt) continue;
    const sourceEnd = platformCavityEnd(source.side, at);
    const readerEnd = reader.endOf(readerAt);
    out.runs.push({
      ...plain,
      key: `${stem}/${line}`,
      kind,
      from: line === 'supply' ? readerEnd : sourceEnd,
      to: line === 'supply' ? sourceEnd : readerEnd,
      routes: [route],
      fromElectrical: { class: electricalClass },
      toElectrical: { class: electricalClass },
      platformConductors: [source.wire.conductor, reader.conductor].map(
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
  const wired = wiredRoutes(pairing);
  for (const route of pairing.map.routes) {
    if (route.carrier !== 'interface') continue;
    // A route by networks alone has a conductor, or a fault, only where it names a pin or a part.
    if (!wired.has(route) && route.enters === undefined && route.via === undefined) continue;
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
      const reader: SensorReader = { electrical: pin.electrical, conductor: undefined, endOf: mapCavityEnd };
      sensorRuns(pairing, stem, route, entry, reader, out);
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
