import { OPERATING_SUPPLY_V, SMALL_RELAY } from '../../tables/electrical-classes.ts';
import { relay, sideDriver, suppression } from '../conditioning.ts';
import type { FitDraft, Pair } from '../fit-draft.ts';
import { measure, type Conditioning, type Measure } from '../fit-types.ts';

/** Lamps draw this many times their current when cold, motors this many when they start. Common practice. */
const INRUSH = { lamp: 10, motor: 6 } as const;

type DriveSide = 'to-battery' | 'to-ground' | 'both';

function driveSide(driver: Pair['driver']): DriveSide {
  switch (driver.of.class) {
    case 'switched-battery':
    case 'pwm-battery':
    case 'feed':
      return 'to-battery';
    case 'push-pull-5v':
    case 'push-pull-12v':
      return 'both';
    default:
      return 'to-ground';
  }
}

/** Current of a load in amperes: as stated, else from its resistance at nominal supply; null when neither is. */
function loadCurrent({ receiver }: Pair): number | null {
  if (receiver.of.loadA !== undefined) return receiver.of.loadA;
  const ohm = receiver.of.ohm?.[0];
  return ohm === undefined || ohm === 0 ? null : 12 / ohm;
}

/** A coil, lamp or motor: the right side of it, current, inrush, suppression. */
export function fitLoad(pair: Pair): FitDraft {
  const { driver, receiver, rule } = pair;
  const side = driveSide(driver);
  const loadA = loadCurrent(pair);
  const list = currentMeasures(pair, loadA);
  const onLevel = side === 'to-ground' ? ('low' as const) : ('high' as const);
  const wanted =
    receiver.of.class === 'coil-to-battery'
      ? 'to-ground'
      : receiver.of.class === 'coil-to-ground'
        ? 'to-battery'
        : null;
  const quiet = receiver.of.suppressed === false ? [suppression()] : [];
  if (driver.of.class === 'push-pull-5v') {
    const kind = wanted === 'to-battery' ? 'high-side-driver' : 'low-side-driver';
    const stronger = sideDriver(kind, loadA ?? SMALL_RELAY.coilA, 'a logic level drives no load');
    return { direct: 'overloads', measures: list, conditioning: [stronger, ...quiet], because: rule.says, onLevel };
  }
  if (wanted !== null && side !== 'both' && side !== wanted) {
    const kind = wanted === 'to-ground' ? 'low-side-driver' : 'high-side-driver';
    const both = wanted === 'to-ground' ? 'both ends lie on battery' : 'both ends lie on ground';
    return {
      direct: 'does-nothing',
      measures: list,
      conditioning: [sideDriver(kind, loadA ?? SMALL_RELAY.coilA, both), ...quiet],
      because: rule.says,
      onLevel: onLevel === 'high' ? 'low' : 'high',
    };
  }
  const needsRelay = receiver.of.class === 'motor' || list.some(({ holds }) => holds === false);
  if (needsRelay) return withRelay(pair, loadA, list, quiet, onLevel);
  const uncertain = unrated(pair);
  return {
    direct: 'works',
    measures: list,
    conditioning: [...uncertain, ...quiet],
    because: rule.says,
    onLevel,
  };
}

function currentMeasures({ driver, receiver }: Pair, loadA: number | null): Measure[] {
  if (loadA === null) return [];
  const list = [measure('continuous current', loadA, 'A', 'at most', driver.of.maxA)];
  const factor = receiver.of.class === 'lamp' ? INRUSH.lamp : receiver.of.class === 'motor' ? INRUSH.motor : 1;
  const inrushA = receiver.of.inrushA ?? loadA * factor;
  if (inrushA > loadA) list.push(measure('inrush current', inrushA, 'A'));
  return list;
}

/** An open collector is a signal output until its rating for a load is stated. */
function unrated({ driver }: Pair): Conditioning[] {
  const signalOutput =
    driver.of.class === 'open-collector' || driver.of.class === 'hall-frequency' || driver.of.class === 'pwm-ground';
  return signalOutput && driver.given.maxA === undefined
    ? [relay(SMALL_RELAY.coilA, 'the rating of this output for a coil is not stated')]
    : [];
}

function withRelay(
  { driver, rule }: Pair,
  loadA: number | null,
  list: readonly Measure[],
  quiet: readonly Conditioning[],
  onLevel: 'high' | 'low',
): FitDraft {
  const switchedA = loadA ?? 0;
  const drivesCoil = driver.of.maxA === undefined || driver.of.maxA >= SMALL_RELAY.coilA;
  const why = drivesCoil
    ? 'the driver carries its coil and not the load'
    : `the driver carries ${driver.of.maxA} A only: a transistor must drive the coil`;
  const amplified: Conditioning[] = drivesCoil
    ? []
    : [
        sideDriver(
          onLevel === 'low' ? 'low-side-driver' : 'high-side-driver',
          SMALL_RELAY.coilA,
          'for the coil of the relay',
        ),
      ];
  return {
    direct: 'overloads',
    measures: list,
    conditioning: [relay(switchedA, why), ...amplified, ...quiet],
    because: rule.says,
    onLevel,
  };
}

/** One feed on another: voltage within range, current enough. */
export function fitSupply({ driver, receiver, rule }: Pair): FitDraft {
  const list: Measure[] = [
    measure('highest voltage', driver.of.maxV ?? OPERATING_SUPPLY_V.max, 'V', 'at most', receiver.given.maxV),
    measure('lowest voltage', driver.of.minV ?? OPERATING_SUPPLY_V.min, 'V', 'at least', receiver.given.minV),
  ];
  if (receiver.of.loadA !== undefined)
    list.push(measure('continuous current', receiver.of.loadA, 'A', 'at most', driver.of.maxA));
  const over = list.some(({ name, holds }) => name === 'highest voltage' && holds === false);
  const works = list.every(({ holds }) => holds !== false);
  return {
    direct: works ? 'works' : over ? 'damages' : 'overloads',
    measures: list,
    conditioning: [],
    because: works
      ? rule.says
      : over
        ? 'the supply is above what the receiver bears'
        : 'the supply is too low or too weak',
    onLevel: null,
  };
}
