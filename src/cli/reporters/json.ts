import type { Finding, Run } from '../../checks/index.ts';
import { mapDigest } from '../../model/index.ts';

/** A finding as the machine-readable report gives it. */
export function findingJson({ rule, severity, subject, message, why, values, options, mend, waived }: Finding): object {
  return { rule, severity, subject, message, why, values, options, mend, waived };
}

/** The machine-readable report of one map. */
export function checkReport({ pairing, findings, counts }: Run): object {
  return {
    map: pairing.map.id,
    revision: pairing.map.revision,
    digest: mapDigest(pairing.map),
    counts,
    findings: findings.map(findingJson),
  };
}
