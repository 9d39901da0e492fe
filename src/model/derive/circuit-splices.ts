import type { Run } from './circuit-run.ts';
import type { CircuitEnd, CircuitProblem } from './circuit-types.ts';

/** A conductor after splicing: one or several runs that share it. */
export interface Drawn {
  readonly key: string;
  readonly run: Run;
  /** Other runs carried by this conductor. */
  readonly shared: readonly Run[];
  readonly from: CircuitEnd;
  readonly to: CircuitEnd;
  readonly mask: bigint;
  /** The stub that joins the shared place to its splice. */
  readonly stub: boolean;
}

export interface DrawnSplice {
  readonly id: string;
  readonly circuits: string[];
  readonly at: CircuitEnd;
  readonly mask: bigint;
}

/**
 * Gives every place one conductor: runs between the same two places become one; runs that meet in one place in the same
 * build are joined in a splice, with one stub to the place they share most. Studs take several terminals and are left alone.
 * Near-linear in the number of runs.
 */
export function splice(runs: readonly Run[]): {
  readonly drawn: readonly Drawn[];
  readonly splices: readonly DrawnSplice[];
  readonly problems: readonly CircuitProblem[];
} {
  const problems: CircuitProblem[] = [];
  const merged = mergeSamePlaces(runs, problems);
  const out: Out = { drawn: [], splices: [], names: new Map() };
  for (const cluster of clusters(merged)) {
    if (cluster.length > 1) reportDrivers(cluster, problems);
    for (const net of netsOf(cluster)) {
      if (net.length === 1) {
        const { run, shared, mask } = net[0]!;
        const key = unique(run.key, out);
        out.drawn.push({ key, run, shared, from: run.from, to: run.to, mask, stub: false });
      } else {
        star(net, out);
      }
    }
  }
  return { drawn: out.drawn, splices: out.splices, problems };
}

interface Out {
  readonly drawn: Drawn[];
  readonly splices: DrawnSplice[];
  /** How often a name was given out: in other builds the same run may be another conductor. */
  readonly names: Map<string, number>;
}

/** A name of its own: `stub:host:C2/14`, then `stub:host:C2/14@2`. */
function unique(name: string, { names }: Out): string {
  const count = (names.get(name) ?? 0) + 1;
  names.set(name, count);
  return count === 1 ? name : `${name}@${count}`;
}

interface Merged {
  readonly run: Run;
  readonly shared: Run[];
  mask: bigint;
}

function mergeSamePlaces(runs: readonly Run[], problems: CircuitProblem[]): Merged[] {
  const known = new Map<string, Merged>();
  const merged: Merged[] = [];
  for (const run of runs) {
    if (run.from.key === run.to.key) {
      problems.push({
        kind: 'same-place',
        subject: run.key,
        message: `starts and ends in ${run.from.key}: no conductor is needed`,
      });
      continue;
    }
    const key = run.from.key < run.to.key ? `${run.from.key}|${run.to.key}` : `${run.to.key}|${run.from.key}`;
    const same = known.get(key);
    if (same) {
      same.shared.push(run);
      same.mask |= run.mask;
    } else {
      const fresh: Merged = { run, shared: [], mask: run.mask };
      known.set(key, fresh);
      merged.push(fresh);
    }
  }
  return merged;
}

function isShared(end: CircuitEnd): boolean {
  return end.kind !== 'stud';
}

/** Sets of runs that meet, in one build, in one place: each set is one electrical net of the added harness. */
function clusters(merged: readonly Merged[]): Merged[][] {
  const parent = merged.map((_, index) => index);
  const find = (index: number): number => {
    let root = index;
    while (parent[root] !== root) root = parent[root]!;
    let at = index;
    while (parent[at] !== root) {
      const next = parent[at]!;
      parent[at] = root;
      at = next;
    }
    return root;
  };
  const atPlace = new Map<string, number[]>();
  merged.forEach(({ run }, index) => {
    for (const end of [run.from, run.to]) {
      if (!isShared(end)) continue;
      const list = atPlace.get(end.key);
      if (list) list.push(index);
      else atPlace.set(end.key, [index]);
    }
  });
  for (const list of atPlace.values()) {
    // Each net of a place is known by the builds it is fitted in; a run joins every net whose builds it shares.
    let nets: { mask: bigint; first: number }[] = [];
    for (const index of list) {
      let mask = merged[index]!.mask;
      let first = index;
      const apart: typeof nets = [];
      for (const net of nets) {
        if ((net.mask & mask) === 0n) {
          apart.push(net);
        } else {
          parent[find(index)] = find(net.first);
          mask |= net.mask;
          first = net.first;
        }
      }
      nets = [...apart, { mask, first }];
    }
  }
  const sets = new Map<number, Merged[]>();
  merged.forEach((run, index) => {
    const root = find(index);
    const set = sets.get(root);
    if (set) set.push(run);
    else sets.set(root, [run]);
  });
  return [...sets.values()];
}

/** Two sources on one net: wanted where contacts stand in parallel, a fault where both drive. The reader of this decides. */
function reportDrivers(cluster: readonly Merged[], problems: CircuitProblem[]): void {
  const drivers = new Map<string, Run>();
  for (const { run } of cluster) {
    if ((run.kind === 'hard-wire' || run.kind === 'pin') && run.fromElectrical) drivers.set(run.from.key, run);
  }
  if (drivers.size < 2) return;
  const [first] = drivers.values();
  problems.push({
    kind: 'drivers-joined',
    subject: first!.routes[0]?.id ?? first!.key,
    message: `${drivers.size} sources are joined on one conductor: ${[...drivers.keys()].join(', ')}`,
  });
}

