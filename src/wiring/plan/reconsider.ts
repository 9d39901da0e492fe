import type { Circuit, Connector } from '../../model/index.ts';
import { ampacity, carriesCurrent, conductorTemperatureC } from '../conductor/ampacity.ts';
import { drop } from '../conductor/drop.ts';
import { chooseFuse, largestFuseA } from '../conductor/fuse.ts';
import { minimumSize, unmetBy } from '../conductor/minimum-size.ts';
import { conductorSize, harnessSizes, type ConductorSize } from '../conductor/size.ts';
import { twistFactor } from '../harness/bundle.ts';
import { CAN_TWIST } from '../tables/can-physical.ts';
import { cutLengthMm, rangeOf } from './conductors.ts';
import { insulationFor } from './demand.ts';
import type { PlannedConductor } from './planned-conductor.ts';
import type { PlanSettings } from './settings.ts';
import { limitOf, sizeDemand } from './size-demand.ts';

/** What a person tries on one conductor; what is absent stays as planned. */
export interface Trial {
  /** `1.5mm2` or `16AWG`. A text that stands for no conductor leaves the size as planned. */
  readonly size?: string;
  readonly lengthM?: number;
  readonly currentA?: number;
  readonly ambientC?: number;
  /** Rating of a fuse in line, put in front of this conductor. */
  readonly fuseA?: number;
}

/** What surrounds the conductor in its plan. */
export interface TrialAround {
  /** The conductors named in its `loop`, in that order. */
  readonly loop: readonly PlannedConductor[];
  /** The others of its twisted group. */
  readonly twisted: readonly PlannedConductor[];
  readonly find: (connector: string) => Connector | null;
  readonly settings: PlanSettings;
}

/** Which fuse its load and its ampacity leave room for. */
export interface FuseAdvice {
  /** The fuse in front of it, as documents or trial say. */
  readonly inFront: { readonly id: string; readonly fuseA: number | null; readonly place: 'feed' | 'in-line' } | null;
  /** Smallest rating made of which its load is at most the continuous share; null above the series. */
  readonly smallestA: number | null;
  /** Largest rating made that the conductor bears; null when it bears none. */
  readonly largestA: number | null;
  /** The smallest, when the conductor bears it; null when no rating does both. */
  readonly adviseA: number | null;
  /** `too-large`: the conductor would be the fuse; `too-small`: it opens under this load; `unknown`: no fuse known in front. */
  readonly verdict: 'fits' | 'too-large' | 'too-small' | 'unknown';
}

/** One conductor judged anew. Units stand in the names. */
export type Reconsidered = Pick<
  PlannedConductor,
  | 'size'
  | 'minimum'
  | 'sizeFaults'
  | 'lengthM'
  | 'cutLengthMm'
  | 'currentA'
  | 'ambientC'
  | 'insulation'
  | 'insulationC'
  | 'carrying'
  | 'ampacityA'
  | 'temperatureC'
  | 'dropV'
  | 'loopDropV'
  | 'limitV'
> & {
  readonly fuse: FuseAdvice;
  /** Sizes that the terminals at both ends accept together, in mm²; null when none states one. */
  readonly accepts: { readonly minMm2: number; readonly maxMm2: number } | null;
};

/**
 * Judges one conductor of a plan anew with what a person tries: the same formulas as the plan, on this conductor alone, so
 * that a window can follow every key. Its neighbours stay as planned, but for its own place in the bundle's count of those
 * that carry current.
 */
