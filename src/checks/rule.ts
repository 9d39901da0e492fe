import type {
  CrossloomMap,
  Bus,
  Edit,
  InterfaceModule,
  MessageEntry,
  Module,
  PairingDocuments,
  Provenance,
  Route,
  SideName,
  Supply,
  Transmit,
  VehicleFunction,
  WireEntry,
} from '../model/index.ts';
import type { RouteFit, WiringPlan } from '../wiring/index.ts';
import type { CheckContext } from './context.ts';

/** One option axis of a map. */
export type OptionChoices = NonNullable<CrossloomMap['options']>[number];

/** `stop`: somebody can be hurt, or the map cannot work; `fix`: it is wrong; `look`: a person should see it. */
export type Severity = 'stop' | 'fix' | 'look';
export const SEVERITIES: readonly Severity[] = ['stop', 'fix', 'look'];

export interface ModuleSubject {
  readonly side: SideName;
  readonly ref: string;
  readonly module: Module;
}
export interface BusSubject {
  readonly side: SideName;
  readonly ref: string;
  readonly bus: Bus;
}

/** What a rule can be asked about, by scope. Every function of the catalogue is a subject, whether the map uses it or not. */
export interface Subjects {
  readonly route: Route;
  /** One driver on one receiver of a route, by conductors. */
  readonly fit: RouteFit;
  readonly transmit: Transmit;
  readonly need: Supply;
  readonly message: MessageEntry;
  readonly wire: WireEntry;
  readonly module: ModuleSubject;
  readonly bus: BusSubject;
  readonly interface: InterfaceModule;
  readonly option: OptionChoices;
  readonly function: VehicleFunction;
  /** The added harness as a whole: asked again only when a conductor can be another. */
  readonly harness: WiringPlan;
  readonly map: CrossloomMap;
}
export type Scope = keyof Subjects;

/** A value that led to a finding, with its unit ('' when it has none). */
export interface NamedValue {
  readonly name: string;
  readonly value: string | number;
  readonly unit: string;
}

export interface Mend {
  readonly title: string;
  readonly edits: readonly Edit[];
}

/** What a check hands back; the engine fills in the rest. */
export interface Draft {
  /** Reference of what it is about; the subject the check was asked about when absent. */
  readonly subject?: string;
  /** Milder than the rule's own where the function's class allows it. */
  readonly severity?: Severity;
  readonly message: string;
  /** What this case adds to the rule's own reason: the regulation, the function's. */
  readonly because?: string;
  readonly values?: readonly NamedValue[];
  /** Option combinations it holds for; all when absent. */
  readonly mask?: bigint;
  readonly mend?: Mend | null;
}

/** The answer to a finding. */
export interface Waived {
  readonly by: string;
  readonly secondBy: string | null;
  readonly reason: string;
  readonly on: string;
}

/** One thing that a rule found. */
export interface Finding {
  readonly rule: string;
  readonly severity: Severity;
  /** `route:id`, `transmit:side:Message`, `side:Message.Signal`, `side:wire`, `module:side:id`, `bus:side:id`, `function:id`, `xm.in3`, `option:id`, `circuit:101`, `connector:host:X1` (or `connector:XM1`), `feed:host:F1`, `ground:host:G1`, `segment:id`, `splice:place`, `part:id`, `map`. */
  readonly subject: string;
  readonly message: string;
  readonly why: string;
  readonly values: readonly NamedValue[];
  /** Option combinations in words; empty means all. */
  readonly options: readonly string[];
  readonly mask: bigint;
  readonly mend: Mend | null;
  readonly waived: Waived | null;
}

export interface RuleSource {
  readonly source: string;
  readonly provenance: Provenance | 'computed';
}

/** The smallest pairing that shows a rule. */
export interface Example {
  readonly says: string;
  readonly documents: PairingDocuments;
  /** Subjects of the findings of this rule, one each, sorted; empty for a passing example. */
  readonly expect: readonly string[];
  /** Other rules that stop the same pairing, and must. */
  readonly alsoStops?: readonly string[];
}

type Check<S extends Scope> = (context: CheckContext, subject: Subjects[S]) => readonly Draft[] | null;

export interface Rule {
  /** `group/name`, the name of its file. */
  readonly id: string;
  readonly severity: Severity;
  readonly title: string;
  readonly why: string;
  readonly sources: readonly RuleSource[];
  readonly check: { readonly [S in Scope]?: Check<S> };
  /**
   * What the check of a route asks about routes of other functions: when a route of a function in `about` changes, the routes of the
   * functions in `of` are asked again.
   */
  readonly ties?: { readonly of: ReadonlySet<string>; readonly about: ReadonlySet<string> };
  /** Asked once all others have answered: rules about findings and their waivers. */
  readonly after?: (context: CheckContext, findings: readonly Finding[]) => readonly Draft[];
  readonly examples: { readonly failing: () => Example; readonly passing: () => Example };
}

export function commonPractice(source = 'powertrain integration'): RuleSource {
  return { source: `Common practice: ${source}`, provenance: 'common practice' };
}
export function read(source: string): RuleSource {
  return { source, provenance: 'read' };
}
export function fromMemory(source: string): RuleSource {
  return { source, provenance: 'from memory' };
}

export function named(name: string, value: string | number | bigint, unit = ''): NamedValue {
  return { name, value: typeof value === 'bigint' ? value.toString() : value, unit };
}
