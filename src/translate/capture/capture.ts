import { type Combination, type Pairing, type Route, holds } from '../../model/index.ts';
import { planModule } from '../plan/build.ts';
import type { WireLevel } from '../replay/types.ts';
import { USUAL_BUS_US } from '../vectors/vectors.ts';
import { type RouteCount, createCollector, emptyCount, tallyOf } from './collector.ts';
import { knownIds } from './known-ids.ts';
import { type ModuleWatch, createModuleWatch } from './module-watch.ts';
import type { Capture, CaptureOptions, CaptureReport } from './types.ts';

const USUAL_LEVEL_PART = 0.01;
const USUAL_LISTED = 100;
/** Extra ids that are told apart; further ones count as one. */
const MOST_IDS = 1000;
/** How often passing time is looked at. */
const TICK_US = 5_000;

/**
 * Holds a recording against a map while it is read.
 *
 * A value counts as right when some sample of its sources within the worst-case age before it explains it: period and latency of the
 * interface module, and what the buses add. Steps in time widen that: a filter stays within the range of what went in, a value held
 * back is judged when it has settled, bands with hysteresis are not judged. Before every source of a route has been seen nothing is. Where a cyclic source pauses, the recording may lack a frame of it: what does not fit is not judged until the
 * source is lost for certain. A frame that is missing is named once; a counter that has run on past it is no fault of its own.
 */
export function createCapture(pairing: Pairing, options: CaptureOptions = {}): Capture {
  const combination = options.combination ?? pairing.options.combinations[0] ?? new Map<string, string>();
  const collector = createCollector(options.mostListed ?? USUAL_LISTED);
  const counts = new Map<string, RouteCount>();
  const countOf = (route: string): RouteCount => {
    const known = counts.get(route) ?? emptyCount();
    counts.set(route, known);
    return known;
  };
  const setting = {
    busUs: options.busUs ?? USUAL_BUS_US,
    steps: options.steps ?? 0,
    part: options.levelPart ?? USUAL_LEVEL_PART,
    collector,
    countOf,
  };
  const plans = pairing.map.interfaceModules
    .filter(({ when }) => when === undefined || holds(when, combination))
    .map((module) => planModule(pairing, module, combination));
  const modules: readonly ModuleWatch[] = plans.map((plan) => createModuleWatch(pairing, plan, setting));
  const idOf = knownIds(pairing, combination);
  const extras = new Map<string, number>();
  const frames = { sources: 0, sent: 0, other: 0 };
  let fromUs: number | null = null;
  let untilUs: number | null = null;
  let tickedUs = -Infinity;

  const passTime = (timeUs: number): void => {
    fromUs ??= timeUs;
    untilUs = timeUs;
    if (timeUs - tickedUs < TICK_US) return;
    tickedUs = timeUs;
    for (const module of modules) module.tick(timeUs);
  };
  const extraId = (bus: string, frameId: number, extended: boolean, timeUs: number): void => {
    const known = idOf(bus, frameId, extended);
    if (known === null || known.kind === 'known') return;
    const name = `${bus} 0x${frameId.toString(16).toUpperCase()}`;
    const key = extras.size < MOST_IDS || extras.has(name) ? name : 'further ids';
    const before = extras.get(key) ?? 0;
    extras.set(key, before + 1);
    collector.add({
      kind: 'extra',
      timeUs,
      route: null,
      subject: known.kind === 'orphan' ? known.message : name,
      expected:
        known.kind === 'orphan'
          ? 'nothing: its sender is removed and the map does not send it'
          : 'nothing: no message has this id',
      found: before === 0 ? 'a frame' : 'a frame again',
      count: 1,
    });
  };
  return {
    onFrame({ timeUs, bus, frameId, extended, data }) {
      passTime(timeUs);
      let sent = false;
      let source = false;
      for (const module of modules) {
        const role = module.frame(bus, frameId, extended, data, timeUs);
        sent ||= role === 'sent' || role === 'both';
        source ||= role === 'source' || role === 'both';
      }
      if (sent) frames.sent += 1;
      if (source) frames.sources += 1;
      if (sent || source) return;
      frames.other += 1;
      extraId(bus, frameId, extended, timeUs);
    },
    onWire(wire, level: WireLevel, timeUs) {
      passTime(timeUs);
      for (const module of modules) module.wire(wire, level, timeUs);
    },
    report(ended = false): CaptureReport {
      if (ended && untilUs !== null) for (const module of modules) module.tick(untilUs);
      return {
        combination,
        fromUs,
        untilUs,
        frames: { ...frames },
        routes: pairing.map.routes
          .filter((route) => isCarried(route, combination, plans))
          .map((route) => tallyOf(route.id, route.by ?? plans[0]?.module.id ?? null, route.to, countOf(route.id))),
        messages: modules.flatMap((module) => module.messages()),
        mismatches: collector.listed,
        totals: { ...collector.totals },
        unheard: modules.flatMap((module) => module.unheard()),
        unseenSources: [...new Set(modules.flatMap((module) => module.unseenSources()))],
        refused: plans.flatMap(({ refused }) => refused.map(({ id, why }) => ({ id, why }))),
      };
    },
  };
}

function isCarried(
  { carrier, by, when }: Route,
  combination: Combination,
  plans: readonly { module: { id: string } }[],
): boolean {
  if (carrier === 'hard-wire' || (when !== undefined && !holds(when, combination))) return false;
  return by === undefined ? plans.length === 1 : plans.some(({ module }) => module.id === by);
}
