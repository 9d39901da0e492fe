import type { ElectricalClass } from '../document/electrical.ts';
import type { HarnessPart, InterfaceModule, Port } from '../document/map.ts';
import type { Bus } from '../document/platform.ts';
import type { Pairing } from '../pairing.ts';
import { parseRef, type SideName } from '../reference.ts';
import { joinKey, routeJoins } from './bus-joins.ts';
import { coilCurrentA, coilTerminals } from './circuit-parts.ts';
import {
  feedEnd,
  groundEnd,
  mapCavityEnd,
  namedEnd,
  namedPin,
  partEnd,
  platformCavityEnd,
  unknownEnd,
} from './circuit-places.ts';
import { documentsOf, plain, type Run, type Runs } from './circuit-run.ts';
import type { CircuitEnd } from './circuit-types.ts';

function lookUp<T>(ref: string | undefined, of: (side: SideName, id: string) => T | undefined): T | null {
  const parsed = ref === undefined ? null : parseRef(ref);
  return parsed && parsed.signal === null ? (of(parsed.side, parsed.name) ?? null) : null;
}

function places(...ends: readonly CircuitEnd[]): string[] {
  return ends.flatMap((end) => (end.kind === 'unknown' ? [`the connector and cavity of ${end.of}`] : []));
}

/** Feed and ground of every interface module. */
export function supplyRuns(pairing: Pairing, out: Runs): void {
  for (const owner of pairing.interfaceModules.values()) {
    feedRun(pairing, owner, out);
    groundRun(pairing, owner, out);
  }
}

function feedRun(pairing: Pairing, owner: InterfaceModule, out: Runs): void {
  const feed = lookUp(owner.feed, (side, id) => pairing.side(side).feeds.get(id));
  if (owner.feed === undefined || !feed) {
    out.problems.push(
      owner.feed === undefined
        ? { kind: 'without-feed', subject: owner.id, message: 'no feed is named for it' }
        : { kind: 'unknown-feed', subject: owner.id, message: `its feed ${owner.feed} is not in either platform` },
    );
    return;
  }
  const from = feedEnd(pairing, owner.feed)!;
  const to = owner.feedAt ? mapCavityEnd(owner.feedAt) : unknownEnd(`${owner.id}.feed`);
  out.runs.push({
    ...plain,
    key: `feed:${owner.id}`,
    kind: 'feed',
    from,
    to,
    fromElectrical: { class: 'feed' },
    toElectrical: { class: 'feed', ...(owner.maxA === undefined ? {} : { loadA: owner.maxA }) },
    platformConductors: [feed.conductor],
    fuse: { id: owner.feed, fuseA: feed.fuseA, place: 'feed' },
    of: owner.id,
    loadA: owner.maxA ?? null,
    mask: pairing.options.maskOf(owner.when) & pairing.options.maskOf(feed.when),
    documents: documentsOf(sideOf(owner.feed), feed.documents),
    missing: [
      ...places(from, to),
      ...(owner.maxA === undefined ? [`the greatest current of ${owner.id}`] : []),
      ...(feed.fuseA === null ? [`the fuse of ${owner.feed}`] : []),
    ],
  });
}

function groundRun(pairing: Pairing, owner: InterfaceModule, out: Runs): void {
  const ground = lookUp(owner.ground, (side, id) => pairing.side(side).grounds.get(id));
  if (owner.ground === undefined || !ground) {
    out.problems.push(
      owner.ground === undefined
        ? { kind: 'without-ground', subject: owner.id, message: 'no ground is named for it' }
        : {
            kind: 'unknown-ground',
            subject: owner.id,
            message: `its ground ${owner.ground} is not in either platform`,
          },
    );
    return;
  }
  const from = owner.groundAt ? mapCavityEnd(owner.groundAt) : unknownEnd(`${owner.id}.ground`);
  const to = groundEnd(pairing, owner.ground)!;
  out.runs.push({
    ...plain,
    key: `ground:${owner.id}`,
    kind: 'ground',
    from,
    to,
    fromElectrical: { class: 'power-ground' },
    toElectrical: { class: ground.kind === 'sensor' ? 'sensor-return' : 'power-ground' },
    platformConductors: [ground.conductor],
    of: owner.id,
    loadA: owner.maxA ?? null,
    mask: pairing.options.maskOf(owner.when) & pairing.options.maskOf(ground.when),
    documents: documentsOf(sideOf(owner.ground), ground.documents),
    missing: [...places(from, to), ...(owner.maxA === undefined ? [`the greatest current of ${owner.id}`] : [])],
  });
}

