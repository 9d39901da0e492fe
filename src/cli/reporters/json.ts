import type { Finding } from '../../checks/index.ts';
import type { CheckedMap } from '../folder/checked-map.ts';

/** A finding as the machine-readable report gives it. */
export function findingJson({ rule, severity, subject, message, why, values, options, mend, waived }: Finding): object {
  return { rule, severity, subject, message, why, values, options, mend, waived };
}

/** The machine-readable report of one map. */
export function checkReport({ id, revision, digest, counts, findings }: CheckedMap): object {
  return { map: id, revision, digest, counts, findings: findings.map(({ finding }) => findingJson(finding)) };
}