export function reconsider(conductor: PlannedConductor, trial: Trial, around: TrialAround): Reconsidered {
  const { settings } = around;
  const circuit = withFuse(conductor.circuit, trial.fuseA);
  const currentA = trial.currentA ?? conductor.currentA;
  const ambientC = trial.ambientC ?? conductor.ambientC;
  const lengthM = trial.lengthM ?? conductor.lengthM;
  const insulation = insulationFor(circuit, ambientC);
  const tried = trial.size === undefined ? null : conductorSize(trial.size);
  const carrying = carryingWith(conductor, tried ?? givenSize(circuit), currentA, insulation.maxC);
  const ranges = [circuit.from, circuit.to].flatMap((end) => rangeOf(around.find, end));
  const demand = sizeDemand(circuit, {
    currentA,
    loopLengthsM: [lengthM ?? 0, ...around.loop.map((other) => other.lengthM ?? 0)],
    ambientC,
    insulationC: insulation.maxC,
    carrying,
    ranges,
    supplyV: settings.supplyV,
  });
  const minimum = minimumSize(harnessSizes(settings.family), demand);
  // A size which nobody gave follows what the conductor must meet.
  const size = tried ?? givenSize(circuit) ?? minimum.size ?? conductor.size;
  const dropOf = (one: PlannedConductor): number | null =>
    one.lengthM === null ? null : dropV(one.currentA, one.size, one.lengthM, one.ambientC);
  const own = lengthM === null ? null : dropV(currentA, size, lengthM, ambientC);
  const drops = [own, ...around.loop.map(dropOf)];
  const { ampere } = ampacity(size, demand.around);
  return {
    size,
    minimum,
    sizeFaults: unmetBy(size, demand),
    lengthM,
    cutLengthMm: lengthM === null ? null : cutWithGroup(conductor, size, lengthM, around.twisted),
    currentA,
    ambientC,
    insulation: insulation.name,
    insulationC: insulation.maxC,
    carrying,
    ampacityA: ampere,
    temperatureC: conductorTemperatureC(size, currentA, demand.around),
    dropV: own,
    loopDropV: drops.some((one) => one === null) ? null : drops.reduce<number>((sum, one) => sum + one!, 0),
    limitV: limitOf(circuit, settings.supplyV),
    fuse: adviseFuse(circuit, currentA, ampere),
    accepts:
      ranges.length === 0
        ? null
        : {
            minMm2: Math.max(...ranges.map(({ minMm2 }) => minMm2)),
            maxMm2: Math.min(...ranges.map(({ maxMm2 }) => maxMm2)),
          },
  };
}

function withFuse(circuit: Circuit, fuseA: number | undefined): Circuit {
  return fuseA === undefined ? circuit : { ...circuit, fuse: { id: circuit.id, fuseA, place: 'in-line' } };
}

function givenSize(circuit: Circuit): ConductorSize | null {
  return circuit.conductor.size === null ? null : conductorSize(circuit.conductor.size);
}

function dropV(currentA: number, size: ConductorSize, lengthM: number, temperatureC: number): number {
  return drop(currentA, [{ ohmPerM20C: size.ohmPerM20C, lengthM, temperatureC }], []).dropV;
}

/** Thinnest that the plan takes for who carries current before sizes are chosen. */
const PROVISIONAL = '0.5mm2';

/** The count of its fullest segment, with this conductor in it or out of it as it now carries current or does not. */
function carryingWith(
  conductor: PlannedConductor,
  size: ConductorSize | null,
  currentA: number,
  insulationC: number,
): number {
  if (conductor.way === null || conductor.way.segments.length === 0) return conductor.carrying;
  const provisional = conductorSize(PROVISIONAL)!;
  const before = carriesCurrent(givenSize(conductor.circuit) ?? provisional, conductor.currentA, conductor.insulationC);
  const now = carriesCurrent(size ?? provisional, currentA, insulationC);
  return Math.max(1, conductor.carrying + Number(now) - Number(before));
}

/** Conductors twisted together are cut to one length, that of the longest. */
function cutWithGroup(
  { circuit, serviceM }: PlannedConductor,
  size: ConductorSize,
  lengthM: number,
  twisted: readonly PlannedConductor[],
): number {
  const twist = circuit.twistGroup === null ? 1 : twistFactor(size.outsideMm, CAN_TWIST.pitchMm);
  const others = twisted.flatMap((other) =>
    other.lengthM === null ? [] : [cutLengthMm(other.lengthM * other.twistFactor + other.serviceM)],
  );
  return Math.max(cutLengthMm(lengthM * twist + serviceM), ...others);
}

function adviseFuse({ fuse }: Circuit, loadA: number, ampacityA: number): FuseAdvice {
  const choice = chooseFuse(loadA, ampacityA);
  const inFront = fuse;
  const rating = inFront?.fuseA ?? null;
  return {
    inFront,
    smallestA: choice.ratingA,
    largestA: largestFuseA(ampacityA),
    adviseA: choice.protectsConductor ? choice.ratingA : null,
    verdict:
      rating === null
        ? 'unknown'
        : rating > ampacityA + 1e-9
          ? 'too-large'
          : rating < choice.neededA - 1e-9
            ? 'too-small'
            : 'fits',
  };
}