function sideOf(ref: string): string {
  return ref.slice(0, ref.indexOf(':'));
}

const LINES = ['high', 'low'] as const;

/** A tap splices onto the pair when the module at it is retained and keeps its own conductors there. */
function tapEnd(pairing: Pairing, side: SideName, bus: Bus, line: 'high' | 'low'): CircuitEnd {
  if (!bus.tap) return unknownEnd(`${side}:${bus.id}.${line}`);
  const keeps = bus.tap.module !== undefined && pairing.fateOf(side, bus.tap.module) === 'retained';
  return platformCavityEnd(side, bus.tap[line], keeps ? 'tap' : 'terminal');
}

/** Bus connections: each port's twisted pair, and pairs which join two buses that a route shares without a module between. */
export function busRuns(pairing: Pairing, out: Runs): void {
  for (const owner of pairing.interfaceModules.values()) {
    for (const port of owner.ports) portRuns(pairing, owner, port, out);
  }
  for (const { a, b, routes, mask } of routeJoins(pairing)) {
    const key = joinKey(a.ref, b.ref);
    for (const line of LINES) {
      const from = tapEnd(pairing, a.side, a.bus, line);
      const to = tapEnd(pairing, b.side, b.bus, line);
      const electrical = { class: `can-${line}` as ElectricalClass };
      out.runs.push({
        ...plain,
        key: `join:${key}/${line}`,
        kind: 'bus',
        from,
        to,
        routes,
        fromElectrical: electrical,
        toElectrical: electrical,
        twistGroup: `join:${key}`,
        mask,
        documents: [...documentsOf(a.side, a.bus.documents), ...documentsOf(b.side, b.bus.documents)],
        missing: places(from, to),
      });
    }
  }
}

function portRuns(pairing: Pairing, owner: InterfaceModule, port: Port, out: Runs): void {
  const ref = `${owner.id}.${port.id}`;
  const parsed = parseRef(port.bus);
  const bus = parsed ? pairing.side(parsed.side).buses.get(parsed.name) : undefined;
  if (!parsed || !bus) {
    out.problems.push({ kind: 'unknown-bus', subject: ref, message: `its bus ${port.bus} is not in either platform` });
    return;
  }
  if (!bus.tap) {
    out.problems.push({
      kind: 'bus-without-tap',
      subject: port.bus,
      message: `no cavities are given where ${ref} joins it`,
    });
  }
  if (!port.at) {
    out.problems.push({ kind: 'port-without-cavities', subject: ref, message: 'no cavities are given for its pair' });
  }
  for (const line of LINES) {
    const from = tapEnd(pairing, parsed.side, bus, line);
    const to = port.at ? mapCavityEnd(port.at[line]) : unknownEnd(`${ref}.${line}`);
    const electrical = { class: `can-${line}` as ElectricalClass };
    out.runs.push({
      ...plain,
      key: `bus:${ref}/${line}`,
      kind: 'bus',
      from,
      to,
      fromElectrical: electrical,
      toElectrical: electrical,
      twistGroup: `bus:${ref}`,
      of: ref,
      mask: pairing.options.maskOf(owner.when),
      documents: documentsOf(parsed.side, bus.documents),
      missing: places(from, to),
    });
  }
}

