import type { Edit, Json, Pairing } from '../model/index.ts';
import { CAN_TERMINATION, termination, type Terminator } from '../wiring/index.ts';
import type { PhysicalCase } from './bus-physics.ts';
import { mendBy } from './mends.ts';
import { fromMemory, named, read, type Mend, type NamedValue, type RuleSource } from './rule.ts';

export const TERMINATION_SOURCES: readonly RuleSource[] = [
  read('ISO 11898-2 in transceiver data sheets: 120 Ω at each end of the pair, 60 Ω across it with power off'),
  read('Transceiver data sheet: a terminator does not belong in a node that can be taken out'),
  fromMemory('ISO 11898-2: reflections of an end without a terminator corrupt bits at the sample point'),
];

/** `host:body-can with donor:drive-can`. */
export function nameOf({ buses }: PhysicalCase): string {
  return buses.map(({ ref }) => ref).join(' with ');
}

/** `cluster 120 Ω, body 120 Ω`, or `none`. */
export function terminatorsText(list: readonly Terminator[]): string {
  return list.length === 0 ? 'none' : list.map(({ at, ohm }) => `${at} ${ohm} Ω`).join(', ');
}

export function pairText(list: readonly Terminator[]): string {
  const { pairOhm } = termination(list.map(({ ohm }) => ohm));
  return Number.isFinite(pairOhm) ? `${Number(pairOhm.toFixed(1))} Ω` : 'open';
}

export function terminationValues(one: PhysicalCase): readonly NamedValue[] {
  return [
    named('terminators', terminatorsText(one.terminators)),
    ...(one.removed.length === 0 ? [] : [named('gone with a removed module', terminatorsText(one.removed))]),
    named('across the pair', pairText(one.terminators)),
    named(
      'asked for',
      `${CAN_TERMINATION.count} of ${CAN_TERMINATION.eachOhm} Ω, ${CAN_TERMINATION.pairOhm} Ω across the pair`,
    ),
  ];
}

/** Adds terminators to the harness until the bus has two. */
export function addTerminators({ map }: Pairing, { buses, terminators }: PhysicalCase): Mend | null {
  const count = CAN_TERMINATION.count - terminators.length;
  const { ref } = buses[0]!;
  if (count <= 0) return null;
  const taken = new Set((map.harness?.parts ?? []).map(({ id }) => id));
  const parts: Json[] = [];
  for (let number = 1; parts.length < count; number += 1) {
    const id = `terminator-${ref.slice(ref.indexOf(':') + 1)}${number === 1 ? '' : `-${number}`}`;
    if (taken.has(id)) continue;
    parts.push({
      id,
      title: `Terminator of ${ref}`,
      kind: 'terminator',
      ohm: CAN_TERMINATION.eachOhm,
      terminals: { high: `${ref}.high`, low: `${ref}.low` },
    });
  }
  const edits: readonly Edit[] =
    map.harness === undefined
      ? [
          {
            do: 'set',
            in: 'map',
            path: ['harness'],
            to: { connectors: [], parts, nodes: [], segments: [], circuits: [] },
          },
        ]
      : parts.map((value) => ({ do: 'insert', in: 'map', path: ['harness', 'parts'], value }));
  return mendBy(
    `add ${count === 1 ? 'a terminator' : `${count} terminators`} of ${CAN_TERMINATION.eachOhm} Ω to the harness at the end of ${ref}`,
    ...edits,
  );
}

/** Takes away as many terminators of this pairing as are too many; null when it added too few. */
export function removeTerminators({ terminators }: PhysicalCase): Mend | null {
  const count = terminators.length - CAN_TERMINATION.count;
  const own = terminators.filter(({ added }) => added !== null).slice(0, count);
  if (count <= 0 || own.length < count) return null;
  return mendBy(
    `take away the ${count === 1 ? 'terminator' : 'terminators'} ${own.map(({ at }) => at).join(', ')}`,
    ...own.map((one): Edit =>
      one.added === 'part'
        ? { do: 'remove', in: 'map', path: ['harness', 'parts', { id: one.at }] }
        : { do: 'remove', in: 'map', path: [...portPath(one), 'terminationOhm'] },
    ),
  );
}

/** Gives every terminator that this pairing adds the value asked for; null when those named are the vehicle's own. */
export function setTerminators(wrong: readonly Terminator[]): Mend | null {
  if (wrong.length === 0 || wrong.some(({ added }) => added === null)) return null;
  return mendBy(
    `make ${wrong.map(({ at }) => at).join(', ')} ${CAN_TERMINATION.eachOhm} Ω`,
    ...wrong.map((one): Edit => ({
      do: 'set',
      in: 'map',
      path: one.added === 'part' ? ['harness', 'parts', { id: one.at }, 'ohm'] : [...portPath(one), 'terminationOhm'],
      to: CAN_TERMINATION.eachOhm,
    })),
  );
}

function portPath({ at }: Terminator) {
  const dot = at.lastIndexOf('.');
  return ['interfaceModules', { id: at.slice(0, dot) }, 'ports', { id: at.slice(dot + 1) }] as const;
}
