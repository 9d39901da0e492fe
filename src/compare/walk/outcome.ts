import {
  levelOfState,
  lossOf,
  type ElectricalClass,
  type Endpoint,
  type LossBehaviour,
  type WireEntry,
} from '../../model/index.ts';
import type { ElementFailure, FailureStanding } from './step.ts';

/** The level of a conductor; null where the documents do not tell. */
export type ConductorLevel = 'high' | 'low' | null;

const PULLS_LOW: ReadonlySet<ElectricalClass> = new Set([
  'switched-ground',
  'open-collector',
  'pwm-ground',
  'hall-frequency',
  'power-ground',
]);
const DRIVES_HIGH: ReadonlySet<ElectricalClass> = new Set(['switched-battery', 'pwm-battery', 'feed']);
const LOADS: ReadonlySet<ElectricalClass> = new Set(['coil-to-battery', 'coil-to-ground', 'lamp', 'motor']);

/** The level of a conductor while its driver is on; null for a driver that does not switch. */
export function onLevel(driver: ElectricalClass): ConductorLevel {
  return PULLS_LOW.has(driver) ? 'low' : DRIVES_HIGH.has(driver) ? 'high' : null;
}

/**
 * The level at the reader when nothing drives the conductor: where its pull or its load holds it. Common practice of the classes,
 * as in the table of electrical classes.
 */
export function restLevel(reader: WireEntry, driver: ElectricalClass | null): ConductorLevel {
  const { electrical } = reader.wire;
  switch (electrical.class) {
    case 'input-pull-down':
      return 'low';
    case 'input-pull-up-12v':
    case 'input-pull-up-5v':
    case 'input-analogue-pull-up':
      return 'high';
    case 'coil-to-battery':
      return 'high';
    case 'coil-to-ground':
      return 'low';
    case 'lamp':
    case 'motor': {
      const on = driver === null ? null : onLevel(driver);
      return on === null ? null : on === 'high' ? 'low' : 'high';
    }
    default:
      if (electrical.pullToV === undefined || electrical.pullOhm === undefined) return null;
      return electrical.pullToV === 0 ? 'low' : 'high';
  }
}

/** The state that the reader of a wire takes a level for; null where its meaning does not tell. */
export function stateAt(reader: WireEntry, level: ConductorLevel, source: WireEntry | null): string | null {
  const { meaning, electrical } = reader.wire;
  if (level === null || meaning === undefined || !('active' in meaning)) return null;
  const active =
    electrical.activeLevel ??
    (electrical.class === 'coil-to-battery' ? 'low' : undefined) ??
    (electrical.class === 'coil-to-ground' ? 'high' : undefined) ??
    source?.wire.electrical.activeLevel;
  if (active === undefined) return null;
  return level === active ? meaning.active : meaning.inactive;
}

/** Who drives and who reads one conductor, and the relays in series between the place of the fault and the reader. */
export interface ConductorEnds {
  readonly reader: WireEntry;
  readonly source: WireEntry | null;
  readonly functionId: string | null;
  readonly behind?: readonly SeriesRelay[];
}

/** A relay in series; what its contact makes of its coil is known only where something else holds the coil. */
export interface SeriesRelay {
  readonly ref: string;
  readonly heldByOther: boolean;
}

/** What the reader of a wire has at a level, in words: `reads low: “Released”`, `is not energised: “No crank”`. */
export function levelFailure(
  how: string,
  cause: string,
  level: ConductorLevel,
  { reader, source, functionId, behind = [] }: ConductorEnds,
): ElementFailure {
  const state = stateAt(reader, level, source);
  const named = state === null ? '' : `: “${state}”`;
  const { electrical } = reader.wire;
  const unknown = behind.find(({ heldByOther }) => !heldByOther);
  if (unknown)
    return {
      how,
      reads: '',
      effect: `${cause}; what ${unknown.ref} then does to the reader is not in the documents`,
      standing: 'undecided',
    };
  if (level === null)
    return {
      how,
      reads: '',
      effect: `${cause}; the documents do not tell what the reader then takes`,
      standing: 'undecided',
    };
  const energised =
    electrical.class === 'coil-to-battery'
      ? level === 'low'
      : electrical.class === 'coil-to-ground'
        ? level === 'high'
        : null;
  const what = LOADS.has(electrical.class)
    ? energised === null
      ? `${reader.wire.module} has a ${level} level${named}`
      : `${reader.wire.module} is ${energised ? 'energised' : 'not energised'}${named}`
    : `${reader.wire.module} reads ${level}${named}`;
  return {
    how,
    reads: state ?? level,
    effect: `${cause}; ${what}${behind.length === 0 ? '' : `, as long as ${behind.map(({ ref }) => ref).join(' and ')} conducts`}`,
    standing: standingOfLevel(functionId, wireLevel(functionId, state, reader, source)),
  };
}

