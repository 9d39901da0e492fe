import {
  findPin,
  type Endpoint,
  type InterfaceModule,
  type Pairing,
  type Route,
  type WireEntry,
} from '../../model/index.ts';
import { lossWords, type RouteAnalysis } from '../../translate/index.ts';
import { hardFailures } from './hard-failures.ts';
import { levelFailure, restLevel, standingOfLoss, type ConductorLevel } from './outcome.ts';
import type { ElementFailure } from './step.ts';
import type { WayElement } from './way.ts';

/** A route with firmware or a network between its source and its reader. */
export interface Firmware {
  readonly pairing: Pairing;
  readonly route: Route;
  readonly functionId: string | null;
  readonly analysis: RouteAnalysis;
  readonly by: InterfaceModule | null;
  readonly target: Endpoint | null;
}

/** What the reader has when one element of such a route fails. */
export function firmwareFailures(element: WayElement, firmware: Firmware): readonly ElementFailure[] {
  switch (element.kind) {
    case 'bus':
    case 'port':
      return element.part === 'in' ? [sourceLost('stops', element, firmware)] : [targetSilent('stops', firmware)];
    case 'interface':
      return [
        moduleDead('stops', 'it does nothing', firmware),
        {
          how: 'computes wrongly',
          reads: 'any value',
          effect: 'any value can arrive, under a right counter and checksum: nothing behind it notices',
          standing: 'undecided',
        },
      ];
    case 'pin':
      return element.part === 'in' ? wireIn(element, firmware) : pinOut(firmware);
    case 'feed':
    case 'ground':
      if (element.part === 'out' || element.ref === firmware.by?.feed || element.ref === firmware.by?.ground)
        return [
          moduleDead(element.kind === 'feed' ? 'is dead' : 'opens', 'the interface module is without supply', firmware),
        ];
      return wireIn(element, firmware);
    case 'wire':
    case 'connector':
      return element.part === 'in' ? wireIn(element, firmware) : wireOut(element, firmware);
    default:
      if (element.role === 'reads') return hardFailuresOfReader(element);
      if (element.role === 'source') return ofSource(element, firmware);
      // A part of the harness on the way to a wire that the module drives is taken for one behind its output.
      return firmware.target?.kind === 'wire' ? wireOut(element, firmware) : wireIn(element, firmware);
  }
}

function ofSource(element: WayElement, firmware: Firmware): readonly ElementFailure[] {
  const entries = element.sources.map((ref) => firmware.pairing.find(ref));
  const frames = entries.flatMap((entry) => (entry === null || entry.kind === 'wire' ? [] : [entry.message]));
  if (frames.length === 0) return wireIn(element, firmware);
  const guarded = frames.every(({ protection }) => protection !== undefined);
  const checked = firmware.route.verifySource === true && guarded;
  return [
    sourceLost('stops', element, firmware),
    {
      how: 'sends a wrong value',
      reads: checked ? 'wrong value, corruption noticed' : 'wrong value',
      effect: checked
        ? 'a wrong value in a good frame arrives as it is; a corrupted frame is refused by its counter and checksum'
        : guarded
          ? 'a wrong value, and a corrupted frame too, arrives as it is: counter and checksum of the source are not verified'
          : 'a wrong value, and a corrupted frame too, arrives as it is: the source has no counter and checksum',
      standing: 'undecided',
    },
  ];
}

/** The source falls silent: by route it is noticed, or only by the reader's own time-out. */
function sourceLost(how: string, { sources }: WayElement, firmware: Firmware): ElementFailure {
  const { route, analysis, functionId } = firmware;
  const lost = silentWords(sources, route);
  if (route.carrier !== 'interface')
    return { ...targetSilent(how, firmware), effect: `${lost}: ${timeOutWords(firmware)}` };
  if (route.staleAfterMs === undefined)
    return {
      how,
      reads: 'last value',
      effect: `${lost}; nothing is said about when it counts as lost: the last value stays`,
      standing: 'undecided',
    };
  return {
    how,
    reads: `${route.staleAfterMs} ms ${JSON.stringify(route.onLoss ?? null)}`,
    effect: `${lost}; after ${route.staleAfterMs} ms ${lossWords(route, analysis.target)}`,
    standing: standingOfLoss(functionId, route.onLoss),
  };
}

