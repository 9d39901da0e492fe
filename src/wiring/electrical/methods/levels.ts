import { DIODE_V, GROUND_SHIFT_V, LOW_SIDE_ON_V, OPERATING_SUPPLY_V } from '../../tables/electrical-classes.ts';
import { levelsAt, onLevelOf, pullOf, type Character, type Levels } from '../character.ts';
import {
  bleed,
  currentLimit,
  divider,
  inverter,
  levelShift,
  lowPass,
  pullUpAgainst,
  pullUpTo,
  sideDriver,
  steeringDiode,
} from '../conditioning.ts';
import type { FitDraft, Pair } from '../fit-draft.ts';
import { measure, type Conditioning, type Measure } from '../fit-types.ts';

const RISES: ReadonlySet<string> = new Set(['switched-battery', 'pwm-battery', 'push-pull-12v', 'feed']);

/** Highest voltage that a driver itself bears on its output. */
function driverBearsV({ of }: Character): number {
  switch (of.class) {
    case 'push-pull-5v':
      return (of.maxV ?? 4.5) + 1;
    case 'push-pull-12v':
    case 'switched-battery':
    case 'pwm-battery':
    case 'feed':
      return Infinity;
    default:
      return of.maxV ?? Infinity;
  }
}

function measures({ driver, receiver }: Pair, levels: Levels | null, pullV: number): Measure[] {
  const list: Measure[] = [];
  if (levels) {
    list.push(
      measure('lowest high level', levels.high.min, 'V', 'at least', receiver.of.thresholdHighV),
      measure('highest low level', levels.low.max, 'V', 'at most', receiver.of.thresholdLowV),
      measure('highest level at the receiver', levels.high.max, 'V', 'at most', receiver.of.maxV),
      measure('current through the pull', levels.currentA, 'A', 'at most', driver.of.maxA),
    );
  }
  if (pullV > 0) list.push(measure('pull-up voltage at the driver', pullV, 'V', 'at most', driverBearsV(driver)));
  list.push(...frequencyMeasures(driver, receiver));
  return list;
}

/** Frequency and duty of the driver within what the receiver takes, where both are stated. */
export function frequencyMeasures(driver: Character, receiver: Character): Measure[] {
  const list: Measure[] = [];
  const [from, to] = [driver.of.frequencyHz, receiver.of.frequencyHz];
  if (from && to) {
    list.push(measure('highest frequency', from[1], 'Hz', 'at most', to[1]));
    // A rotation sensor stands still at 0 Hz: the lower end matters to a duty only.
    if (driver.of.class.startsWith('pwm')) list.push(measure('lowest frequency', from[0], 'Hz', 'at least', to[0]));
  }
  return list;
}

function failed(list: readonly Measure[], name: string): boolean {
  return list.some((one) => one.name === name && one.holds === false);
}

/** Two levels against two thresholds, over the supply range, with ground shift, leakage and pull currents. */
export function fitLevels(pair: Pair): FitDraft {
  const { driver, receiver, rule } = pair;
  const pullV = pullOf(receiver, OPERATING_SUPPLY_V.max)?.volt ?? 0;
  const levels = levelsAt(driver, receiver);
  const list = measures(pair, levels, pullV);
  const frequencyFails = failed(list, 'highest frequency') || failed(list, 'lowest frequency');
  if (frequencyFails)
    return {
      direct: 'misreads',
      measures: list,
      conditioning: [],
      because: 'the receiver cannot follow the frequency',
      onLevel: null,
    };
  const dutyUnread =
    driver.of.class === 'pwm-battery' && receiver.of.class !== 'input-frequency' && !receiver.given.frequencyHz;
  if (levels && list.every(({ holds }) => holds !== false)) {
    const base = { direct: 'works', measures: list, onLevel: levels.onIs } as const;
    if (!dutyUnread) return { ...base, conditioning: [], because: rule.says };
    const timer: Conditioning = {
      kind: 'timer-input',
      what: 'the receiver must measure duty: nothing says that this input does; check its frequency window and polarity',
      components: [],
    };
    return { ...base, direct: 'misreads', conditioning: [timer], because: rule.says };
  }
  return { ...mend(pair, levels, list), measures: list };
}

type Mended = Omit<FitDraft, 'measures'>;

