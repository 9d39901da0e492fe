/*
 * The drive of the sample logs: an invented vehicle on an invented road, in steps of 10 ms. Plain arithmetic, so that every machine
 * computes the same. What happens when is in `EVENTS_MS`; tests and readers of the logs may rely on it.
 */

/** Moments of the drive, in milliseconds from its beginning. */
export const EVENTS_MS = {
  crank: 1000,
  running: 1800,
  idle: 3500,
  reverse: 6000,
  neutral: 7000,
  driveRange: 7200,
  driveAway: 9000,
  airConditioning: 12_000,
  cruise: 20_000,
  cruiseSet: 21_000,
  cruiseCancel: 28_000,
  manual: 30_000,
  /** Upshifts by the driver, then downshifts. */
  shiftUp: [32_000, 35_000],
  shiftDown: [38_500, 40_000],
  /** The powertrain network is silent in between. */
  dropout: 42_000,
  recovery: 43_500,
  braking: 46_000,
  standing: 53_000,
  park: 54_000,
  keyOff: 56_000,
  end: 58_000,
} as const;

export const STEP_MS = 10;
export const IDLE_RPM = 700;
export const CRANK_RPM = 200;
/** Ratios of the eight forward gears; reverse is 3.3. */
const RATIOS = [4.71, 3.14, 2.1, 1.67, 1.29, 1, 0.84, 0.67] as const;
const AXLE = 3.42;
const TYRE_CIRCUMFERENCE_M = 2.2;
/** The evaporator cools while the compressor runs and warms while it does not, in °F a second. */
const EVAPORATOR_FALL = 1.6;
const EVAPORATOR_RISE = 2;
/** The compressor is asked for from here up and not below; the band of the map's route for the request is the same. */
const EVAPORATOR_ON = 45;
const EVAPORATOR_OFF = 40;
/** From the request to the clutch. */
const COMPRESSOR_LAG_MS = 300;

/** The vehicle at one moment, in the units of daily use. */
export interface Moment {
  readonly ms: number;
  readonly key: 'Run' | 'Crank' | 'Off';
  readonly runState: 'Stopped' | 'Cranking' | 'Running' | 'Stopping';
  readonly engineRpm: number;
  readonly pedalPercent: number;
  readonly range: 'P' | 'R' | 'N' | 'D' | 'M';
  /** 1–8 ahead. */
  readonly gear: number | 'N' | 'R';
  readonly shift: 'No shift' | 'Upshift' | 'Downshift';
  readonly converter: 'Unlocked' | 'Locked';
  readonly inputRpm: number;
  readonly outputRpm: number;
  readonly kmh: number;
  readonly brake: boolean;
  readonly brakeKpa: number;
  readonly torquePercent: number;
  readonly evaporatorF: number;
  readonly acWanted: boolean;
  readonly compressorOn: boolean;
  readonly cruise: 'Off' | 'Standby' | 'Active';
  readonly coolantC: number;
  readonly volts: number;
  /** Fuel used since the start, in litres. */
  readonly litres: number;
  readonly litresPerHour: number;
  readonly metres: number;
  readonly revolutions: number;
}

/** Speeds at moments, km/h; straight lines in between. */
const SPEED: readonly (readonly [number, number])[] = [
  [0, 0],
  [EVENTS_MS.driveAway, 0],
  [EVENTS_MS.cruise, 48],
  [EVENTS_MS.manual, 48],
  [EVENTS_MS.shiftDown[0], 68],
  [EVENTS_MS.braking, 52],
  [EVENTS_MS.standing, 0],
  [EVENTS_MS.end, 0],
];

/** Every step of the drive, from its beginning to its end. */
export function drive(): readonly Moment[] {
  const moments: Moment[] = [];
  let evaporatorF = 52;
  let request = false;
  const requests: boolean[] = [];
  let litres = 0;
  let metres = 0;
  let revolutions = 0;
  let coolantC = 71;
  for (let ms = 0; ms <= EVENTS_MS.end; ms += STEP_MS) {
    const kmh = along(SPEED, ms);
    const rising = along(SPEED, ms + 100) - kmh;
    const range = rangeAt(ms);
    const gear = gearAt(ms, kmh, range);
    const outputRpm = (kmh / 3.6 / TYRE_CIRCUMFERENCE_M) * AXLE * 60;
    const inputRpm = typeof gear === 'number' ? outputRpm * RATIOS[gear - 1]! : 0;
    const engineRpm = engineAt(ms, inputRpm, kmh);
    const running = engineRpm > 0 && ms >= EVENTS_MS.running && ms < EVENTS_MS.keyOff;
    const torquePercent = running ? (kmh === 0 ? 8 : Math.max(-10, Math.min(100, 14 + rising * 70))) : 0;
    const acWanted = running && ms >= EVENTS_MS.airConditioning;
    // Half degrees, as the climate control sends them.
    const shownF = Math.round(evaporatorF * 2) / 2;
    if (acWanted && shownF >= EVAPORATOR_ON) request = true;
    if (!acWanted || shownF < EVAPORATOR_OFF) request = false;
    requests.push(request);
    const compressorOn = requests[requests.length - 1 - COMPRESSOR_LAG_MS / STEP_MS] ?? false;
    evaporatorF = Math.min(52, evaporatorF + ((compressorOn ? -EVAPORATOR_FALL : EVAPORATOR_RISE) * STEP_MS) / 1000);
    const litresPerHour = running ? 0.8 + Math.max(0, torquePercent) * engineRpm * 0.00012 : 0;
    litres += (litresPerHour / 3_600_000) * STEP_MS;
    metres += (kmh / 3600) * STEP_MS;
    revolutions += (engineRpm / 60_000) * STEP_MS;
    if (running && coolantC < 90) coolantC += 0.004;
    const brake =
      (ms >= 500 && ms < EVENTS_MS.driveAway - 500) || (ms >= EVENTS_MS.braking && ms < EVENTS_MS.keyOff + 1000);
    moments.push({
      ms,
      key: ms >= EVENTS_MS.keyOff ? 'Off' : ms >= EVENTS_MS.crank && ms < EVENTS_MS.running ? 'Crank' : 'Run',
      runState: runStateAt(ms),
      engineRpm,
      pedalPercent: running && rising > 0 ? Math.min(60, 12 + rising * 70) : kmh > 0 && rising === 0 ? 11 : 0,
      range,
      gear,
      shift: shiftAt(ms),
      converter: typeof gear === 'number' && gear >= 3 ? 'Locked' : 'Unlocked',
      inputRpm,
      outputRpm,
      kmh,
      brake,
      brakeKpa: brake ? (kmh > 0 ? 2400 : 1200) : 0,
      torquePercent,
      evaporatorF,
      acWanted,
      compressorOn,
      cruise: cruiseAt(ms),
      coolantC,
      volts: voltsAt(ms),
      litres,
      litresPerHour,
      metres,
      revolutions,
    });
  }
  return moments;
}

