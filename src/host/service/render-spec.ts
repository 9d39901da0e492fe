import { check } from '../../checks/index.ts';
import { comparePairings } from '../../compare/index.ts';
import {
  DocumentFaultError,
  FontError,
  SPEC_IDS,
  UnknownBuildError,
  writeSpec,
  type ExportWatch,
  type RenderedFile,
} from '../../export/index.ts';
import { mapDigest, pair, readMap, readPlatform, type Pairing, type ReadResult } from '../../model/index.ts';
import { UnusableInput, faultLine } from '../files/unusable-input.ts';
import type { SpecRequest } from '../interface/contract.ts';
import { loadPdfFonts } from '../pdf-fonts.ts';

function documentOf<T>(name: string, result: ReadResult<T>): T {
  if (result.ok) return result.document;
  throw new UnusableInput(
    `the ${name} is no valid document`,
    result.faults.map((fault) => faultLine(name, fault)),
  );
}

function pairingOf({ map, host, donor }: Pick<SpecRequest, 'map' | 'host' | 'donor'>, which: string): Pairing {
  return pair(
    documentOf(`${which}map`, readMap(map)),
    documentOf(`${which}host platform`, readPlatform(host)),
    documentOf(`${which}donor platform`, readPlatform(donor)),
  );
}

/**
 * Writes one spec of the pairing that three texts hold, checked as it stands. Throws UnusableInput in words, ExportCancelled when the
 * watch calls it off.
 */
export async function renderSpecRequest(
  request: SpecRequest,
  today: string,
  version: string,
  watch: ExportWatch = {},
): Promise<readonly RenderedFile[]> {
  const spec = SPEC_IDS.find((id) => id === request.spec);
  if (!spec) throw new UnusableInput(`there is no spec "${request.spec}"; there are: ${SPEC_IDS.join(', ')}`);
  const pairing = pairingOf(request, '');
  const { findings } = check(pairing);
  const comparison =
    spec === 'review' && request.base ? comparePairings(pairingOf(request.base, 'earlier '), pairing) : undefined;
  const issue = { today, version, digest: mapDigest(pairing.map), ...(request.build ? { build: request.build } : {}) };
  try {
    const resources = { pdfFonts: loadPdfFonts, watch };
    return await writeSpec(spec, request.format, pairing, findings, issue, resources, comparison);
  } catch (error) {
    if (error instanceof UnknownBuildError || error instanceof DocumentFaultError || error instanceof FontError)
      throw new UnusableInput(error.message);
    throw error;
  }
}
