import type { KEY_STATES, VehicleFunction } from '../model/index.ts';

export type KeyState = (typeof KEY_STATES)[number];

/**
 * Key states in which a function must work, where that is more or other than `run`. Common practice: what starts the engine works
 * while it is started, what stops a vehicle is shown at any time.
 */
const NEEDED: Readonly<Record<string, readonly KeyState[]>> = {
  'park-neutral-starter-interlock': ['start'],
  'clutch-pedal-starter-interlock': ['start'],
  'starter-relay-command': ['start'],
  'crank-request': ['start'],
  'ignition-crank-state': ['start'],
  'ignition-accessory-state': ['accessory'],
  'ignition-run-state': ['run', 'start'],
  'immobilizer-authorization': ['run', 'start'],
  'engine-running-status': ['run', 'start'],
  'fuel-pump-enable': ['run', 'start'],
  'crash-fuel-cutoff': ['run', 'start'],
  'engine-stop-request': ['run', 'start'],
  'stop-lamp-activation': ['off', 'accessory', 'run', 'start'],
  'key-removal-park-interlock': ['accessory', 'run'],
};
const RUN: readonly KeyState[] = ['run'];

/** Key states in which a function must work; `run` for one that says nothing else. */
export function neededIn(entry: VehicleFunction | null): readonly KeyState[] {
  return entry === null ? RUN : (NEEDED[entry.id] ?? RUN);
}
