import { findFunction, type Circuit, type Electrical } from '../../model/index.ts';
import { FUSE_RULES } from '../tables/fuses.ts';
import { INSULATIONS, INSULATION_MARGIN_C, MECHANICAL_MINIMUM } from '../tables/allowances.ts';
import { OPERATING_SUPPLY_V } from '../tables/electrical-classes.ts';
import type { DropDuty } from '../tables/drop-limits.ts';

/** Current taken for a signal of which nothing is stated, in amperes. Common practice: no input draws more. */
const SIGNAL_A = 0.1;
/** Current of a three-wire sensor in its supply and return, and into an analogue input, in amperes. Common practice. */
const SENSOR_A = 0.01;
const ANALOGUE_A = 0.001;

const SUPPLY_KINDS: ReadonlySet<Circuit['kind']> = new Set(['feed', 'ground', 'part']);
const LOADS: ReadonlySet<string> = new Set(['coil-to-battery', 'coil-to-ground', 'lamp', 'motor']);

/** Continuous current that a conductor is planned for, in amperes, and how it is known. */
export function currentOf(circuit: Circuit): {
  readonly ampere: number;
  readonly by: 'stated' | 'pull' | 'fuse' | 'assumed';
} {
  if (circuit.loadA !== null) return { ampere: circuit.loadA, by: 'stated' };
  const pulls = [circuit.fromElectrical, circuit.toElectrical].flatMap((end) => pullA(end));
  if (pulls.length > 0) return { ampere: Math.max(...pulls), by: 'pull' };
  // A supply conductor whose load nobody stated may carry all that its fuse lets through on and on.
  if (SUPPLY_KINDS.has(circuit.kind) && circuit.fuse?.fuseA)
    return { ampere: circuit.fuse.fuseA * FUSE_RULES.continuousShare, by: 'fuse' };
  if (circuit.kind === 'sensor-supply' || circuit.kind === 'sensor-return') return { ampere: SENSOR_A, by: 'assumed' };
  const classes = [circuit.fromElectrical?.class, circuit.toElectrical?.class];
  if (classes.includes('ratiometric-5v') || classes.includes('input-analogue'))
    return { ampere: ANALOGUE_A, by: 'assumed' };
  return { ampere: SIGNAL_A, by: 'assumed' };
}

function pullA(end: Electrical | null): number[] {
  if (end?.pullOhm === undefined) return [];
  return [Math.max(end.pullToV ?? 0, end.class === 'input-pull-up-5v' ? 5 : OPERATING_SUPPLY_V.max) / end.pullOhm];
}

/** What a conductor's drop is held against; null for a bus pair, whose levels are differential. */
export function dutyOf(circuit: Circuit): DropDuty | null {
  const classes = [circuit.fromElectrical?.class, circuit.toElectrical?.class];
  if (circuit.kind === 'bus' || classes.some((one) => one === 'can-high' || one === 'can-low')) return null;
  if (circuit.kind === 'ground' || classes.includes('power-ground')) return 'ground';
  const sensor = circuit.kind === 'sensor-supply' || circuit.kind === 'sensor-return';
  const fiveVolt = classes[0] === 'feed' && (circuit.fromElectrical?.maxV ?? Infinity) < OPERATING_SUPPLY_V.min;
  if (sensor || fiveVolt || classes.includes('ratiometric-5v') || classes.includes('sensor-return'))
    return 'ratiometric';
  if (circuit.kind === 'feed' || classes[1] === 'feed') return 'critical-feed';
  const critical = circuit.criticality !== null && circuit.criticality !== 'comfort';
  if (circuit.kind === 'part') return critical ? 'critical-feed' : 'load';
  if (classes[1] !== undefined && LOADS.has(classes[1])) {
    const starting = circuit.functionIds.some((id) => findFunction(id)?.group === 'starting-security');
    return starting ? 'starter-coil' : critical ? 'critical-feed' : 'load';
  }
  return 'signal';
}

/** Fuse that a conductor must bear: on supplies and loads. A signal behind a fused output is judged by its own rule. */
export function fuseToBear(circuit: Circuit): number | null {
  if (circuit.fuse?.fuseA === undefined || circuit.fuse.fuseA === null) return null;
  if (circuit.fuse.place === 'in-line' || SUPPLY_KINDS.has(circuit.kind)) return circuit.fuse.fuseA;
  const load = circuit.toElectrical !== null && LOADS.has(circuit.toElectrical.class);
  const stubOfFeed = circuit.kind === 'splice-stub' && circuit.fromElectrical?.class === 'feed';
  return load || stubOfFeed ? circuit.fuse.fuseA : null;
}

/** Thinnest that stands handling, in mm². */
export function mechanicalMm2(circuit: Circuit): number {
  return circuit.criticality === 'interlock' ? MECHANICAL_MINIMUM.interlockMm2 : MECHANICAL_MINIMUM.anyMm2;
}

/** Insulation for an ambient: as named, else the first of the list with enough above it. */
export function insulationFor(circuit: Circuit, ambientC: number): { readonly name: string; readonly maxC: number } {
  const { insulation, maxC } = circuit.conductor;
  const fitting = INSULATIONS.find((row) => row.maxC >= ambientC + INSULATION_MARGIN_C) ?? INSULATIONS.at(-1)!;
  const named = insulation === null ? undefined : INSULATIONS.find(({ name }) => name === insulation);
  return {
    name: insulation ?? fitting.name,
    maxC: maxC ?? named?.maxC ?? (insulation === null ? fitting.maxC : INSULATIONS[0]!.maxC),
  };
}
