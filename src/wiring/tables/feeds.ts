import type { Feed, KEY_STATES } from '../../model/index.ts';

export type KeyState = (typeof KEY_STATES)[number];

/** Key states in which a kind of feed is live when the platform does not list them. Common practice. */
export const LIVE_IN: Readonly<Record<Feed['kind'], readonly KeyState[]>> = {
  battery: ['off', 'accessory', 'run', 'start'],
  accessory: ['accessory', 'run'],
  ignition: ['run', 'start'],
  start: ['start'],
  switched: ['run', 'start'],
};