function mend(pair: Pair, levels: Levels | null, list: readonly Measure[]): Mended {
  const { driver, receiver, rule } = pair;
  const pull = pullOf(receiver, OPERATING_SUPPLY_V.max);
  const overvoltage = failed(list, 'highest level at the receiver');
  const backFeed = failed(list, 'pull-up voltage at the driver');
  const onIs = levels?.onIs ?? onLevelOf(driver);
  const pushPull = driver.of.class === 'push-pull-5v' || driver.of.class === 'push-pull-12v';
  if (pull && pull.volt > 0) {
    if (pushPull && (overvoltage || backFeed)) {
      const lowV = (driver.of.minV ?? 0) + DIODE_V + GROUND_SHIFT_V;
      if (lowV <= (receiver.of.thresholdLowV ?? Infinity))
        return {
          direct: 'damages',
          conditioning: [steeringDiode(pull.volt)],
          because: rule.says,
          onLevel: onIs,
        };
    }
    if (RISES.has(driver.of.class)) {
      // Both states read high: a transistor turns the high level into a switch to ground.
      const turned = inverter(OPERATING_SUPPLY_V.min, pull.volt / pull.ohm);
      return {
        direct: overvoltage ? 'damages' : 'misreads',
        conditioning: [turned],
        because: rule.says,
        onLevel: onIs === 'high' ? 'low' : 'high',
      };
    }
    if (failed(list, 'current through the pull'))
      return {
        direct: 'overloads',
        conditioning: [
          sideDriver('low-side-driver', pull.volt / pull.ohm, 'the pull-up is stronger than the driver sinks'),
        ],
        because: 'the driver cannot sink the current of the pull-up',
        onLevel: onIs,
      };
    return {
      direct: backFeed ? 'damages' : 'misreads',
      conditioning: [],
      because: backFeed
        ? 'the pull-up voltage is above what the driver bears'
        : 'the low level does not fall under the threshold of the receiver',
      onLevel: null,
    };
  }
  if (overvoltage)
    return {
      direct: 'damages',
      conditioning: [divider(levels?.high.max ?? OPERATING_SUPPLY_V.max, receiver.of.maxV!)],
      because: 'the level is above what the receiver bears',
      onLevel: onIs,
    };
  if (RISES.has(driver.of.class) && driver.of.leakageA !== undefined && failed(list, 'highest low level'))
    return {
      direct: 'misreads',
      conditioning: [bleed(driver.of.leakageA, receiver.of.thresholdLowV!)],
      because: 'leakage of the open output holds the input up',
      onLevel: onIs,
    };
  if (driver.of.class === 'push-pull-5v')
    return {
      direct: 'misreads',
      conditioning: [levelShift(12)],
      because: rule.says,
      onLevel: onIs,
    };
  const lowSide = !RISES.has(driver.of.class) && !pushPull;
  if (lowSide && receiver.of.pullOhm !== undefined && receiver.of.thresholdHighV !== undefined) {
    const added = pullUpAgainst(receiver.of.pullOhm, receiver.of.thresholdHighV, driver.of.maxA ?? null);
    if (added && LOW_SIDE_ON_V + GROUND_SHIFT_V <= (receiver.of.thresholdLowV ?? Infinity))
      return { direct: 'does-nothing', conditioning: [added], because: rule.says, onLevel: 'low' };
  }
  return {
    direct: 'does-nothing',
    conditioning: [],
    because: 'no pull-up keeps both the threshold of the receiver and the current of the driver',
    onLevel: null,
  };
}

/** A switching driver on a converter: two levels within its range. */
export function fitSwitchedAnalogue(pair: Pair): FitDraft {
  const { driver, receiver, rule } = pair;
  const referenceV = receiver.of.maxV ?? 5;
  const duty = driver.of.class.startsWith('pwm');
  const lowest = driver.of.frequencyHz?.[0];
  const smooth = duty ? [lowPass(lowest === undefined || lowest === 0 ? 100 : lowest)] : [];
  const rises = RISES.has(driver.of.class);
  const pulled = receiver.of.class === 'input-analogue-pull-up';
  const pullOhm = receiver.of.pullOhm;
  const onLevel = duty ? null : rises ? ('high' as const) : ('low' as const);
  if (rises) {
    const highest = Math.min(driver.of.maxV ?? OPERATING_SUPPLY_V.max, OPERATING_SUPPLY_V.max);
    const list = [measure('highest level at the receiver', highest, 'V', 'at most', referenceV)];
    if (pulled) {
      const turned = inverter(OPERATING_SUPPLY_V.min, referenceV / pullOhm!);
      return {
        direct: 'damages',
        measures: list,
        conditioning: [turned, ...smooth],
        because: 'battery level on a pull-up to the reference',
        onLevel: duty ? null : 'low',
      };
    }
    if (highest <= referenceV && !duty)
      return { direct: 'works', measures: list, conditioning: [], because: rule.says, onLevel };
    return {
      direct: 'damages',
      measures: list,
      conditioning: [divider(highest, referenceV), ...smooth],
      because: rule.says,
      onLevel,
    };
  }
  if (driver.of.class === 'push-pull-5v') {
    const highest = driver.of.maxV ?? 5;
    const list = [measure('highest level at the receiver', highest, 'V', 'at most', referenceV)];
    if (highest <= referenceV)
      return {
        direct: 'works',
        measures: list,
        conditioning: smooth,
        because: rule.says,
        onLevel: 'high',
      };
    return {
      direct: 'damages',
      measures: list,
      conditioning: [divider(highest, referenceV)],
      because: 'the level is above the reference',
      onLevel: 'high',
    };
  }
  if (pulled) {
    const sinkA = (receiver.of.pullToV ?? 5) / pullOhm!;
    const list = [measure('current through the pull', sinkA, 'A', 'at most', driver.of.maxA)];
    if (list[0]!.holds === false) {
      return {
        direct: 'overloads',
        measures: list,
        conditioning: [currentLimit(receiver.of.pullToV ?? 5, driver.of.maxA!)],
        because: 'the driver cannot sink the current of the pull-up',
        onLevel,
      };
    }
    return {
      direct: smooth.length > 0 ? 'misreads' : 'works',
      measures: list,
      conditioning: smooth,
      because: rule.says,
      onLevel,
    };
  }
  const added = pullUpTo(4700, referenceV, 'E24', 'an open switch leaves the input floating');
  const list = [measure('current through the pull', referenceV / 4700, 'A', 'at most', driver.of.maxA)];
  return {
    direct: 'does-nothing',
    measures: list,
    conditioning: [added, ...smooth],
    because: 'the input has no pull-up',
    onLevel,
  };
}
