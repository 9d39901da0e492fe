import type { Finding } from '../../../checks/index.ts';
import type { Pairing } from '../../../model/index.ts';
import type { PlanIndex } from './plan-index.ts';
import { selectedBy, type Selected } from './selected.ts';

/** Open findings by what they concern in the harness, worst first. */
export interface FindingsInPlace {
  /** By key of the circuit. */
  readonly circuits: ReadonlyMap<string, readonly Finding[]>;
  readonly connectors: ReadonlyMap<string, readonly Finding[]>;
  readonly segments: ReadonlyMap<string, readonly Finding[]>;
  readonly nodes: ReadonlyMap<string, readonly Finding[]>;
  readonly splices: ReadonlyMap<string, readonly Finding[]>;
  /** How many findings concern anything of the harness. */
  readonly count: number;
}

/** Sorts the open findings by place, whichever rule they are of: by their subject alone. */
export function findingsInPlace(index: PlanIndex, pairing: Pairing, findings: readonly Finding[]): FindingsInPlace {
  const places = {
    circuits: new Map<string, Finding[]>(),
    connectors: new Map<string, Finding[]>(),
    segments: new Map<string, Finding[]>(),
    nodes: new Map<string, Finding[]>(),
    splices: new Map<string, Finding[]>(),
  };
  const enter = (place: Map<string, Finding[]>, name: string, finding: Finding): void => {
    const list = place.get(name);
    if (list) list.push(finding);
    else place.set(name, [finding]);
  };
  const read = new Map<string, Selected>();
  let count = 0;
  for (const finding of findings) {
    if (finding.waived !== null) continue;
    const { subject } = finding;
    const means = read.get(subject) ?? selectedBy(index, pairing, subject);
    read.set(subject, means);
    if (means.kind === 'nothing') continue;
    count += 1;
    switch (means.kind) {
      case 'circuit':
      case 'circuits':
        for (const key of means.circuits) enter(places.circuits, key, finding);
        break;
      case 'connector':
        enter(places.connectors, means.id!, finding);
        if (means.cavity !== null) for (const key of means.circuits) enter(places.circuits, key, finding);
        break;
      case 'segment':
        enter(places.segments, means.id!, finding);
        break;
      case 'node':
        enter(places.nodes, means.id!, finding);
        break;
      case 'splice':
        enter(places.splices, means.id!, finding);
        break;
    }
  }
  return { ...places, count };
}