function along(points: readonly (readonly [number, number])[], x: number): number {
  for (let at = 1; at < points.length; at += 1) {
    const [x0, y0] = points[at - 1]!;
    const [x1, y1] = points[at]!;
    if (x <= x1) return x <= x0 ? y0 : y0 + ((y1 - y0) * (x - x0)) / (x1 - x0);
  }
  return points.at(-1)![1];
}

function rangeAt(ms: number): Moment['range'] {
  if (ms < EVENTS_MS.reverse || ms >= EVENTS_MS.park) return 'P';
  if (ms < EVENTS_MS.neutral) return 'R';
  if (ms < EVENTS_MS.driveRange) return 'N';
  return ms < EVENTS_MS.manual || ms >= EVENTS_MS.braking ? 'D' : 'M';
}

/** By speed in range D; in M the third gear and what the driver's buttons add. */
function gearAt(ms: number, kmh: number, range: Moment['range']): Moment['gear'] {
  switch (range) {
    case 'P':
    case 'N':
      return 'N';
    case 'R':
      return 'R';
    case 'D':
      return kmh < 18 ? 1 : kmh < 34 ? 2 : 3;
    case 'M': {
      const past = (moments: readonly number[]): number => moments.filter((at) => ms >= at + SHIFT_AFTER_MS).length;
      return 3 + past(EVENTS_MS.shiftUp) - past(EVENTS_MS.shiftDown);
    }
  }
}

/** From a button to the new gear; the shift shows meanwhile. */
const SHIFT_AFTER_MS = 300;

function shiftAt(ms: number): Moment['shift'] {
  const shifting = (moments: readonly number[]): boolean => moments.some((at) => ms >= at && ms < at + SHIFT_AFTER_MS);
  if (shifting(EVENTS_MS.shiftUp)) return 'Upshift';
  return shifting(EVENTS_MS.shiftDown) ? 'Downshift' : 'No shift';
}

const ENGINE: readonly (readonly [number, number])[] = [
  [EVENTS_MS.running, CRANK_RPM],
  [EVENTS_MS.running + 400, 1150],
  [EVENTS_MS.idle, IDLE_RPM],
];

/** Cranks, flares up, falls to idle; idles or follows the gearbox; runs down. */
function engineAt(ms: number, inputRpm: number, kmh: number): number {
  if (ms < EVENTS_MS.crank) return 0;
  if (ms < EVENTS_MS.running) return CRANK_RPM;
  if (ms < EVENTS_MS.idle) return along(ENGINE, ms);
  if (ms >= EVENTS_MS.keyOff) return Math.max(0, IDLE_RPM - (ms - EVENTS_MS.keyOff) * 1.4);
  return kmh === 0 ? IDLE_RPM : Math.max(IDLE_RPM, inputRpm);
}

function runStateAt(ms: number): Moment['runState'] {
  if (ms < EVENTS_MS.crank) return 'Stopped';
  if (ms < EVENTS_MS.running) return 'Cranking';
  if (ms < EVENTS_MS.keyOff) return 'Running';
  return ms < EVENTS_MS.keyOff + 500 ? 'Stopping' : 'Stopped';
}

function cruiseAt(ms: number): Moment['cruise'] {
  if (ms < EVENTS_MS.cruise || ms >= EVENTS_MS.keyOff) return 'Off';
  return ms >= EVENTS_MS.cruiseSet && ms < EVENTS_MS.cruiseCancel ? 'Active' : 'Standby';
}

function voltsAt(ms: number): number {
  if (ms < EVENTS_MS.crank) return 12.4;
  if (ms < EVENTS_MS.running) return 10.1;
  return ms < EVENTS_MS.keyOff ? 14.2 : 12.6;
}
