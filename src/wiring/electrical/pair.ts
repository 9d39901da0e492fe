import type { Electrical, ElectricalClass } from '../../model/index.ts';
import { PAIRING_RULES, type PairingRule } from '../tables/pairing-rules.ts';
import { complete, onLevelOf, type Character } from './character.ts';
import type { FitDraft, Method, Pair } from './fit-draft.ts';
import type { ElectricalFit } from './fit-types.ts';
import { fitGauge, fitResistance, fitVoltage } from './methods/analogue.ts';
import { fitAttenuate, fitCoilSensor, fitCurrentSense, fitZeroCrossing } from './methods/frequency.ts';
import { fitLevels, fitSwitchedAnalogue } from './methods/levels.ts';
import { fitLoad, fitSupply } from './methods/load.ts';

const asItIs: Method = ({ rule }) => ({
  direct: 'works',
  measures: [],
  conditioning: [],
  because: rule.says,
  onLevel: null,
});

const never: Method = ({ rule, driver, receiver }) => ({
  direct: harm(driver, receiver),
  measures: [],
  conditioning: [],
  because: rule.says,
  onLevel: null,
});

/** What a pair that never fits does when it is joined all the same. */
function harm(driver: Character, receiver: Character): FitDraft['direct'] {
  const supplies: ReadonlySet<ElectricalClass> = new Set(['feed', 'power-ground']);
  if (
    supplies.has(driver.of.class) &&
    receiver.of.class !== 'coil-to-battery' &&
    receiver.of.class !== 'coil-to-ground'
  )
    return 'damages';
  if (driver.of.class === 'reluctance-frequency') return 'damages';
  return supplies.has(driver.of.class) ? 'does-nothing' : 'misreads';
}

const methods: Readonly<Record<PairingRule['method'], Method>> = {
  levels: fitLevels,
  'switched-analogue': fitSwitchedAnalogue,
  load: fitLoad,
  voltage: fitVoltage,
  resistance: fitResistance,
  gauge: fitGauge,
  'coil-sensor': fitCoilSensor,
  'zero-crossing': fitZeroCrossing,
  attenuate: fitAttenuate,
  'current-sense': fitCurrentSense,
  supply: fitSupply,
  same: asItIs,
  bus: asItIs,
  never,
};

const rules = new Map(PAIRING_RULES.map((rule) => [`${rule.driver} ${rule.receiver}`, rule]));

/** The rule for a driver class on a receiver class; null when the two are no pair of driver and receiver. */
export function pairingRule(driver: ElectricalClass, receiver: ElectricalClass): PairingRule | null {
  return rules.get(`${driver} ${receiver}`) ?? null;
}

/** What is known of the surroundings of a pair. */
export interface PairContext {
  /** The sensor's supply and return come from the controller that reads it. */
  readonly sharedReference?: boolean;
}

/**
 * Whether a driver and a receiver go together, over 9 to 16 V and a ground shift of 0.2 V: as they are, with conditioning
 * whose values are computed from preferred series, or not. Gaps of the platforms are filled from practice and named.
 */
export function pairElectrical(driver: Electrical, receiver: Electrical, context: PairContext = {}): ElectricalFit {
  const rule = pairingRule(driver.class, receiver.class);
  const base = { driver: driver.class, receiver: receiver.class };
  if (!rule) {
    return {
      ...base,
      verdict: 'does-not-fit',
      direct: 'does-nothing',
      activeLevel: null,
      inverted: false,
      measures: [],
      conditioning: [],
      because: `"${driver.class}" on "${receiver.class}" is no pair of a driver and a receiver`,
      assumed: [],
      source: 'circuit theory on the classes',
    };
  }
  const pair: Pair = {
    driver: complete(driver),
    receiver: complete(receiver),
    rule,
    sharedReference: context.sharedReference ?? false,
  };
  const draft = buildable(methods[rule.method](pair));
  const activeLevel = activeLevelOf(pair, draft);
  return {
    ...base,
    verdict: verdictOf(draft),
    direct: draft.direct,
    activeLevel,
    inverted: isInverted(pair, activeLevel),
    measures: draft.measures,
    conditioning: draft.conditioning,
    because: draft.because,
    assumed: assumptions(pair),
    source: rule.source,
  };
}

/** A draft without conditioning that cannot be built: values that a platform states can lie beyond every component. */
function buildable(draft: FitDraft): FitDraft {
  const known = draft.conditioning.every(({ components }) =>
    components.every(({ value }) => Number.isFinite(value) && value >= 0),
  );
  return known ? draft : { ...draft, conditioning: [], direct: draft.direct === 'works' ? 'misreads' : draft.direct };
}

function verdictOf(draft: FitDraft): ElectricalFit['verdict'] {
  if (draft.conditioning.length > 0) return 'fits-with-conditioning';
  return draft.direct === 'works' ? 'fits' : 'does-not-fit';
}

/** Level at the receiver while the driver is active: an active level that is not the driver's on level means active is off. */
function activeLevelOf({ driver }: Pair, { onLevel }: FitDraft): 'high' | 'low' | null {
  if (onLevel === null) return null;
  const activeIsOn = driver.of.activeLevel === undefined || driver.of.activeLevel === onLevelOf(driver);
  return activeIsOn ? onLevel : onLevel === 'high' ? 'low' : 'high';
}

/** The receiver takes the other level for active. Contacts that rest differently turn the meaning once more. */
function isInverted({ driver, receiver }: Pair, activeLevel: 'high' | 'low' | null): boolean {
  if (activeLevel === null || receiver.of.activeLevel === undefined) return false;
  const [from, to] = [driver.of.contact, receiver.of.contact];
  const contactsDiffer = from !== undefined && to !== undefined && from !== to;
  return (activeLevel !== receiver.of.activeLevel) !== contactsDiffer;
}

function assumptions({ driver, receiver }: Pair): string[] {
  return [
    ...driver.assumed.map((field) => `driver ${String(field)}`),
    ...receiver.assumed.map((field) => `receiver ${String(field)}`),
  ];
}
