import type { StageFault, UnitFault } from './faults.ts';

/** Where the steps of one route leave what they find. */
export interface Report {
  readonly faults: StageFault[];
  readonly unitFaults: UnitFault[];
}

/** A report with a place to put `null` faults into without asking first. */
export function noteUnit(report: Report, fault: UnitFault | null): void {
  if (fault !== null) report.unitFaults.push(fault);
}

export function note(report: Report, fault: StageFault): void {
  report.faults.push(fault);
}