/** Which sources fall silent; more than two are counted, the element names them. */
function silentWords(sources: readonly string[], { from }: Route): string {
  if (sources.length === from.length) return from.length > 1 ? 'all sources fall silent' : 'the source falls silent';
  if (sources.length > 2) return `${sources.length} of ${from.length} sources fall silent`;
  return `${sources.join(' and ')} ${sources.length === 1 ? 'falls' : 'fall'} silent`;
}

function timeOutWords({ target }: Firmware): string {
  const stale = target && target.kind !== 'wire' ? target.message.staleAfterMs : undefined;
  return stale === undefined
    ? 'the reader hears nothing; when it notices is not in the documents'
    : `the reader hears nothing and notices after ${stale} ms, as its platform says`;
}

function targetSilent(how: string, firmware: Firmware): ElementFailure {
  const { target } = firmware;
  const stale = target && target.kind !== 'wire' ? target.message.staleAfterMs : undefined;
  return {
    how,
    reads: stale === undefined ? '' : `time-out ${stale} ms`,
    effect: timeOutWords(firmware),
    standing: 'undecided',
  };
}

function moduleDead(how: string, cause: string, firmware: Firmware): ElementFailure {
  const { target, by, route, pairing } = firmware;
  if (target?.kind !== 'wire') {
    const silent = targetSilent(how, firmware);
    return { ...silent, effect: `${cause}: ${silent.effect}` };
  }
  const safe = by && route.leaves !== undefined ? findPin(pairing, by.id, route.leaves)?.safeLevel : undefined;
  if (safe === undefined)
    return {
      how,
      reads: '',
      effect: `${cause}; the level its output then has is not in the documents`,
      standing: 'undecided',
    };
  const level: ConductorLevel = safe === 'open' ? restLevel(target, null) : safe;
  return levelFailure(how, `${cause}; its output is ${safe}`, level, out(firmware, target));
}

function out({ functionId }: Firmware, reader: WireEntry) {
  return { reader, source: null, functionId };
}

function pinOut(firmware: Firmware): readonly ElementFailure[] {
  const { target } = firmware;
  if (target?.kind !== 'wire') return [];
  return [
    levelFailure('opens', 'the output is open', restLevel(target, null), out(firmware, target)),
    levelFailure('stays low', 'the output stage is shorted to ground', 'low', out(firmware, target)),
    levelFailure('stays high', 'the output stage is shorted to battery', 'high', out(firmware, target)),
  ];
}

function wireOut(element: WayElement, { target, pairing, route, functionId }: Firmware): readonly ElementFailure[] {
  return target?.kind === 'wire'
    ? hardFailures(element, { pairing, route, functionId, source: null, reader: target })
    : [];
}

/** A conductor that ends at a pin of the interface module: what the pin then sees. The route makes of it what its steps say. */
function wireIn(element: WayElement, { pairing, route, by }: Firmware): readonly ElementFailure[] {
  return element.sources.flatMap((ref) => {
    const source = pairing.find(ref);
    if (source?.kind !== 'wire' || by === null) return [];
    const wires = route.from.filter((other) => pairing.find(other)?.kind === 'wire');
    const pin = findPin(pairing, by.id, route.enters?.[wires.indexOf(ref)] ?? '');
    if (!pin) return [];
    const reader: WireEntry = {
      ...source,
      wire: {
        ...source.wire,
        module: `pin ${by.id}.${pin.id}`,
        electrical: { ...pin.electrical, ...levelOf(source, pin.electrical) },
      },
    };
    // The pin's own failures are those of its conductor.
    const row: WayElement = element.kind === 'pin' ? { ...element, kind: 'wire' } : element;
    return hardFailures(row, { pairing, route, functionId: null, source, reader });
  });
}

function levelOf(source: WireEntry, pin: WireEntry['wire']['electrical']) {
  const level = source.wire.electrical.activeLevel ?? pin.activeLevel;
  return level === undefined ? {} : { activeLevel: level };
}

function hardFailuresOfReader({ ref }: WayElement): readonly ElementFailure[] {
  return [
    {
      how: 'fails',
      reads: 'nobody',
      effect: `${ref} does not act on what arrives, whatever it is`,
      standing: 'undecided',
    },
  ];
}
