import type { Circuit, Edit, Json, Pairing } from '../model/index.ts';
import { harnessSizes, rangeOf, type ConductorSize, type PlannedConductor, type WiringPlan } from '../wiring/index.ts';
import type { CheckContext } from './context.ts';
import { mendBy } from './mends.ts';
import { named, type Mend, type NamedValue } from './rule.ts';

/** The subject of a finding about a conductor of the added harness: its number. */
export function circuitRef({ id }: Circuit): string {
  return `circuit:${id}`;
}

/** A conductor in words: `101 from host:C7-1 to donor:C1-1`. */
export function circuitWords({ id, from, to }: Circuit): string {
  return `${id} (${from.key} to ${to.key})`;
}

/** A number as a finding states it: three digits, and no more decimals than they need. */
export function rounded(value: number): number {
  return Number(value.toPrecision(3));
}

/** Sets one field of what a person decided about a conductor; makes the decision when there is none yet. */
export function setCircuit(
  { map }: Pairing,
  circuit: Circuit,
  field: 'conductor' | 'fuseA' | 'label',
  to: Json,
  title: string,
): Mend {
  const keys = [circuit.key, ...circuit.otherKeys];
  const choice = keys
    .map((key) => (map.harness?.circuits ?? []).find(({ of }) => of === key))
    .find((found) => found !== undefined);
  if (choice) {
    const path = ['harness', 'circuits', { id: choice.id }];
    if (field !== 'conductor') return mendBy(title, { do: 'set', in: 'map', path: [...path, field], to });
    const edits = Object.entries(to as Record<string, Json>).map(([key, value]): Edit => ({
      do: 'set',
      in: 'map',
      path: [...path, 'conductor', key],
      to: value,
    }));
    return mendBy(title, ...edits);
  }
  const value = { id: circuit.id, of: circuit.key, [field]: to };
  return map.harness
    ? mendBy(title, { do: 'insert', in: 'map', path: ['harness', 'circuits'], value })
    : mendBy(title, {
        do: 'set',
        in: 'map',
        path: ['harness'],
        to: { connectors: [], nodes: [], segments: [], circuits: [value] },
      });
}

/** Gives a conductor another size. */
export function setSize({ pairing }: CheckContext, circuit: Circuit, size: ConductorSize): Mend {
  return setCircuit(pairing, circuit, 'conductor', { size: size.text }, `make ${circuit.id} ${sizeWords(size)}`);
}

/** The figure of a size as a number where it is one: `2/0` is none. */
export function sizeFigure({ figure }: ConductorSize): string | number {
  return Number.isFinite(Number(figure)) ? Number(figure) : figure;
}

export function sizeWords({ figure, family }: ConductorSize): string {
  return family === 'awg' ? `${figure} AWG` : `${figure} mm²`;
}

/** The smallest size of the conductor's own series that is no thinner than it and does what is asked; null when none does. */
export function nextSize({ size }: PlannedConductor, does: (size: ConductorSize) => boolean): ConductorSize | null {
  return harnessSizes(size.family).find((one) => one.areaMm2 > size.areaMm2 && does(one)) ?? null;
}

/** What the bundle does to a conductor, in words: `with no other that carries current`, `beside 2 others that carry current`. */
export function besideWords({ carrying }: PlannedConductor): string {
  if (carrying <= 1) return 'with no other that carries current';
  return carrying === 2 ? 'beside 1 other that carries current' : `beside ${carrying - 1} others that carry current`;
}

/** Size, current and how it is known, length: what every finding about a conductor states. */
export function conductorValues({ circuit, size, currentA, currentBy, lengthM }: PlannedConductor): NamedValue[] {
  return [
    named('conductor', circuit.id),
    named('size', sizeFigure(size), size.family === 'awg' ? 'AWG' : 'mm2'),
    named('current', rounded(currentA), 'A'),
    named('current is', currentBy),
    ...(lengthM === null ? [] : [named('length', rounded(lengthM), 'm')]),
  ];
}

/** Whether the terminals at both ends accept a size, as far as the connectors say. */
export function terminalsAccept({ find }: WiringPlan, { from, to }: Circuit, { areaMm2 }: ConductorSize): boolean {
  return [from, to]
    .flatMap((end) => rangeOf(find, end))
    .every(({ minMm2, maxMm2 }) => areaMm2 >= minMm2 - TINY && areaMm2 <= maxMm2 + TINY);
}

/** Slack for rounding of doubles, far below any printed digit. */
export const TINY = 1e-9;
