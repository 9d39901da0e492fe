import type { Electrical } from '../document/electrical.ts';
import type { Criticality } from '../functions/catalogue.ts';

/**
 * Where a conductor of the added harness ends. `key` names the place and is the same for every conductor that reaches it;
 * connectors read `side:connector`, or a plain id when the map adds them.
 */
export type CircuitEnd =
  | {
      readonly kind: 'cavity';
      readonly key: string;
      readonly connector: string;
      readonly cavity: string;
      /** `tap` where a conductor of the retained vehicle harness stays in the cavity and the added one is spliced onto it. */
      readonly joint: 'terminal' | 'tap';
    }
  | { readonly kind: 'stud'; readonly key: string; readonly ground: string; readonly stud: string | null }
  | {
      readonly kind: 'part';
      readonly key: string;
      readonly part: string;
      readonly terminal: string;
      /** Cavity of the part's socket or connector, when the map gives one. */
      readonly connector: string | null;
      readonly cavity: string | null;
    }
  | { readonly kind: 'splice'; readonly key: string; readonly splice: string }
  /** Nothing in the documents says where: `of` is the wire, feed, ground or pin whose place is not known. */
  | { readonly kind: 'unknown'; readonly key: string; readonly of: string };

export const CIRCUIT_KINDS = [
  'hard-wire',
  'pin',
  'sensor-supply',
  'sensor-return',
  'feed',
  'ground',
  'bus',
  'coil',
  'part',
  'splice-stub',
] as const;
export type CircuitKind = (typeof CIRCUIT_KINDS)[number];

/** What is known of the conductor; null where nobody has said. Size with its unit, colour in IEC 60757 letters. */
export interface CircuitConductor {
  readonly size: string | null;
  readonly sizeFrom: 'circuit' | 'route' | 'platform' | null;
  readonly colour: string | null;
  readonly insulation: string | null;
  readonly maxC: number | null;
  /** A length measured by hand, in metres; it takes the place of the length over the segments. */
  readonly lengthM: number | null;
  readonly shielded: boolean;
}

/** The fuse in front of a conductor: of a platform's feed, or added in line. */
export interface CircuitFuse {
  readonly id: string;
  readonly fuseA: number | null;
  readonly place: 'feed' | 'in-line';
}

/** One conductor of the added harness, with two ends and one path. */
export interface Circuit {
  /** The number printed on the wire: the person's, else one made from the key. */
  readonly id: string;
  /** Stable: `route:park-neutral/1`, `pin:xm.in3`, `feed:xm`, `ground:xm`, `bus:xm.A/high`, `coil:k1`, `part:k1.30`. */
  readonly key: string;
  /** Keys of conductors that turned out to be this same one. */
  readonly otherKeys: readonly string[];
  readonly kind: CircuitKind;
  readonly from: CircuitEnd;
  readonly to: CircuitEnd;
  readonly functionIds: readonly string[];
  readonly routeIds: readonly string[];
  /** Worst class of its functions, raised as the map raises it; null when it serves none that is known. */
  readonly criticality: Criticality | null;
  readonly conductor: CircuitConductor;
  readonly fromElectrical: Electrical | null;
  readonly toElectrical: Electrical | null;
  readonly loadA: number | null;
  readonly inrushA: number | null;
  /** Conductors of one group are twisted together. */
  readonly twistGroup: string | null;
  readonly fuse: CircuitFuse | null;
  /** The interface module's feed, ground or bus connection, or the part, that it belongs to; else null. */
  readonly of: string | null;
  /** Nodes of the harness it must pass through, in order, as a person chose them. */
  readonly through: readonly string[];
  /** Service allowance for this circuit, in metres; null means the harness's own. */
  readonly serviceM: number | null;
  readonly label: string | null;
  /** Option combinations in which it is fitted. */
  readonly mask: bigint;
  /** Documents of the platforms which its facts were taken from: `side:document`. */
  readonly documents: readonly string[];
  readonly note: string | null;
  /** What is not known and must be found out before the harness can be built, in words. */
  readonly missing: readonly string[];
}

/** A joint of three or more conductors, made so that no cavity holds two. */
export interface Splice {
  readonly id: string;
  /** Keys of the conductors that meet in it. */
  readonly circuits: readonly string[];
  /** The place whose sharing made it necessary. */
  readonly at: CircuitEnd;
  readonly mask: bigint;
}

/** Something the harness cannot resolve: what it concerns, and why. */
export interface CircuitProblem {
  readonly kind:
    | 'unknown-part'
    | 'unknown-pin'
    | 'unknown-feed'
    | 'unknown-ground'
    | 'unknown-bus'
    | 'not-a-wire'
    | 'pin-without-wire'
    | 'wire-without-pin'
    | 'without-feed'
    | 'without-ground'
    | 'bus-without-tap'
    | 'port-without-cavities'
    | 'same-place'
    | 'terminal-joined-to-nothing'
    | 'choice-of-nothing'
    | 'drivers-joined';
  /** Reference of what it concerns: a route, part, pin, port, module or circuit choice. */
  readonly subject: string;
  readonly message: string;
}

/** The added harness as derived: its conductors, joints, and what stands in the way. */
export interface AddedHarness {
  readonly circuits: readonly Circuit[];
  readonly splices: readonly Splice[];
  readonly problems: readonly CircuitProblem[];
}
