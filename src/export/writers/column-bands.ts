import { keyColumnsOf, type Table } from '../document/index.ts';

/**
 * What a column asks for, in any one unit of length: its comfortable width, the least at which it still reads, and what it
 * would take to wrap nothing.
 */
export interface ColumnNeed {
  readonly natural: number;
  readonly wanted: number;
  readonly least: number;
}

/** Columns that stand side by side on paper; `at` are positions in `table.columns`, `widths` run beside them. */
export interface Band {
  readonly at: readonly number[];
  readonly widths: readonly number[];
}

/** How a table is laid on paper: the columns that name the row, repeated in each band, and the bands of the others. */
export interface Bands {
  readonly keys: Band;
  readonly bands: readonly Band[];
}

/** Squeezing all columns into one band is taken over splitting while each keeps this share of what it wants. */
const TIGHTEST_SHARE = 0.72;
/** A table narrower than the page is widened by at most this much, so that the eye keeps the line. */
const MOST_STRETCH = 1.75;
/** The columns that name the row may take at most this share of the page when a table is split. */
const MOST_KEY_SHARE = 0.3;

const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);

/**
 * Widths between least and wanted that sum to `room`. Room to spare first saves columns from wrapping, those that lack least
 * before the others, so that one very long note does not take it all; what is left then widens all evenly.
 */
function fit(needs: readonly ColumnNeed[], room: number): number[] {
  const wanted = sum(needs.map((need) => need.wanted));
  if (wanted <= room) {
    const widths = needs.map((need) => need.wanted);
    let spare = room - wanted;
    const lacking = needs.map((need, at) => ({ at, lacks: Math.max(0, need.natural - need.wanted) }));
    for (const { at, lacks } of lacking.sort((one, other) => one.lacks - other.lacks || one.at - other.at)) {
      const given = Math.min(spare, lacks);
      widths[at] = (widths[at] ?? 0) + given;
      spare -= given;
    }
    const stretch = Math.min(MOST_STRETCH, room / sum(widths));
    return widths.map((width) => width * stretch);
  }
  const least = sum(needs.map((need) => need.least));
  if (least >= room) return needs.map((need) => (need.least * room) / least);
  const share = (room - least) / (wanted - least);
  return needs.map((need) => need.least + (need.wanted - need.least) * share);
}

/** The runs of neighbouring columns that belong together: a group, or single columns outside of groups. */
function groupsOf(table: Table, columns: readonly number[]): number[][] {
  const groups: number[][] = [];
  let name: string | undefined;
  for (const at of columns) {
    const group = table.columns[at]?.group;
    const last = groups.at(-1);
    if (last !== undefined && group !== undefined && group === name) last.push(at);
    else groups.push([at]);
    name = group;
  }
  return groups;
}

/** Columns packed in order into bands of at most `room`; groups stay whole unless one alone is too wide. */
function pack(groups: readonly (readonly number[])[], needs: readonly ColumnNeed[], room: number): number[][] {
  const widthOf = (columns: readonly number[]): number => sum(columns.map((at) => needs[at]?.wanted ?? 0));
  const pieces = groups.flatMap((group) => (widthOf(group) > room ? group.map((at) => [at]) : [[...group]]));
  const bands: number[][] = [];
  let used = Infinity;
  for (const piece of pieces) {
    const width = widthOf(piece);
    const band = bands.at(-1);
    if (band !== undefined && used + width <= room) {
      band.push(...piece);
      used += width;
    } else {
      bands.push([...piece]);
      used = width;
    }
  }
  return bands;
}

/** The narrowest room that still packs into as few bands as the full room does, so that the bands come out even. */
function packEvenly(groups: readonly (readonly number[])[], needs: readonly ColumnNeed[], room: number): number[][] {
  const best = pack(groups, needs, room);
  let low = 0;
  let high = room;
  for (let round = 0; round < 20; round++) {
    const middle = (low + high) / 2;
    if (pack(groups, needs, middle).length <= best.length) high = middle;
    else low = middle;
  }
  return pack(groups, needs, high);
}

/**
 * Lays the columns of a table into a page of width `room` (same unit as the needs). One band when they fit, at worst
 * squeezed to 72 % of what they want; else several even bands, split between groups, each beside the key columns.
 * No column is ever left out, no band is wider than the room.
 */
export function layBands(table: Table, needs: readonly ColumnNeed[], room: number): Bands {
  const keys = keyColumnsOf(table);
  const others = table.columns.map((_, at) => at).filter((at) => !keys.includes(at));
  const needOf = (at: number): ColumnNeed => needs[at] ?? { natural: 1, wanted: 1, least: 1 };
  const all = [...keys, ...others];
  const wantedAll = sum(all.map((at) => needOf(at).wanted));
  const leastAll = sum(all.map((at) => needOf(at).least));
  if (others.length === 0 || (wantedAll * TIGHTEST_SHARE <= room && leastAll <= room)) {
    const widths = fit(all.map(needOf), room);
    const keyBand = { at: keys, widths: widths.slice(0, keys.length) };
    return { keys: keyBand, bands: others.length === 0 ? [] : [{ at: others, widths: widths.slice(keys.length) }] };
  }
  const keyNeeds = keys.map(needOf);
  const keyRoom = Math.min(sum(keyNeeds.map((need) => need.wanted)), room * MOST_KEY_SHARE);
  const keyWidths = fit(keyNeeds, keyRoom);
  const rest = room - sum(keyWidths);
  const bands = packEvenly(groupsOf(table, others), needs, rest).map((at) => {
    const widths = fit(at.map(needOf), rest);
    const spare = rest / sum(widths);
    return { at, widths: widths.map((width) => width * spare) };
  });
  return { keys: { at: keys, widths: keyWidths }, bands };
}
