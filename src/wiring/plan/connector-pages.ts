import { parseRef, type CircuitEnd, type Connector } from '../../model/index.ts';
import { acceptsAt } from './connector-lookup.ts';
import { nameOf } from './colours.ts';
import { functionTitles, placeText, type PlanContext } from './context.ts';
import { fittingAt } from './fittings.ts';
import type { PlannedConductor } from './planned-conductor.ts';

/** One conductor in a cavity, with where it leads. */
export interface CavityConductor {
  readonly circuit: string;
  readonly key: string;
  readonly size: string;
  readonly colour: string;
  readonly otherEnd: string;
  readonly functions: readonly string[];
  readonly electricalClass: string | null;
  readonly direction: 'from' | 'to';
  readonly terminal: string | null;
  readonly seal: string | null;
  /** Whether the terminal accepts the conductor; null when not stated. */
  readonly accepted: boolean | null;
  readonly options: readonly string[];
}

/** One cavity of a housing. */
export interface CavityRow {
  readonly cavity: string;
  /**
   * `added`: holds a conductor of the added harness; `vehicle`: the platform has a wire, feed or ground there which the added
   * harness does not use; `empty`: nothing; `not-on-connector`: a conductor leads to a cavity the housing does not have.
   */
  readonly state: 'added' | 'vehicle' | 'empty' | 'not-on-connector';
  readonly conductors: readonly CavityConductor[];
  /** Plug of an empty cavity of a sealed housing; null where none is needed or none is named. */
  readonly plug: string | null;
  readonly needsPlug: boolean;
  /** What the platform has there. */
  readonly vehicle: string | null;
  readonly acceptsMm2: readonly [number, number] | null;
  /** Place in the drawn face, from 0; row by row as the cavities are listed. */
  readonly row: number;
  readonly column: number;
}

/** One housing with all of its cavities. */
export interface ConnectorPage {
  /** `side:connector`, or the id of an added one. */
  readonly ref: string;
  readonly known: boolean;
  readonly added: boolean;
  readonly title: string;
  readonly of: string | null;
  /** Housing that the added harness carries: an added connector's own part, else the mate of the platform's. */
  readonly part: string | null;
  readonly matesWith: string | null;
  readonly contacts: 'pin' | 'socket' | null;
  readonly key: string | null;
  readonly view: 'wire-side' | 'mating-side' | null;
  readonly sealed: boolean;
  readonly zone: string | null;
  readonly terminal: string | null;
  readonly faceRows: number;
  readonly faceColumns: number;
  readonly cavities: readonly CavityRow[];
  readonly options: readonly string[];
  /** Whether the added harness splices onto conductors here instead of plugging in. */
  readonly tapped: boolean;
}

interface Held {
  readonly conductor: PlannedConductor;
  readonly end: CircuitEnd;
  readonly direction: 'from' | 'to';
}

/** Pages of every connector that the added harness reaches, and of every one it adds; the added ones first. */
export function connectorPages(context: PlanContext): readonly ConnectorPage[] {
  const held = new Map<string, Map<string, Held[]>>();
  for (const { id } of context.pairing.map.harness?.connectors ?? []) held.set(id, new Map());
  for (const conductor of context.conductors) {
    for (const direction of ['from', 'to'] as const) {
      const end = conductor.circuit[direction];
      if ((end.kind !== 'cavity' && end.kind !== 'part') || end.connector === null || end.cavity === null) continue;
      const cavities = held.get(end.connector) ?? new Map<string, Held[]>();
      held.set(end.connector, cavities);
      const list = cavities.get(end.cavity);
      if (list) list.push({ conductor, end, direction });
      else cavities.set(end.cavity, [{ conductor, end, direction }]);
    }
  }
  const vehicle = vehicleUse(context);
  return [...held.entries()]
    .sort(([a], [b]) => Number(a.includes(':')) - Number(b.includes(':')))
    .map(([ref, cavities]) => pageOf(context, ref, cavities, vehicle));
}

