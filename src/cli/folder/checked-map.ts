import { relative } from 'node:path';
import { check, countFindings, findRule, type Finding, type FindingCounts } from '../../checks/index.ts';
import { UnusableInput, loadPairing, readText, type LoadedPairing } from '../../host/index.ts';
import { linesOfPaths, mapDigest, pathOfSubject, type DocumentName } from '../../model/index.ts';
import type { FindingPlace, PlacedFinding } from '../reporters/sarif.ts';

/** One map checked: plain data, so that it can come from another thread. */
export interface CheckedMap {
  /** Relative to where the command runs. */
  readonly file: string;
  readonly id: string;
  readonly title: string;
  readonly revision: string;
  readonly digest: string;
  readonly rules: number;
  readonly counts: FindingCounts;
  readonly findings: readonly PlacedFinding[];
}

/** A map that could not be checked, and why. */
export interface UnusableMap {
  readonly file: string;
  readonly unusable: string;
  readonly faults: readonly string[];
}

/** @throws UnusableInput for an id that is no rule. */
export function mustBeRules(ids: readonly string[]): void {
  for (const id of ids)
    if (!findRule(id)) throw new UnusableInput(`there is no rule "${id}"; crossloom explain lists them`);
}

/** File, line and column of every finding: the three texts are read once. */
async function placesOf(loaded: LoadedPairing, findings: readonly Finding[], cwd: string): Promise<PlacedFinding[]> {
  const documents = { map: loaded.map, host: loaded.pairing.host.platform, donor: loaded.pairing.donor.platform };
  const files: Record<DocumentName, string> = { map: loaded.mapPath, ...loaded.platformPaths };
  const paths = findings.map(({ subject }) => pathOfSubject(documents, subject));
  const places = new Map<Finding, FindingPlace>();
  for (const name of ['map', 'host', 'donor'] as const) {
    const own = findings.filter((_, at) => paths[at]!.document === name);
    if (own.length === 0) continue;
    const lines = linesOfPaths(
      await readText(files[name]),
      paths.filter(({ document }) => document === name).map(({ path }) => path),
    );
    own.forEach((finding, at) =>
      places.set(finding, { file: relative(cwd, files[name]) || files[name], ...lines[at]! }),
    );
  }
  return findings.map((finding) => ({ finding, place: places.get(finding)! }));
}

/** Loads and checks one map. `rules` are ids; only their findings are told, and all when there are none. */
export async function checkMap(path: string, rules: readonly string[], cwd: string): Promise<CheckedMap> {
  const loaded = await loadPairing(path);
  // All rules run even when some are asked for: waivers and records are judged by what the others find.
  const run = check(loaded.pairing);
  const findings = rules.length === 0 ? run.findings : run.findings.filter(({ rule }) => rules.includes(rule));
  const { map } = loaded;
  return {
    file: relative(cwd, path) || path,
    id: map.id,
    title: map.title,
    revision: map.revision,
    digest: mapDigest(map),
    rules: run.rules.length,
    counts: countFindings(findings),
    findings: await placesOf(loaded, findings, cwd),
  };
}

/** The same for one of many maps: one that cannot be used is told, and does not stop the others. */
export async function checkMapOrTell(
  path: string,
  rules: readonly string[],
  cwd: string,
): Promise<CheckedMap | UnusableMap> {
  try {
    return await checkMap(path, rules, cwd);
  } catch (error) {
    if (!(error instanceof UnusableInput)) throw error;
    return { file: relative(cwd, path) || path, unusable: error.message, faults: error.faults };
  }
}
