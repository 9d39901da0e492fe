import { SEVERITIES, type Finding, type Severity } from '../../../checks/index.ts';
import type { Pairing } from '../../../model/index.ts';

export interface RouteFindings {
  readonly severity: Severity;
  readonly count: number;
}

/** The worst open finding of each route: about the route itself or what it writes. */
export function worstByRoute(pairing: Pairing, findings: readonly Finding[]): ReadonlyMap<string, RouteFindings> {
  const worst = new Map<string, RouteFindings>();
  const enter = (id: string, severity: Severity): void => {
    const known = worst.get(id);
    const milder = known !== undefined && SEVERITIES.indexOf(known.severity) <= SEVERITIES.indexOf(severity);
    worst.set(id, { severity: milder ? known.severity : severity, count: (known?.count ?? 0) + 1 });
  };
  for (const { subject, severity, waived } of findings) {
    if (waived) continue;
    if (subject.startsWith('route:')) enter(subject.slice('route:'.length), severity);
    else for (const { id } of pairing.routesTo.get(subject) ?? []) enter(id, severity);
  }
  return worst;
}
