import { CAN_TWIST } from '../tables/can-physical.ts';
import { placeText, type PlanContext } from './context.ts';
import type { PlannedConductor } from './planned-conductor.ts';

/** Conductors twisted together. */
export interface TwistRow {
  readonly group: string;
  readonly circuits: readonly string[];
  readonly pitchMm: number;
  readonly lengthM: number | null;
  readonly cutLengthMm: number | null;
  readonly untwistedMaxMm: number;
  readonly shielded: boolean;
  /** Where the drain of a shield is grounded: at one end only. */
  readonly drain: string | null;
  readonly options: readonly string[];
}

/** Twisted groups; a shield's drain is grounded at one end only (SAE J1939-11, from memory), the end with the electronics. */
export function twistTable(context: PlanContext): readonly TwistRow[] {
  const groups = new Map<string, PlannedConductor[]>();
  for (const conductor of context.conductors) {
    const { twistGroup, shielded } = { ...conductor.circuit, shielded: conductor.circuit.conductor.shielded };
    const name = twistGroup ?? (shielded ? `shield:${conductor.circuit.key}` : null);
    if (name === null) continue;
    const list = groups.get(name);
    if (list) list.push(conductor);
    else groups.set(name, [conductor]);
  }
  return [...groups].map(([group, conductors]) => {
    const shielded = conductors.some(({ circuit }) => circuit.conductor.shielded);
    const { circuit } = conductors[0]!;
    const lengths = conductors.map(({ lengthM }) => lengthM);
    return {
      group,
      circuits: conductors.map((one) => one.circuit.id),
      pitchMm: CAN_TWIST.pitchMm,
      lengthM: lengths.includes(null) ? null : Math.max(...lengths.map(Number)),
      cutLengthMm: conductors[0]!.cutLengthMm,
      untwistedMaxMm: CAN_TWIST.untwistedMaxMm,
      shielded,
      drain: shielded
        ? `grounded at ${placeText(circuit.to)} only; cut back and insulated at ${placeText(circuit.from)}`
        : null,
      options: context.optionsOf(circuit.mask),
    };
  });
}