type FunctionLevel = 'active' | 'inactive' | null;

/**
 * Whether a state of a two-state wire stands for what the function names: by the catalogue's word for it, else by the word for the
 * other state, else by the wire where its contact is open at rest. A contact that opens to act turns the sense round, so that it
 * decides nothing.
 */
function wireLevel(
  functionId: string | null,
  state: string | null,
  reader: WireEntry,
  source: WireEntry | null,
): FunctionLevel {
  const { meaning } = reader.wire;
  if (state === null || meaning === undefined || !('active' in meaning)) return null;
  const wordFor = (label: string): FunctionLevel => levelOfState(functionId ?? undefined, label, null);
  const own = wordFor(state);
  const other = wordFor(state === meaning.active ? meaning.inactive : meaning.active);
  if (own !== null || other !== null) return own === other ? null : (own ?? opposite(other));
  const contacts = [reader.wire.electrical.contact, source?.wire.electrical.contact];
  if (!contacts.includes('normally-open') || contacts.includes('normally-closed')) return null;
  return state === meaning.active ? 'active' : 'inactive';
}

function opposite(level: FunctionLevel): FunctionLevel {
  return level === null ? null : level === 'active' ? 'inactive' : 'active';
}

/** Whether a level is the function's safe one or its opposite. Undecided where the catalogue names no dangerous one. */
function standingOfLevel(functionId: string | null, level: FunctionLevel): FailureStanding {
  const loss = lossOf(functionId ?? undefined);
  if (loss === null || level === null || loss.dangerous.length === 0) return 'undecided';
  const isSafe = loss.safe.some((safe) => safe.do === 'substitute' && 'level' in safe && safe.level === level);
  const isDangerous = loss.dangerous.some(
    (value) =>
      ('level' in value && value.level === level) || ('above' in value && value.above === 0 && level === 'active'),
  );
  return isSafe === isDangerous ? 'undecided' : isSafe ? 'safe' : 'against';
}

/** The same for a state that a route substitutes. */
function standingOfState(functionId: string | null, state: string | null): FailureStanding {
  const loss = lossOf(functionId ?? undefined);
  if (loss === null || state === null) return 'undecided';
  const word = state.toLowerCase();
  if (loss.safe.some((safe) => safe.do === 'substitute' && 'state' in safe && safe.state.toLowerCase() === word))
    return 'safe';
  if (loss.dangerous.some((value) => 'states' in value && value.states.some((name) => name.toLowerCase() === word)))
    return 'against';
  return standingOfLevel(functionId, levelOfState(functionId ?? undefined, state, null));
}

/** The same for a loss behaviour that a route gives. */
export function standingOfLoss(functionId: string | null, onLoss: LossBehaviour | undefined): FailureStanding {
  const loss = lossOf(functionId ?? undefined);
  if (loss === null || onLoss === undefined) return 'undecided';
  const allows = (what: 'not-available' | 'open-output' | 'hold'): FailureStanding =>
    loss.safe.some((safe) => safe.do === what) ? 'safe' : 'undecided';
  switch (onLoss.do) {
    case 'substitute':
      if (onLoss.notAvailable) return allows('not-available');
      // A number is judged by the rules, which know its unit.
      return standingOfState(functionId, onLoss.state ?? null);
    case 'open-output':
      return allows('open-output');
    case 'hold':
      return onLoss.forMs === undefined ? allows('hold') : 'undecided';
    case 'stop-sending':
      return 'undecided';
  }
}

/** The wire an endpoint is; null for a frame. */
export function wireOf(entry: Endpoint | null): WireEntry | null {
  return entry?.kind === 'wire' ? entry : null;
}
