import { SEVERITIES, type Finding, type Severity } from '../../../checks/index.ts';
import type { Pairing } from '../../../model/index.ts';
import { routesConcerned } from '../../state/derived.ts';

export interface RouteFindings {
  readonly severity: Severity;
  readonly count: number;
}

/** The worst open finding of each route: about the route itself, what it writes, or a conductor that carries it. */
export function worstByRoute(pairing: Pairing, findings: readonly Finding[]): ReadonlyMap<string, RouteFindings> {
  const worst = new Map<string, RouteFindings>();
  const enter = (id: string, severity: Severity): void => {
    const known = worst.get(id);
    const milder = known !== undefined && SEVERITIES.indexOf(known.severity) <= SEVERITIES.indexOf(severity);
    worst.set(id, { severity: milder ? known.severity : severity, count: (known?.count ?? 0) + 1 });
  };
  for (const { subject, severity, waived } of findings) {
    if (waived) continue;
    for (const id of routesConcerned(pairing, subject)) enter(id, severity);
  }
  return worst;
}
