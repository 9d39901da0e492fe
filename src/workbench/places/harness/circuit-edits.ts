import type { Circuit, CircuitChoice, Conductor, CrossloomMap, Edit } from '../../../model/index.ts';
import { conductorSize, type Trial } from '../../../wiring/index.ts';
import type { ShownConductor } from '../../worker/harness-protocol.ts';
import { sizeText } from './circuit-columns.ts';
import { segmentPosition } from './segment-edits.ts';

/** What is written when a trial is applied, and in words what changes. */
export interface Application {
  readonly edits: readonly Edit[];
  readonly says: readonly string[];
}

/** The person's entry about a circuit; null when nobody has made one. */
export function choiceOf(map: CrossloomMap, circuit: Circuit): CircuitChoice | null {
  const keys = new Set([circuit.key, ...circuit.otherKeys]);
  return map.harness?.circuits.find(({ id, of }) => id === circuit.id && keys.has(of)) ?? null;
}

/** Edits that write fields of a circuit's entry, which is made when there is none; undefined takes a field away. */
export function editChoice(
  map: CrossloomMap,
  circuit: Circuit,
  fields: Partial<Omit<CircuitChoice, 'id' | 'of' | 'conductor'>>,
  conductor: Partial<Conductor> = {},
): readonly Edit[] {
  const choice = choiceOf(map, circuit);
  if (choice === null) {
    const own = stripped(conductor);
    const entry = {
      id: circuit.id,
      of: circuit.key,
      ...(Object.keys(own).length > 0 ? { conductor: own } : {}),
      ...stripped(fields),
    };
    if (Object.keys(entry).length === 2) return [];
    const value = entry as never;
    return map.harness === undefined
      ? [
          {
            do: 'set',
            in: 'map',
            path: ['harness'],
            to: { connectors: [], nodes: [], segments: [], circuits: [value] },
          },
        ]
      : [{ do: 'insert', in: 'map', path: ['harness', 'circuits'], value }];
  }
  const path = ['harness', 'circuits', { id: choice.id }] as const;
  const change = (at: readonly string[], before: unknown, value: unknown): readonly Edit[] => {
    if (value === before) return [];
    if (value === undefined) return [{ do: 'remove', in: 'map', path: [...path, ...at] }];
    return [{ do: 'set', in: 'map', path: [...path, ...at], to: value as never }];
  };
  return [
    ...Object.entries(conductor).flatMap(([field, value]) =>
      change(['conductor', field], choice.conductor?.[field as keyof Conductor], value),
    ),
    ...Object.entries(fields).flatMap(([field, value]) => change([field], choice[field as keyof CircuitChoice], value)),
  ];
}

function stripped<T extends object>(fields: T): Partial<T> {
  return Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== undefined)) as Partial<T>;
}

function sizeWords(text: string): string {
  const size = conductorSize(text);
  return size === null ? text : sizeText(size);
}

/** Ambients that can be tried and written: the schema takes any number, an engine bay does not reach all of them. */
export const AMBIENT_C = { least: -40, most: 250 } as const;

/**
 * What applying a trial writes: size, measured length, load and fuse at the circuit; the ambient at the segments it runs
 * through, since it is theirs and not the conductor's.
 */
export function applyTrial(map: CrossloomMap, shown: ShownConductor, trial: Trial): Application {
  const { circuit, way } = shown.conductor;
  const says: string[] = [];
  const { size, lengthM, currentA, ambientC, fuseA } = trial;
  if (size !== undefined) says.push(`size ${sizeWords(size)}`);
  if (lengthM !== undefined) says.push(`measured length ${lengthM} m`);
  if (currentA !== undefined) says.push(`load ${currentA} A`);
  if (fuseA !== undefined) says.push(`fuse in line ${fuseA} A`);
  const edits = [
    ...editChoice(
      map,
      circuit,
      { ...(currentA === undefined ? {} : { loadA: currentA }), ...(fuseA === undefined ? {} : { fuseA }) },
      { ...(size === undefined ? {} : { size }), ...(lengthM === undefined ? {} : { lengthM }) },
    ),
  ];
  if (ambientC !== undefined) {
    const changed = segmentsForAmbient(map, way?.segments ?? [], ambientC);
    edits.push(
      ...changed.map(({ position }): Edit => ({
        do: 'set',
        in: 'map',
        path: ['harness', 'segments', { at: position }, 'maxC'],
        to: ambientC,
      })),
    );
    if (changed.length > 0)
      says.push(`${ambientC} °C at ${changed.map(({ id }) => id).join(', ')}, for all that runs there`);
  }
  return { edits, says };
}

/** The fewest segments of a way that must change so that its hottest is at this ambient. */
function segmentsForAmbient(
  map: CrossloomMap,
  way: readonly string[],
  ambientC: number,
): readonly { readonly id: string; readonly position: number }[] {
  const known = [...new Set(way)].flatMap((id) => {
    const position = segmentPosition(map, id);
    return position === null ? [] : [{ id, position, maxC: map.harness!.segments[position]!.maxC }];
  });
  const stated = known.flatMap(({ maxC }) => maxC ?? []);
  if (stated.length === 0) return known;
  const hottest = Math.max(...stated);
  return known.filter(({ maxC }) => maxC !== undefined && (ambientC > hottest ? maxC === hottest : maxC > ambientC));
}
