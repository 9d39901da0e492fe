import { type Combination, mapDigest, type Pairing } from '../../model/index.ts';
import { printable, type Refused, type RouteTally } from '../../translate/index.ts';
import { columns, jsonText } from '../formats.ts';
import type { OpenLogs } from '../log-files.ts';

/** What a replay came to. */
export interface ReplayRun {
  readonly pairing: Pairing;
  readonly build: Combination | undefined;
  readonly logs: OpenLogs;
  /** Frames and levels that came out, by message and wire. */
  readonly sent: ReadonlyMap<string, number>;
  /** Time of the last event; null when there was none. */
  readonly endUs: number | null;
  readonly stopped: boolean;
  readonly routes: readonly RouteTally[];
  readonly refused: readonly Refused[];
}

function startOf({ logs }: OpenLogs): number | null {
  const times = logs.flatMap(({ reader }) => reader.report.firstUs ?? []);
  return times.length === 0 ? null : Math.min(...times);
}

function total(of: Iterable<number>): number {
  let sum = 0;
  for (const count of of) sum += count;
  return sum;
}

/** Counts of what went in, over all logs. */
function inputOf({ logs }: OpenLogs): Record<'lines' | 'frames' | 'levels' | 'remote' | 'errors' | 'bad', number> {
  const sum = (of: 'lines' | 'frames' | 'levels' | 'remote' | 'errors' | 'bad'): number =>
    total(logs.map(({ reader }) => reader.report[of]));
  return {
    lines: sum('lines'),
    frames: sum('frames'),
    levels: sum('levels'),
    remote: sum('remote'),
    errors: sum('errors'),
    bad: sum('bad'),
  };
}

function outputOf({ pairing, sent }: ReplayRun): { readonly frames: number; readonly levels: number } {
  const of = (kind: 'message' | 'wire'): number =>
    total([...sent].map(([ref, count]) => (pairing.find(ref)?.kind === kind ? count : 0)));
  return { frames: of('message'), levels: of('wire') };
}

/** The machine-readable report; times in microseconds of the log's clock. */
export function replayJson(run: ReplayRun): string {
  const { pairing, build, logs, sent, endUs, stopped, routes, refused } = run;
  return jsonText({
    map: pairing.map.id,
    revision: pairing.map.revision,
    digest: mapDigest(pairing.map),
    build: Object.fromEntries(build ?? []),
    firstUs: startOf(logs),
    lastUs: endUs,
    stopped,
    in: inputOf(logs),
    out: outputOf(run),
    logs: logs.logs.map(({ name, reader: { report } }) => ({
      name,
      lines: report.lines,
      frames: report.frames,
      levels: report.levels,
      remote: report.remote,
      errors: report.errors,
      bad: report.bad,
      faults: report.faults,
      unmapped: [...report.unmapped].map(([interfaceName, frames]) => ({ interface: interfaceName, frames })),
    })),
    inferred: logs.inferred.map(({ interfaceName, bus }) => ({ interface: interfaceName, bus })),
    sent: [...sent].map(([ref, count]) => ({ ref, count })),
    routes,
    refused,
  });
}

const count = (value: number): string => value.toLocaleString('en-GB');
const seconds = (us: number): string => `${(us / 1e6).toFixed(3)} s`;

/** The report for people: one line a route. */
export function replayText(run: ReplayRun): string {
  const { build, logs, endUs, routes, refused } = run;
  const input = inputOf(logs);
  const output = outputOf(run);
  const lines = [
    `${seconds((endUs ?? 0) - (startOf(logs) ?? 0))} replayed: ${count(input.frames)} frames and ${count(input.levels)} levels in, ${count(output.frames)} frames and ${count(output.levels)} levels out`,
    ...(build === undefined || build.size === 0
      ? []
      : [`build: ${[...build].map(([axis, choice]) => `${axis}=${choice}`).join(', ')}`]),
    ...(input.remote + input.errors === 0
      ? []
      : [`not replayed: ${count(input.remote)} remote frames, ${count(input.errors)} controller reports`]),
  ];
  const rows = [
    ['values', 'no value', 'lost', 'losses', 'lost for', 'clipped'],
    ...routes.map((tally) => [
      count(tally.values),
      count(tally.notAvailable + tally.error + tally.notYet),
      count(tally.lost),
      count(tally.losses),
      tally.losses === 0 ? '–' : seconds(tally.lostUs),
      tally.clipped === null ? '–' : count(tally.clipped),
    ]),
  ];
  const widths = rows[0]!.map((_, column) => Math.max(...rows.map((row) => row[column]!.length)));
  const table = columns(
    rows.map((row, index) => [
      routes[index - 1]?.route ?? 'route',
      ...row.map((cell, column) => cell.padStart(widths[column]!)),
    ]),
  );
  return `${lines.join('\n')}\n\n${table}${refused
    .map(({ what, id, why }) => `${what} ${id} was not run: ${printable(why, 300)}\n`)
    .join('')}`;
}
