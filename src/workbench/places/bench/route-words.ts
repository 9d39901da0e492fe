import type { RouteAt } from './recording/at-cursor.ts';

/** The state of a route at the cursor in words. */
export interface StateWords {
  readonly short: string;
  readonly long: string;
  readonly tone: 'good' | 'bad' | 'warn' | 'plain';
}

export function stateWords({ state, clip, loss }: Pick<RouteAt, 'state' | 'clip' | 'loss'>): StateWords {
  switch (state) {
    case 'value':
      if (clip === 'none') return { short: 'value', long: 'a value is delivered', tone: 'good' };
      return {
        short: `clipped ${clip}`,
        long: `the value is held at the ${clip === 'low' ? 'low' : 'high'} end`,
        tone: 'warn',
      };
    case 'lost':
      return { short: 'in loss', long: `in loss: ${loss}`, tone: 'bad' };
    case 'not-yet':
      return {
        short: 'nothing yet',
        long: loss === '' ? 'nothing was received yet' : `nothing was received yet: ${loss}`,
        tone: 'plain',
      };
    case 'not-available':
      return { short: 'not available', long: 'the source says that it has no value', tone: 'warn' };
    case 'error':
      return { short: 'error', long: 'the source says that its value is wrong', tone: 'bad' };
    case 'other-writes':
      return { short: 'stands by', long: 'another route writes this target', tone: 'plain' };
    case 'conducted':
      return { short: 'direct', long: 'passed on without the interface module', tone: 'good' };
    case 'refused':
      return { short: 'not run', long: 'it was not run', tone: 'plain' };
  }
}
