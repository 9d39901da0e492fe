import { type Affine, composeAffine, invertAffine } from '../../number/index.ts';
import type { NumberDomain, StateDomain, ValueDomain } from '../domain/value-domain.ts';
import { affineOf } from '../function/fraction.ts';
import type { Arrival } from './arrival.ts';
import { clipsOf } from './clips.ts';
import { hardWireLevels } from './hard-wire.ts';
import { faultOfMeeting, meet } from './meet.ts';
import { type Report, note, noteUnit } from './report.ts';
import type { RouteAnalysis, StatesMerged, StateWithoutImage } from './route-analysis.ts';
import { saturationsOf } from './saturation.ts';
import { landingOnSpecial, specialOutcomes } from './specials.ts';
import { type Carried, type Track, labelsOf } from './track.ts';
import { worstErrorOf } from './worst-error.ts';

type Delivery = Pick<
  RouteAnalysis,
  | 'delivered'
  | 'chain'
  | 'rawChain'
  | 'clips'
  | 'clippedLow'
  | 'clippedHigh'
  | 'signLost'
  | 'worstError'
  | 'saturates'
  | 'statesWithoutImage'
  | 'statesMerged'
  | 'targetStatesNeverProduced'
  | 'notAvailable'
  | 'landsOnSpecial'
>;

const NOTHING = {
  chain: null,
  rawChain: null,
  clips: [],
  clippedLow: null,
  clippedHigh: null,
  signLost: false,
  worstError: null,
  saturates: [],
  statesWithoutImage: [],
  statesMerged: [],
  targetStatesNeverProduced: [],
  landsOnSpecial: [],
} as const;

/** How what the steps give fits into the target. */
export function deliver(arrival: Arrival): Delivery {
  const { last, target, report } = arrival;
  const delivered = last?.domain ?? null;
  const base: Delivery = { ...NOTHING, delivered, notAvailable: specialOutcomes(arrival) };
  if (last === null || delivered === null || target === null) return base;
  relayedAlike(arrival);
  if (delivered.kind !== target.kind) {
    note(report, {
      kind: 'kind-mismatch',
      at: null,
      needs: target.kind,
      has: delivered.kind,
      message: `the target is a ${target.kind}, but the route delivers a ${delivered.kind}${kindHint(delivered.kind, target.kind)}`,
    });
    return base;
  }
  switch (target.kind) {
    case 'number':
      return { ...base, ...deliverNumber(arrival, last, delivered as NumberDomain, target) };
    case 'state':
      return { ...base, ...deliverState(arrival, last, target) };
    case 'text':
      sameLength('bits', delivered.kind === 'text' ? delivered.lengthBits : 0, target.lengthBits, report);
      return base;
    case 'frame':
      sameLength('bytes', delivered.kind === 'frame' ? delivered.lengthBytes : 0, target.lengthBytes, report);
      return base;
  }
}

function kindHint(has: ValueDomain['kind'], needs: ValueDomain['kind']): string {
  if (has === 'state' && needs === 'number') return '; add a pick step';
  if (has === 'number' && needs === 'state') return '; add a bands step';
  return '';
}

function sameLength(unit: 'bits' | 'bytes', from: number, to: number, report: Report): void {
  if (from === to) return;
  note(report, {
    kind: 'length-differs',
    at: null,
    from,
    to,
    message: `the source has ${from} ${unit}, the target ${to}: what is copied would be cut or padded`,
  });
}

function deliverNumber(
  arrival: Arrival,
  last: Track,
  delivered: NumberDomain,
  target: NumberDomain,
): Partial<Delivery> {
  const { report, sources } = arrival;
  const from = { text: delivered.unitText, unit: delivered.unit };
  const to = { text: target.unitText, unit: target.unit };
  const meeting = meet(from, to);
  const fault = faultOfMeeting(meeting, from, to, null, 'target');
  noteUnit(report, fault);
  const { coding } = target;
  if (coding?.kind === 'integer' && (coding.usable === null || coding.scaling.factor.num === 0n)) {
    note(report, {
      kind: 'target-unusable',
      at: null,
      message:
        coding.usable === null
          ? 'the target has no raw value for its declared range; correct its range, factor or offset'
          : 'the target has a factor of 0: it shows one value whatever is sent',
    });
    return {};
  }
  const source = last.source === null ? null : (sources[last.source] ?? null);
  const chain = chainOf(last);
  // In another unit (a fault above) neither the range nor the rounding can be compared with the target.
  const comparable = meeting.kind === 'same' || (meeting.kind === 'unknown' && meeting.equal);
  if (!comparable) return { chain };
  const clips = clipsOf(last, delivered, source?.kind === 'number' ? source.unitText : null, target);
  const rawChain = rawChainOf(chain, source, target);
  return {
    chain,
    rawChain,
    ...clips,
    signLost: losesSign(delivered, target),
    worstError: worstErrorOf(rawChain, source, target),
    saturates: saturationsOf(arrival.stages, target),
    landsOnSpecial: landingOnSpecial(delivered, target),
  };
}

