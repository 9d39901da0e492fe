import {
  check,
  createContext,
  findingDigest,
  recheck,
  type CheckContext,
  type Finding,
  type Run,
} from '../checks/index.ts';
import { pair, type Pairing, type Platform, type Side } from '../model/index.ts';
import type { Change } from './change.ts';
import { circuitChanges } from './circuit-changes.ts';
import { changedWords, routeConsequences } from './consequences.ts';
import { saysTheSame } from './identity.ts';
import { mapChanges } from './map-changes.ts';
import { platformChanges } from './platform-changes.ts';

export interface Comparison {
  readonly before: Pairing;
  readonly after: Pairing;
  /** Of the map, then of the platforms, then routes which only their surroundings changed, then conductors. */
  readonly changes: readonly Change[];
  readonly needsNew: readonly string[];
  readonly needsGone: readonly string[];
  readonly findingsNew: readonly Finding[];
  readonly findingsGone: readonly Finding[];
  readonly findingsStill: readonly Finding[];
  /** Waivers that answered a finding before and answer none now. */
  readonly waiversLapsed: readonly string[];
}

/**
 * Compares two revisions of a pairing by meaning; order and layout of the files do not count. `runBefore` is a run over the earlier
 * one, for who compares it again and again.
 */
export function comparePairings(before: Pairing, given: Pairing, runBefore: Run = check(before)): Comparison {
  const after = sharingSides(before, given);
  const runAfter = recheck(runBefore, after);
  const [old, now] = [contextOf(runBefore), contextOf(runAfter)];
  const [needsBefore, needsAfter] = [old.derivation.needs, now.derivation.needs];
  const ofMap = mapChanges(before, after).map((change) =>
    change.what === 'route' ? { ...change, consequences: routeConsequences(change, old, now) } : change,
  );
  const ofPlatforms = (['host', 'donor'] as const).flatMap((side) =>
    platformChanges(before[side].platform, after[side].platform, side),
  );
  return {
    before,
    after: given,
    changes: [
      ...ofMap,
      ...ofPlatforms,
      ...touchedRoutes(ofMap, ofPlatforms, old, now),
      ...(ofMap.length + ofPlatforms.length === 0 ? [] : circuitChanges(before, after)),
    ],
    needsNew: [...needsAfter.keys()].filter((ref) => !needsBefore.has(ref)),
    needsGone: [...needsBefore.keys()].filter((ref) => !needsAfter.has(ref)),
    ...compareFindings(runBefore, runAfter),
  };
}

function contextOf({ pairing, memory }: Run): CheckContext {
  return createContext(pairing, memory);
}

/** The later pairing on the earlier one's platforms wherever these say the same: what was worked out about them holds. */
function sharingSides(before: Pairing, after: Pairing): Pairing {
  const shared = (a: Side, b: Side): Side | Platform =>
    a === b || a.platform === b.platform || saysTheSame(a.platform, b.platform) ? a : b;
  const [host, donor] = [shared(before.host, after.host), shared(before.donor, after.donor)];
  return host === after.host && donor === after.donor ? after : pair(after.map, host, donor);
}

/** Routes that read the same in both maps, but behave differently because a platform or a transmit changed. */
function touchedRoutes(
  ofMap: readonly Change[],
  ofPlatforms: readonly Change[],
  before: CheckContext,
  after: CheckContext,
): Change[] {
  const around = [...ofMap, ...ofPlatforms].filter(({ what }) => SURROUNDINGS.has(what));
  if (around.length === 0) return [];
  const changed = new Set(around.map(({ subject }) => subject.replace(/^transmit:/, '')));
  const told = new Set(ofMap.filter(({ what }) => what === 'route').map(({ subject }) => subject));
  const isTouched = (ref: string): boolean => changed.has(ref) || changed.has(ref.replace(/\.[^.:]*$/, ''));
  return after.pairing.map.routes.flatMap((route): Change[] => {
    const was = before.pairing.routes.get(route.id);
    const subject = `route:${route.id}`;
    if (!was || told.has(subject)) return [];
    if (!route.from.some(isTouched) && !isTouched(route.to) && !changed.has(route.by ?? '')) return [];
    const consequences = changedWords(was, route, before, after);
    if (consequences.length === 0) return [];
    return [{ kind: 'changed', what: 'route', subject, was: null, fields: [], consequences }];
  });
}

const SURROUNDINGS: ReadonlySet<string> = new Set(['message', 'signal', 'wire', 'transmit', 'interface module']);

function compareFindings(
  before: Run,
  after: Run,
): Pick<Comparison, 'findingsNew' | 'findingsGone' | 'findingsStill' | 'waiversLapsed'> {
  const open = ({ findings }: Run): readonly Finding[] => findings.filter(({ waived }) => waived === null);
  const [was, is] = [open(before), open(after)];
  // A re-check hands on what it did not ask again: the same object is the same finding, and needs no digest.
  const [known, kept] = [new Set(was), new Set(is)];
  const digests = (list: readonly Finding[]): Set<string> => new Set(list.map(findingDigest));
  const gone = was.filter((finding) => !kept.has(finding));
  const come = is.filter((finding) => !known.has(finding));
  const [goneDigests, comeDigests] = [digests(gone), digests(come)];
  const isNew = (finding: Finding): boolean => !known.has(finding) && !goneDigests.has(findingDigest(finding));
  const waived = ({ findings }: Run): Set<string> =>
    new Set(findings.filter((finding) => finding.waived !== null).map(({ rule, subject }) => `${rule} ${subject}`));
  const still = waived(after);
  return {
    findingsNew: is.filter(isNew),
    findingsGone: gone.filter((finding) => !comeDigests.has(findingDigest(finding))),
    findingsStill: is.filter((finding) => !isNew(finding)),
    waiversLapsed: [...waived(before)].filter((key) => !still.has(key)),
  };
}