/** What the platforms have in each cavity of theirs. */
function vehicleUse({ pairing }: PlanContext): ReadonlyMap<string, string> {
  const use = new Map<string, string>();
  for (const side of [pairing.host, pairing.donor]) {
    const note = (at: { readonly connector: string; readonly cavity: string } | undefined, what: string): void => {
      if (at) use.set(`${side.name}:${at.connector}/${at.cavity}`, what);
    };
    for (const { id, at, title } of side.platform.wires) note(at, `${side.name}:${id} ${title}`);
    for (const { id, at, title } of side.platform.feeds) note(at, `${side.name}:${id} ${title ?? 'feed'}`);
    for (const { id, at, title } of side.platform.grounds) note(at, `${side.name}:${id} ${title ?? 'ground'}`);
    for (const { id, tap } of side.platform.buses) {
      note(tap?.high, `${side.name}:${id} high`);
      note(tap?.low, `${side.name}:${id} low`);
    }
  }
  return use;
}

function pageOf(
  context: PlanContext,
  ref: string,
  held: ReadonlyMap<string, readonly Held[]>,
  vehicle: ReadonlyMap<string, string>,
): ConnectorPage {
  const connector = context.find(ref);
  const added = parseRef(ref) === null;
  const cavities = connector?.cavities ?? [];
  const faceRows = Math.min(connector?.rows ?? 1, Math.max(1, cavities.length));
  const faceColumns = Math.max(1, Math.ceil(cavities.length / faceRows));
  const rows = cavities.map((cavity, index) => {
    const row = Math.floor(index / faceColumns);
    return cavityRow(context, connector, ref, cavity, held.get(cavity) ?? [], vehicle, row, index % faceColumns);
  });
  const beyond = [...held.keys()].filter((cavity) => !cavities.includes(cavity));
  const strange = beyond.map((cavity, index): CavityRow => ({
    ...cavityRow(context, connector, ref, cavity, held.get(cavity)!, vehicle, faceRows, index),
    state: 'not-on-connector',
  }));
  const ends = [...held.values()].flat().map(({ end }) => end);
  return {
    ref,
    known: connector !== null,
    added,
    title: connector?.title ?? `${ref} (in neither platform nor map)`,
    of: connector?.of ?? null,
    part: (added ? connector?.part : connector?.mate) ?? null,
    matesWith: (added ? connector?.mate : connector?.part) ?? null,
    contacts: contactsOf(connector, added),
    key: connector?.key ?? null,
    view: connector?.view ?? null,
    sealed: connector?.sealed ?? false,
    zone: connector?.zone ?? null,
    terminal: connector?.terminal ?? null,
    faceRows,
    faceColumns,
    cavities: [...rows, ...strange],
    options: context.optionsOf(context.pairing.options.maskOf(connector?.when)),
    tapped: ends.length > 0 && ends.every((end) => end.kind === 'cavity' && end.joint === 'tap'),
  };
}

/** The added harness carries the other gender of a platform's connector. */
function contactsOf(connector: Connector | null, added: boolean): 'pin' | 'socket' | null {
  if (connector?.contacts === undefined) return null;
  if (added) return connector.contacts;
  return connector.contacts === 'pin' ? 'socket' : 'pin';
}

function cavityRow(
  context: PlanContext,
  connector: Connector | null,
  ref: string,
  cavity: string,
  held: readonly Held[],
  vehicle: ReadonlyMap<string, string>,
  row: number,
  column: number,
): CavityRow {
  const range = acceptsAt(connector, cavity);
  const use = vehicle.get(`${ref}/${cavity}`) ?? null;
  const state = held.length > 0 ? 'added' : use !== null ? 'vehicle' : 'empty';
  const needsPlug = held.length === 0 && connector?.sealed === true;
  return {
    cavity,
    state,
    conductors: held.map(({ conductor, end, direction }): CavityConductor => {
      const { circuit, size } = conductor;
      const fitting = fittingAt(context, end, size);
      const otherEnd = direction === 'from' ? circuit.to : circuit.from;
      const electrical = direction === 'from' ? circuit.fromElectrical : circuit.toElectrical;
      return {
        circuit: circuit.id,
        key: circuit.key,
        size: size.text,
        colour: nameOf(conductor.colourBase, conductor.colourTracer),
        otherEnd: placeText(otherEnd),
        functions: functionTitles(circuit.functionIds),
        electricalClass: electrical?.class ?? null,
        direction,
        terminal: fitting.terminal,
        seal: fitting.seal,
        accepted: fitting.accepted,
        options: context.optionsOf(circuit.mask),
      };
    }),
    plug: needsPlug ? (connector?.plug ?? null) : null,
    needsPlug,
    vehicle: use,
    acceptsMm2: range ? [range.minMm2, range.maxMm2] : null,
    row,
    column,
  };
}
