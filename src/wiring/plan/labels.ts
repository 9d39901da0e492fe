import type { Circuit, CircuitEnd } from '../../model/index.ts';
import { LABEL } from '../tables/allowances.ts';
import { placeText, type PlanContext } from './context.ts';

/** One label, at one end of one conductor. */
export interface LabelRow {
  readonly label: string;
  readonly circuit: string;
  readonly end: 'from' | 'to';
  readonly text: string;
  readonly place: string;
  readonly fromFaceMm: number;
  readonly material: string;
  readonly options: readonly string[];
}

/** Text at an end: the circuit, the person's own words when there are some, and where this end goes. */
export function labelText(circuit: Circuit, end: CircuitEnd): string {
  const own = circuit.label ?? '';
  const name = own.startsWith(circuit.id) ? own : `${circuit.id} ${own}`.trim();
  return `${name} ${placeText(end)}`;
}

/** Labels of both ends of every conductor. */
export function labelList(context: PlanContext): readonly LabelRow[] {
  return context.conductors.flatMap(({ circuit }) =>
    (['from', 'to'] as const).map((which) => ({
      label: `${circuit.id}/${which}`,
      circuit: circuit.id,
      end: which,
      text: labelText(circuit, circuit[which]),
      place: placeText(circuit[which]),
      fromFaceMm: LABEL.fromFaceMm,
      material: LABEL.material,
      options: context.optionsOf(circuit.mask),
    })),
  );
}