function chainOf({ reach }: Track): Affine | null {
  return reach !== null && reach.length === 1 ? affineOf(reach[0]!.fraction) : null;
}

function rawChainOf(chain: Affine | null, source: ValueDomain | null, target: NumberDomain): Affine | null {
  if (chain === null || source?.kind !== 'number') return null;
  if (source.coding?.kind !== 'integer' || target.coding?.kind !== 'integer') return null;
  return composeAffine(composeAffine(source.coding.scaling, chain), invertAffine(target.coding.scaling));
}

function losesSign(delivered: NumberDomain, target: NumberDomain): boolean {
  return (
    delivered.interval !== null &&
    target.interval !== null &&
    delivered.interval.lo.num < 0n &&
    target.interval.lo.num >= 0n
  );
}

function deliverState(arrival: Arrival, last: Track, target: StateDomain): Partial<Delivery> {
  const { route, report } = arrival;
  const targets = new Set(labelsOf(target));
  const positional = byLevel(arrival);
  const into = (label: string): string | null =>
    positional !== null ? (positional.get(label) ?? null) : targets.has(label) ? label : null;
  const carried =
    last.carried ??
    labelsOf(last.domain as StateDomain).map((label): Carried => ({
      source: 0,
      origin: null,
      now: { kind: 'state', label },
    }));
  const statesWithoutImage: StateWithoutImage[] = [];
  const origins = new Map<string, string[]>();
  const produced = new Set<string>();
  const missing = new Set<string>();
  for (const { source, origin, now } of carried) {
    if (now.kind === 'lost') {
      if (origin !== null) statesWithoutImage.push({ source, state: origin, at: now.at });
      continue;
    }
    if (now.kind !== 'state') continue;
    const end = into(now.label);
    if (end === null) {
      if (origin !== null) statesWithoutImage.push({ source, state: origin, at: null });
      missing.add(now.label);
      continue;
    }
    produced.add(end);
    if (origin === null) continue;
    const known = origins.get(end);
    const name = route.from.length > 1 ? `${route.from[source]}: ${origin}` : origin;
    if (known) known.push(name);
    else origins.set(end, [name]);
  }
  for (const state of missing) {
    note(report, {
      kind: 'target-lacks-state',
      at: null,
      state,
      message: `the target has no state "${state}" (it has ${[...targets]
        .slice(0, 8)
        .map((label) => `"${label}"`)
        .join(', ')}); map it to one of these with a states step`,
    });
  }
  const statesMerged: StatesMerged[] = [];
  // Over several sources one state of each is expected to meet in one target state: that is what combining means.
  if (last.source !== null) {
    for (const [end, from] of origins) if (from.length > 1) statesMerged.push({ into: end, from });
  }
  return {
    statesWithoutImage,
    statesMerged,
    targetStatesNeverProduced: [...targets].filter((label) => !produced.has(label)),
  };
}

/**
 * On a conductor from end to end the level itself travels: active at one end is active at the other whatever the two platforms
 * call it. Null unless both ends are wires of two levels on a hard wire.
 */
function byLevel({ pairing, route }: Arrival): ReadonlyMap<string, string> | null {
  if (route.carrier !== 'hard-wire' || route.from.length !== 1 || (route.steps?.length ?? 0) > 0) return null;
  return hardWireLevels(pairing.find(route.from[0]!), pairing.find(route.to));
}

/** A frame that is relayed as it is carries raw values: both ends must read the same bits in the same way. */
function relayedAlike({ pairing, route, report }: Arrival): void {
  if (route.carrier !== 'bus' || route.from.length !== 1) return;
  const from = pairing.find(route.from[0]!);
  const to = pairing.find(route.to);
  if (from?.kind !== 'signal' || to?.kind !== 'signal' || from.signal === to.signal) return;
  const differs = (what: 'bits' | 'scaling' | 'states', detail: string): void =>
    note(report, {
      kind: 'relayed-differs',
      at: null,
      what,
      message: `the frame is relayed as it is, but ${detail}: the reader would misread it; carry it through the interface module`,
    });
  const a = from.signal;
  const b = to.signal;
  if (a.bits.start !== b.bits.start || a.bits.length !== b.bits.length || a.bits.order !== b.bits.order) {
    differs('bits', 'the two ends have it in other bits');
  } else if (a.number !== b.number || Number(a.factor) !== Number(b.factor) || Number(a.offset) !== Number(b.offset)) {
    differs(
      'scaling',
      `it is ${a.factor} · raw + ${a.offset} at one end and ${b.factor} · raw + ${b.offset} at the other`,
    );
  } else if (Object.entries(b.states ?? {}).some(([raw, label]) => a.states !== undefined && a.states[raw] !== label)) {
    differs('states', 'one raw value names different states at the two ends');
  }
}
