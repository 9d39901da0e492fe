import { mapDigest, type Pairing } from '../../model/index.ts';
import { type CaptureReport, printable } from '../../translate/index.ts';
import { columns, jsonText } from '../formats.ts';
import type { OpenLogs } from '../log-files.ts';

/** What a comparison came to. */
export interface CaptureRun {
  readonly pairing: Pairing;
  readonly logs: OpenLogs;
  readonly report: CaptureReport;
  readonly stopped: boolean;
}

export function mismatchesIn({ totals }: CaptureReport): number {
  return Object.values(totals).reduce((sum, count) => sum + count, 0);
}

export function judgedIn({ routes }: CaptureReport): number {
  return routes.reduce((sum, { judged }) => sum + judged, 0);
}

/** The machine-readable report; times in microseconds of the log's clock. */
export function captureJson({ pairing, logs, report, stopped }: CaptureRun): string {
  return jsonText({
    map: pairing.map.id,
    revision: pairing.map.revision,
    digest: mapDigest(pairing.map),
    build: Object.fromEntries(report.combination),
    firstUs: report.fromUs,
    lastUs: report.untilUs,
    stopped,
    agrees: mismatchesIn(report) === 0 && report.unheard.length === 0,
    frames: report.frames,
    totals: report.totals,
    mismatches: report.mismatches,
    routes: report.routes.map((route) => ({ ...route, notJudged: Object.fromEntries(route.notJudged) })),
    messages: report.messages,
    unheard: report.unheard,
    unseenSources: report.unseenSources,
    refused: report.refused,
    logs: logs.logs.map(({ name, reader: { report: read } }) => ({
      name,
      lines: read.lines,
      frames: read.frames,
      levels: read.levels,
      bad: read.bad,
    })),
    inferred: logs.inferred.map(({ interfaceName, bus }) => ({ interface: interfaceName, bus })),
  });
}

const MOST_LINES = 40;
const number = (value: number): string => value.toLocaleString('en-GB');
const seconds = (us: number): string => `${(us / 1e6).toFixed(3)} s`;

/** The report for people: what does not agree, route by route, then what could not be judged. */
export function captureText({ report, stopped }: CaptureRun): string {
  const { combination, fromUs, untilUs, frames, routes, mismatches, unheard, unseenSources, refused } = report;
  const build = [...combination].map(([axis, choice]) => `${axis}=${choice}`).join(', ');
  const judged = routes.filter((route) => route.judged > 0);
  const lines = [
    `${seconds((untilUs ?? 0) - (fromUs ?? 0))} compared${build === '' ? '' : ` as ${build}`}: ${number(frames.sources)} source frames, ${number(frames.sent)} sent, ${number(frames.other)} others`,
    `${number(judgedIn(report))} values of ${judged.length} of ${routes.length} routes judged`,
    '',
  ];
  const total = mismatchesIn(report);
  const text = [`${lines.join('\n')}\n`];
  if (total === 0 && unheard.length === 0) {
    text.push(stopped ? 'no mismatch until it was stopped\n' : 'what came out is what the map says\n');
  } else {
    const shown = mismatches.slice(0, MOST_LINES);
    text.push(
      columns([
        ['time', 'kind', 'route', 'where', 'expected', 'found'],
        ...shown.map(({ timeUs, kind, route, subject, expected, found, count }) => [
          (timeUs / 1e6).toFixed(6),
          count > 1 ? `${kind} ×${count}` : kind,
          route ?? '–',
          printable(subject),
          printable(expected, 120),
          printable(found, 120),
        ]),
      ]),
    );
    if (total > shown.reduce((sum, { count }) => sum + count, 0)) text.push('more: --format json lists them\n');
    text.push(
      `\n${Object.entries(report.totals)
        .filter(([, count]) => count > 0)
        .map(([kind, count]) => `${number(count)} ${kind}`)
        .join(', ')}\n`,
    );
    if (unheard.length > 0) text.push(`not in the log at all: ${unheard.join(', ')}\n`);
  }
  const unjudged = new Map<string, string[]>();
  for (const route of routes) {
    if (route.judged > 0) continue;
    const [reason = 'nothing of it is in the log'] = route.notJudged.keys();
    unjudged.set(reason, [...(unjudged.get(reason) ?? []), route.route]);
  }
  for (const [reason, ids] of unjudged) text.push(`not judged, ${reason}: ${ids.join(', ')}\n`);
  if (unseenSources.length > 0) text.push(`sources not in the log: ${unseenSources.join(', ')}\n`);
  for (const { id, why } of refused) text.push(`cannot be run: ${id}: ${why}\n`);
  return text.join('');
}