/**
 * The nets which one cluster makes: itself, when in every build its runs hang together. A run that is missing in some build can
 * leave two nets there which one splice would join; then each set of runs that hangs together in some build is a net of its own.
 */
function netsOf(cluster: readonly Merged[]): readonly (readonly Merged[])[] {
  const classes = buildClasses(cluster);
  if (classes.length === 1) return [cluster];
  const byClass = classes.map((mask) => ({
    mask,
    pieces: piecesOf(cluster.filter((one) => (one.mask & mask) !== 0n)),
  }));
  if (byClass.every(({ pieces }) => pieces.length <= 1)) return [cluster];
  const nets = new Map<string, { readonly runs: readonly Merged[]; mask: bigint }>();
  for (const { mask, pieces } of byClass) {
    for (const piece of pieces) {
      const name = piece.map(({ run }) => run.key).join('\n');
      const known = nets.get(name);
      if (known) known.mask |= mask;
      else nets.set(name, { runs: piece, mask });
    }
  }
  return [...nets.values()].map(({ runs, mask }) => runs.map((one) => ({ ...one, mask: one.mask & mask })));
}

/** Sets of builds in which just the same runs of a cluster are fitted. */
function buildClasses(cluster: readonly Merged[]): readonly bigint[] {
  let classes = [cluster.reduce((all, { mask }) => all | mask, 0n)];
  for (const { mask } of cluster)
    classes = classes.flatMap((one) => [one & mask, one & ~mask].filter((part) => part !== 0n));
  return classes;
}

/** Runs that hang together by the places they share, studs aside. */
function piecesOf(runs: readonly Merged[]): readonly (readonly Merged[])[] {
  const atPlace = new Map<string, Merged[]>();
  for (const merged of runs) {
    for (const end of [merged.run.from, merged.run.to]) {
      if (!isShared(end)) continue;
      const list = atPlace.get(end.key);
      if (list) list.push(merged);
      else atPlace.set(end.key, [merged]);
    }
  }
  const seen = new Set<Merged>();
  return runs.flatMap((first) => {
    if (seen.has(first)) return [];
    const piece = new Set([first]);
    for (const merged of piece) {
      seen.add(merged);
      for (const end of [merged.run.from, merged.run.to])
        if (isShared(end)) for (const next of atPlace.get(end.key)!) piece.add(next);
    }
    return [runs.filter((one) => piece.has(one))];
  });
}

/** One splice a net: a stub to its busiest place, one conductor to each other place. */
function star(cluster: readonly Merged[], out: Out): void {
  const degree = new Map<string, { end: CircuitEnd; runs: Merged[] }>();
  for (const merged of cluster) {
    for (const end of [merged.run.from, merged.run.to]) {
      const known = degree.get(end.key);
      if (known) known.runs.push(merged);
      else degree.set(end.key, { end, runs: [merged] });
    }
  }
  let hub = [...degree.values()][0]!;
  for (const place of degree.values()) {
    if (isShared(place.end) && (place.runs.length > hub.runs.length || !isShared(hub.end))) hub = place;
  }
  const mask = cluster.reduce((all, merged) => all | merged.mask, 0n);
  const id = unique(`splice:${hub.end.key}`, out);
  const joint: CircuitEnd = { kind: 'splice', key: id, splice: id };
  const first = hub.runs[0]!;
  const circuits: string[] = [];
  const outwards = first.run.from.key === hub.end.key;
  const stubKey = unique(`stub:${hub.end.key}`, out);
  out.drawn.push({
    key: stubKey,
    run: first.run,
    shared: cluster.flatMap((merged) => (merged === first ? merged.shared : [merged.run, ...merged.shared])),
    from: outwards ? hub.end : joint,
    to: outwards ? joint : hub.end,
    mask: hub.runs.reduce((all, merged) => all | merged.mask, 0n),
    stub: true,
  });
  circuits.push(stubKey);
  // Outwards from the hub each run claims the place it leads to; a run between two places already reached adds nothing.
  const claims = new Map<string, Merged>();
  const extra = new Map<string, Run[]>();
  const reached = new Set([hub.end.key]);
  const queue = [hub.end.key];
  const done = new Set<Merged>();
  for (let at = 0; at < queue.length; at += 1) {
    for (const merged of degree.get(queue[at]!)!.runs) {
      if (done.has(merged)) continue;
      done.add(merged);
      const { from, to } = merged.run;
      const far = from.key === queue[at] ? to : from;
      if (reached.has(far.key)) {
        extra.set(far.key, [...(extra.get(far.key) ?? []), merged.run, ...merged.shared]);
        continue;
      }
      reached.add(far.key);
      claims.set(far.key, merged);
      if (isShared(far)) queue.push(far.key);
    }
  }
  for (const [key, merged] of claims) {
    const far = degree.get(key)!.end;
    const towards = merged.run.to.key === key;
    const runKey = unique(merged.run.key, out);
    circuits.push(runKey);
    out.drawn.push({
      key: runKey,
      run: merged.run,
      shared: [...merged.shared, ...(extra.get(key) ?? [])],
      from: towards ? joint : far,
      to: towards ? far : joint,
      mask: degree.get(key)!.runs.reduce((all, one) => all | one.mask, 0n),
      stub: false,
    });
  }
  out.splices.push({ id, circuits, at: hub.end, mask });
}
