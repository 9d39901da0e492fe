import type { FromToRow } from './from-to.ts';

/** One conductor for the cutting machine. */
export interface CutRow {
  readonly circuit: string;
  readonly size: string;
  readonly areaMm2: number;
  readonly colour: string;
  readonly insulation: string;
  readonly cutLengthMm: number | null;
  readonly toleranceMm: number | null;
  readonly stripFromMm: number;
  readonly stripToMm: number;
  readonly terminalFrom: string | null;
  readonly terminalTo: string | null;
  readonly sealFrom: string | null;
  readonly sealTo: string | null;
  readonly labelFrom: string;
  readonly labelTo: string;
  readonly twistGroup: string | null;
  readonly pullForceN: number | null;
  readonly options: readonly string[];
}

/** The cut list: by size, colour and length, so that a reel is mounted once. Lengths not known come last of their reel. */
export function cutList(rows: readonly FromToRow[]): readonly CutRow[] {
  const text = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);
  return rows
    .map((row) => ({
      circuit: row.circuit,
      size: row.size,
      areaMm2: row.areaMm2,
      colour: row.colour,
      insulation: row.insulation,
      cutLengthMm: row.cutLengthMm,
      toleranceMm: row.toleranceMm,
      stripFromMm: row.from.stripMm,
      stripToMm: row.to.stripMm,
      terminalFrom: row.from.terminal,
      terminalTo: row.to.terminal,
      sealFrom: row.from.seal,
      sealTo: row.to.seal,
      labelFrom: row.from.label,
      labelTo: row.to.label,
      twistGroup: row.twistGroup,
      pullForceN: row.pullForceN,
      options: row.options,
    }))
    .sort(
      (a, b) =>
        a.areaMm2 - b.areaMm2 ||
        text(a.colour, b.colour) ||
        text(a.insulation, b.insulation) ||
        (a.cutLengthMm ?? Infinity) - (b.cutLengthMm ?? Infinity) ||
        text(a.circuit, b.circuit),
    );
}
