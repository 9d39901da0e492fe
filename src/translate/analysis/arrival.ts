import type { Pairing, Route } from '../../model/index.ts';
import type { ValueDomain } from '../domain/value-domain.ts';
import type { Report } from './report.ts';
import type { Stage } from './route-analysis.ts';
import type { Track } from './track.ts';

/** A route up to its target. `last` is what the last step gives; null when that is not one value. */
export interface Arrival {
  readonly pairing: Pairing;
  readonly route: Route;
  readonly sources: readonly (ValueDomain | null)[];
  readonly stages: readonly Stage[];
  readonly last: Track | null;
  readonly target: ValueDomain | null;
  readonly report: Report;
}
