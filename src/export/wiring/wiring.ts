import type { Finding } from '../../checks/index.ts';
import type { Pairing } from '../../model/index.ts';
import { buildHarness, type ConnectorPage, type FromToRow, type HarnessPlan } from '../../wiring/index.ts';
import { ref, type Cell, type Column, type Run } from '../document/index.ts';
import { buildScope, openItems, type BuildScope, type OpenItems, type SpecIssue } from '../record/index.ts';

/** What all sections of a wiring spec look at. */
export interface Wiring {
  readonly pairing: Pairing;
  readonly findings: readonly Finding[];
  readonly issue: SpecIssue;
  readonly scope: BuildScope;
  readonly pages: boolean;
  readonly plan: HarnessPlan;
  readonly open: OpenItems;
  readonly pageOf: ReadonlyMap<string, ConnectorPage>;
}

export function wiringOf(pairing: Pairing, findings: readonly Finding[], issue: SpecIssue): Wiring {
  const scope = buildScope(pairing, issue.build);
  const plan = buildHarness(pairing, { mask: scope.mask });
  return {
    pairing,
    findings,
    issue,
    scope,
    pages: issue.arrangement !== 'sheets',
    plan,
    open: openItems(),
    pageOf: new Map(plan.connectors.map((page) => [page.ref, page])),
  };
}

export const circuitAnchor = (circuit: string): string => `circuit-${circuit}`;
export const connectorAnchor = (connector: string): string => `connector-${connector}`;
export const spliceAnchor = (splice: string): string => `splice-${splice}`;

/** Links to circuits in a row. */
export function circuitLinks({ plan }: Wiring, circuits: readonly string[]): Cell {
  const known = new Set(plan.fromTo.map(({ circuit }) => circuit));
  if (circuits.length === 0) return 'none';
  return circuits.flatMap((circuit, at): Run[] => [
    ...(at === 0 ? [] : [', ']),
    known.has(circuit) ? ref(circuit, circuitAnchor(circuit)) : circuit,
  ]);
}

/** A connector as a link to its page. */
export function connectorLink({ pageOf }: Wiring, connector: string): Cell {
  return pageOf.has(connector) ? [ref(connector, connectorAnchor(connector))] : connector;
}

/** The column that tells builds apart, where there are several. */
export function buildColumn({ scope }: Wiring): readonly Column[] {
  return scope.several ? [{ key: 'variant_expr', title: 'Builds', kind: 'text', weight: 16 }] : [];
}

export function buildCell({ scope }: Wiring, options: readonly string[]): readonly Cell[] {
  return scope.several ? [options.length === 0 ? 'all' : options.join(' or ')] : [];
}

/** Conductor size and colour in words: `0.5 mm² WH-BU`. */
export function wireText({
  sizeValue,
  sizeUnit,
  colour,
}: Pick<FromToRow, 'sizeValue' | 'sizeUnit' | 'colour'>): string {
  return `${sizeValue} ${sizeUnit} ${colour}`;
}

/** A computed figure rounded for a page: at most so many significant digits. */
export function figure(value: number, digits = 3): number {
  return Number(value.toPrecision(digits));
}

/** Limits of a reading: `≤ 0.12 Ω`, `9 … 16 V`; null where there is none in numbers. */
export function limitText(lowest: number | null, highest: number | null, unit: string | null): string | null {
  const shown = (value: number): string => quantity(value, unit);
  if (lowest !== null && highest !== null) return `${shown(lowest)} … ${shown(highest)}`;
  if (highest !== null) return `≤ ${shown(highest)}`;
  return lowest === null ? null : `≥ ${shown(lowest)}`;
}

/** A reading with the prefix a meter would show. */
function quantity(value: number, unit: string | null): string {
  const name = unit ?? '';
  const scaled = ((): readonly [number, string] => {
    if (value !== 0 && Math.abs(value) < 1) return [value * 1e3, `m${name}`];
    if (Math.abs(value) >= 1e6) return [value / 1e6, `M${name}`];
    return Math.abs(value) >= 1e4 ? [value / 1e3, `k${name}`] : [value, name];
  })();
  return `${figure(scaled[0])} ${scaled[1]}`.trim();
}

/** A computed figure for a column of so many decimals; one too small to show a digit says so. */
export function small(value: number, decimals: number): number | string {
  const least = 10 ** -decimals;
  if (value !== 0 && Math.abs(value) < least) return `< ${least}`;
  return Number(value.toFixed(decimals));
}

/** `0.5mm2` as a builder writes it: `0.5 mm²`. */
export function sizeText(text: string): string {
  return text.replaceAll(/(?<=\d)mm2\b/g, ' mm²').replaceAll(/(?<=\d)AWG\b/g, ' AWG');
}

/** Short names of the twisted groups, in the order of the plan: T1, T2 … */
export function twistNames({ plan }: Wiring): ReadonlyMap<string, string> {
  return new Map(plan.twists.map(({ group }, at) => [group, `T${at + 1}`]));
}
