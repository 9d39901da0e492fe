import type { Pairing, Route, WireEntry } from '../../model/index.ts';
import { levelFailure, onLevel, restLevel, type ConductorEnds, type ConductorLevel } from './outcome.ts';
import type { ElementFailure } from './step.ts';
import type { WayElement } from './way.ts';

/** One conductor from a source to a reader, or to a pin of the interface module that looks at it. */
export interface Conductor extends ConductorEnds {
  readonly pairing: Pairing;
  readonly route: Route;
}

/**
 * What the reader has when one element of a conductor fails. Levels follow from the electrical classes of both ends: an open
 * conductor rests where the reader's pull or load holds it. Effects of a fault on other circuits are not in it.
 */
export function hardFailures(element: WayElement, conductor: Conductor): readonly ElementFailure[] {
  const { source, reader } = conductor;
  const driver = source?.wire.electrical.class ?? null;
  const on = driver === null ? null : onLevel(driver);
  const rest = restLevel(reader, driver);
  const at = (how: string, cause: string, level: ConductorLevel): ElementFailure =>
    levelFailure(how, cause, level, conductor);
  switch (element.kind) {
    case 'wire':
      return [
        at('opens', 'nothing drives the conductor', rest),
        at('shorted to ground', grounded(source), 'low'),
        at('shorted to battery', 'the conductor is held at battery', 'high'),
      ];
    case 'connector':
      return element.role === 'supplies'
        ? [at('opens', 'the source loses its supply or its return', null)]
        : [at('opens', 'the cavity parts or corrodes: nothing drives the conductor', rest)];
    case 'splice':
      return [at('opens', 'the joint lets go: nothing drives the conductor behind it', rest)];
    case 'in-line-connector':
    case 'fuse':
    case 'resistor':
      return [at('opens', 'the conductor is parted: nothing drives it behind', rest)];
    case 'diode':
      return [
        at('opens', 'the conductor is parted: nothing drives it behind', rest),
        {
          how: 'shorted',
          reads: '',
          effect: 'what it keeps apart is joined: a neighbour can feed this circuit',
          standing: 'undecided',
        },
      ];
    case 'feed':
      return [at('is dead', 'its fuse is blown or it is switched off', feedLevel(conductor, element.ref, rest))];
    case 'ground':
      return [at('opens', 'the return is gone', groundLevel(conductor, on, rest))];
    case 'relay':
      if (element.role === 'reads') return [readerFails(element)];
      if (element.role === 'carries') return seriesRelay(element, at, rest);
      return contactFailures(at, on, rest);
    case 'terminator':
      return [];
    default:
      if (element.role === 'reads') return [readerFails(element)];
      return element.role === 'source' ? sourceFailures(element, at, on, rest) : [];
  }
}

type At = (how: string, cause: string, level: ConductorLevel) => ElementFailure;

function grounded(source: WireEntry | null): string {
  const held = 'the conductor is held at ground';
  if (source?.wire.electrical.class !== 'switched-battery') return held;
  return source.wire.feed === undefined
    ? `${held}, and the driver is overloaded when it drives`
    : `${held}, and the fuse of ${source.side}:${source.wire.feed} blows when the driver closes`;
}

function sourceFailures(element: WayElement, at: At, on: ConductorLevel, rest: ConductorLevel): ElementFailure[] {
  if (!element.programmable) return contactFailures(at, on, rest);
  return [
    at('stops', 'it drives nothing', rest),
    at('drives wrongly', 'its own firmware, or its output stage, has it on when it should be off', on),
  ];
}

function contactFailures(at: At, on: ConductorLevel, rest: ConductorLevel): ElementFailure[] {
  return [
    at('stays open', 'its contact does not close', rest),
    at('stays closed', 'its contact is welded or bridged', on),
  ];
}

function seriesRelay(element: WayElement, at: At, rest: ConductorLevel): ElementFailure[] {
  return [
    at('stays open', 'its contact does not close: the conductor is parted', rest),
    {
      how: 'stays closed',
      reads: 'source',
      effect:
        'its contact is welded: the reader follows the source alone, and what the relay was to inhibit is not inhibited',
      standing: 'undecided',
    },
    ...(element.programmable
      ? [
          {
            how: 'is commanded wrongly',
            reads: 'firmware',
            effect: `${element.why}: one wrong bit closes or parts the path`,
            standing: 'undecided' as const,
          },
        ]
      : []),
  ];
}

function readerFails({ ref }: WayElement): ElementFailure {
  return {
    how: 'fails',
    reads: 'nobody',
    effect: `${ref} does not act on what arrives, whatever it is`,
    standing: 'undecided',
  };
}

/** Where the conductor goes when a feed dies: to rest when the driver lives on it or the load hangs on it. */
function feedLevel({ source, reader }: Conductor, ref: string, rest: ConductorLevel): ConductorLevel {
  const feedsDriver = source !== null && ref === `${source.side}:${source.wire.feed ?? source.wire.electrical.supply}`;
  if (feedsDriver) return onLevel(source.wire.electrical.class) === 'high' ? rest : null;
  // A coil on a dead feed has no voltage across it, as if its conductor were open.
  return reader.wire.electrical.class === 'coil-to-battery' ? rest : null;
}

function groundLevel({ source, reader }: Conductor, on: ConductorLevel, rest: ConductorLevel): ConductorLevel {
  if (source?.wire.ground !== undefined && on === 'low') return rest;
  return reader.wire.electrical.class === 'coil-to-ground' ? rest : null;
}
