import type { Electrical } from '../document/electrical.ts';
import type { HarnessPart, Route } from '../document/map.ts';
import type { Pairing, WireEntry } from '../pairing.ts';
import { parseRef, sideRef } from '../reference.ts';
import { coilCurrentA, coilTerminals, entryTerminal, exitTerminal } from './circuit-parts.ts';
import { partEnd } from './circuit-places.ts';
import { documentsOf, plain, type Run } from './circuit-run.ts';
import type { CircuitEnd, CircuitFuse } from './circuit-types.ts';

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

/** The way from one place to another through harness parts. */
export interface Chain {
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
export function chain(pairing: Pairing, it: Chain): Run[] {
  const hops: { from: CircuitEnd; to: CircuitEnd; fuse: CircuitFuse | null; coil: HarnessPart | null }[] = [];
  let at = it.start;
  let reached = it.startRef;
  let fuse = fuseOf(pairing, it.source);
  for (const part of it.parts) {
    const drivesCoil = part.kind === 'relay' && (part.coilBy === reached || part.coilBy === it.route.id);
    const terminal = drivesCoil ? coilTerminals(part).driven : entryTerminal(part, it.route.id);
    hops.push({ from: at, to: partEnd(part, terminal), fuse, coil: drivesCoil ? part : null });
    at = partEnd(part, exitTerminal(part, it.route.id));
    reached = part.id;
    if (part.kind === 'fuse') fuse = { id: part.id, fuseA: part.fuseA ?? null, place: 'in-line' };
    // Past a coil the current is another: the relay's contact is supplied by what its common terminal is joined to.
    if (drivesCoil) fuse = contactFuse(pairing, part);
  }
  hops.push({ from: at, to: it.stop, fuse, coil: null });
  let mask = pairing.options.maskOf(it.route.when);
  for (const wire of [it.source?.wire, it.target?.wire]) if (wire?.when) mask &= pairing.options.maskOf(wire.when);
  // A hop carries what lies after it, up to the first coil on its way: before a coil flows the coil's current only.
  const lastCoil = hops.findLastIndex(({ coil }) => coil !== null);
  return hops.map(({ from, to, fuse: before }, index) => {
    const coil = hops.slice(index).find((hop) => hop.coil !== null)?.coil;
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
      loadA: coil ? coilCurrentA(coil) : it.loadA,
      inrushA: index > lastCoil ? (it.stopElectrical?.inrushA ?? null) : null,
      mask,
      documents: [
        ...documentsOf(it.source?.side ?? '', it.source?.wire.documents),
        ...documentsOf(it.target?.side ?? '', it.target?.wire.documents),
      ],
      missing,
    };
  });
}
