import type { Finding } from '../../checks/index.ts';
import { type Combination, type Pairing, holds } from '../../model/index.ts';
import { type FirmwareFile, firmwareOf } from '../../translate/index.ts';
import { type SpecIssue, buildScope, cautionText, markOf, stampOf } from '../record/index.ts';

/** The C source of one interface module. */
export interface FirmwareSources {
  /** Id of the module. */
  readonly module: string;
  /** A folder of its own where several modules are written: letters, digits and underscores. */
  readonly folder: string;
  readonly files: readonly FirmwareFile[];
  /** Routes and messages the source leaves out, with the reason. */
  readonly refused: readonly { readonly what: 'route' | 'transmit'; readonly id: string; readonly why: string }[];
}

export interface FirmwareExport {
  /** The build the source is for. */
  readonly combination: Combination;
  /** How many builds fit what was asked for; the first of them is written. */
  readonly builds: number;
  readonly modules: readonly FirmwareSources[];
}

/**
 * The firmware of every interface module that is there in a build, stamped and marked as the specs are. Firmware is for one build: of
 * those that fit `issue.build` the first is taken. `findings` are those of a run over the same pairing.
 * @throws UnknownBuildError.
 */
export function firmwareSources(
  pairing: Pairing,
  findings: readonly Finding[],
  issue: SpecIssue,
  only?: string,
): FirmwareExport {
  const { mask } = buildScope(pairing, issue.build);
  const fitting = pairing.options.combinations.filter((_, index) => (mask >> BigInt(index)) & 1n);
  const combination: Combination = fitting[0] ?? new Map<string, string>();
  const taken = new Set<string>();
  const modules = pairing.map.interfaceModules
    .filter(({ id, when }) => (only === undefined || id === only) && (when === undefined || holds(when, combination)))
    .map((module): FirmwareSources => {
      const { prefix, files, refused } = firmwareOf(pairing, module, combination, {
        head: headOf(pairing, findings, issue),
      });
      let folder = prefix;
      for (let copy = 2; taken.has(folder); copy += 1) folder = `${prefix}_${copy}`;
      taken.add(folder);
      return { module: module.id, folder, files, refused };
    });
  return { combination, builds: fitting.length, modules };
}

function headOf(pairing: Pairing, findings: readonly Finding[], issue: SpecIssue): string[] {
  const mark = markOf(findings);
  const { revision, digest, date, tool } = stampOf(pairing, issue);
  return [
    ...(mark === null ? [] : [`${mark.text}: ${mark.reason}`]),
    `${pairing.map.title}, revision ${revision}, ${date}, ${tool}. Digest of the map: ${digest}.`,
    cautionText('every export'),
    cautionText('translation spec'),
  ];
}