/** Coil drives (`coilBy`) and every terminal which a part joins by itself. */
export function partRuns(pairing: Pairing, out: Runs): void {
  for (const part of pairing.map.harness?.parts ?? []) {
    if (part.coilBy !== undefined) coilRun(pairing, part, part.coilBy, out);
    for (const [terminal, ref] of Object.entries(part.terminals ?? {})) {
      const named = namedEnd(pairing, ref);
      if (!named) {
        out.problems.push({
          kind: 'terminal-joined-to-nothing',
          subject: part.id,
          message: `terminal ${terminal} is joined to ${ref}, which is no wire, feed, ground, bus line or pin`,
        });
        continue;
      }
      out.runs.push(partRun(pairing, part, terminal, ref, named, out.runs));
    }
    if (part.kind === 'relay' && part.coilBy !== undefined) {
      const { other } = coilTerminals(part);
      if (part.terminals?.[other] === undefined)
        out.problems.push({
          kind: 'terminal-joined-to-nothing',
          subject: part.id,
          message: `nothing says which feed or ground the coil's other terminal ${other} goes to`,
        });
    }
  }
}

type Named = NonNullable<ReturnType<typeof namedEnd>>;

/** What flows into a part by a terminal: its coil's current at a coil terminal, else what leaves it by its other terminals. */
function partLoadA(part: HarnessPart, terminal: string, runs: readonly Run[]): number | null {
  const { driven, other } = coilTerminals(part);
  if (part.kind === 'relay' && (terminal === driven || terminal === other)) return coilCurrentA(part);
  const loads = runs.flatMap((run) =>
    run.from.kind === 'part' && run.from.part === part.id && run.loadA !== null ? [run.loadA] : [],
  );
  return loads.length === 0 ? null : loads.reduce((sum, ampere) => sum + ampere, 0);
}

function classOfNamed({ what }: Named, ref: string): ElectricalClass | null {
  if (what === 'feed') return 'feed';
  if (what === 'ground') return 'power-ground';
  return what === 'bus' ? (ref.endsWith('.high') ? 'can-high' : 'can-low') : null;
}

function partRun(
  pairing: Pairing,
  part: HarnessPart,
  terminal: string,
  ref: string,
  named: Named,
  runs: readonly Run[],
): Run {
  const own = partEnd(part, terminal);
  const towards = named.what === 'ground';
  const feed = named.what === 'feed' ? lookUp(ref, (side, id) => pairing.side(side).feeds.get(id)) : null;
  const namedClass = classOfNamed(named, ref);
  const electrical = namedClass ? { class: namedClass } : null;
  const loadA = partLoadA(part, terminal, runs);
  const lacking =
    named.what === 'feed' && loadA === null ? [`the current of ${part.id} by its terminal ${terminal}`] : [];
  return {
    ...plain,
    key: `part:${part.id}.${terminal}`,
    kind: 'part',
    from: towards ? own : named.end,
    to: towards ? named.end : own,
    fromElectrical: towards ? null : electrical,
    toElectrical: towards ? electrical : null,
    fuse: feed ? { id: ref, fuseA: feed.fuseA, place: 'feed' } : null,
    twistGroup: named.what === 'bus' ? `part:${part.id}` : null,
    of: part.id,
    loadA,
    mask: pairing.options.maskOf(part.when),
    missing: [...places(named.end), ...lacking],
  };
}

function coilRun(pairing: Pairing, part: HarnessPart, by: string, out: Runs): void {
  const own = partEnd(part, coilTerminals(part).driven);
  // A route named here drives the coil on its own way: its hop into the part is the conductor.
  if (pairing.routes.has(by)) return;
  const named = namedEnd(pairing, by);
  if (!named) {
    out.problems.push({
      kind: 'terminal-joined-to-nothing',
      subject: part.id,
      message: `its coil is driven by ${by}, which is no wire, feed, ground, pin or route`,
    });
    return;
  }
  const pin = namedPin(pairing, by);
  const wire = pairing.find(by);
  const electrical = pin?.pin.electrical ?? (wire?.kind === 'wire' ? wire.wire.electrical : null);
  out.runs.push({
    ...plain,
    key: `coil:${part.id}`,
    kind: 'coil',
    from: named.end,
    to: own,
    fromElectrical: electrical,
    loadA: coilCurrentA(part),
    of: part.id,
    mask: pairing.options.maskOf(part.when),
    missing: places(named.end),
  });
}
