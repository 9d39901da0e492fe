import type { Finding } from '../../checks/index.ts';
import type { Pairing } from '../../model/index.ts';
import type { RouteVectors, SentRule, Vector, VectorExpectation, VectorsFile } from '../../translate/index.ts';
import { mono, type Row, type Section, type SpecDocument, type Table } from '../document/index.ts';
import {
  buildParts,
  buildScope,
  cautionText,
  fileIdOf,
  markOf,
  pairingFacts,
  type SpecIssue,
  stampOf,
} from '../record/index.ts';

/** Where the log of a vector lies, from the folder of the document; null where there is none. */
export type LogName = (route: string, vector: string) => string | null;

/**
 * The vectors of a map for people: how they are played, then a table a route with what goes in, what must come out, within which
 * tolerance and when. The same as `vectors.json` says to a bench.
 */
export function vectorsDocument(
  pairing: Pairing,
  findings: readonly Finding[],
  file: VectorsFile,
  issue: SpecIssue,
  logOf: LogName,
): SpecDocument {
  const scope = buildScope(pairing, issue.build);
  const shown = file.routes.filter(({ vectors }) => vectors.length > 0);
  return {
    id: fileIdOf(pairing.map.id, 'vectors', ...buildParts(issue)),
    title: 'Test vectors',
    subtitle: pairing.map.title,
    stamp: stampOf(pairing, issue),
    facts: pairingFacts(pairing, scope),
    cautions: [
      'Play vectors on a bench only, with nothing connected that can move, start, heat or brake. A module that meets them all is not thereby fit for a vehicle.',
      cautionText('every export'),
    ],
    mark: markOf(findings),
    page: { paper: 'A4', orientation: 'landscape' },
    sections: [
      howToPlay(file),
      ...shown.map((route): Section => ({
        id: `route-${route.route}`,
        title: route.route,
        blocks: [
          {
            kind: 'keyValues',
            entries: [
              { label: 'From', value: [mono(route.from.join(', '))] },
              { label: 'To', value: [mono(route.to)] },
              { label: 'Through', value: route.by ?? 'a conductor from end to end' },
              { label: 'Build', value: buildText(route.build) },
            ],
          },
          vectorTable(route, logOf),
        ],
      })),
      leftOutSection(file),
    ],
  };
}

function howToPlay({ interfaces, busAllowanceUs, sent }: VectorsFile): Section {
  return {
    id: 'how-to-play',
    title: 'How to play them',
    blocks: [
      {
        kind: 'list',
        style: 'number',
        entries: [
          'Power the interface module; time 0 of a vector is power-up, or any later moment: a vector makes its sources valid itself and does not depend on what was before.',
          'Send what the log of the vector holds, at its times, and set the levels of its table of wires.',
          'Record every bus. In each window every frame of the id (and page) must hold the field as expected; only the bits under the mask count.',
          `A window begins when the slowest way has been gone: one round of the source frames, the settling of the steps, the period and latency of the interface module, and ${busAllowanceUs / 1000} ms for the buses. It is long enough for the message to come round once.`,
          'A tolerance is half a step of the target, and one step more where the route keeps values at a working resolution. A level is in thousandths; what a bench measures less closely adds to it.',
          'Counters and checksums run by the rules below, on every frame sent, in every vector.',
        ],
      },
      {
        kind: 'table',
        id: 'interfaces',
        title: 'Interfaces of the logs',
        columns: [
          { key: 'name', title: 'In the logs', kind: 'code', weight: 20 },
          { key: 'bus', title: 'Bus', kind: 'code', weight: 30 },
        ],
        rows: interfaces.map(({ name, bus }) => ({ cells: [name, bus] })),
      },
      {
        kind: 'table',
        id: 'sent',
        title: 'Messages sent, with what runs in them',
        columns: [
          { key: 'message', title: 'Message', kind: 'code', weight: 30, role: 'key' },
          { key: 'build', title: 'Build', kind: 'text', weight: 24 },
          { key: 'bus', title: 'Bus', kind: 'code', weight: 20 },
          { key: 'id', title: 'Frame id', kind: 'code', weight: 10 },
          { key: 'length', title: 'Bytes', kind: 'number', weight: 6 },
          { key: 'counter', title: 'Counter', kind: 'text', weight: 30 },
          { key: 'checksum', title: 'Checksum', kind: 'text', weight: 40 },
        ],
        rows: sent.map((rule): Row => ({
          cells: [
            rule.message,
            buildText(rule.build),
            rule.bus,
            rule.frameId,
            rule.lengthBytes,
            counterText(rule),
            checksumText(rule),
          ],
        })),
      },
    ],
  };
}

function fieldText({ start, length, order }: { start: number; length: number; order: string }): string {
  return `bit ${start}, ${length} bits, ${order}-endian`;
}

function counterText({ counter }: SentRule): string {
  if (counter === undefined) return 'none';
  const skips = counter.skips.length === 0 ? '' : `, leaving out ${counter.skips.join(', ')}`;
  return `${fieldText(counter.field)}: 0 to ${counter.modulo - 1}${skips}`;
}

function checksumText({ checksum }: SentRule): string {
  if (checksum === undefined) return 'none';
  const input = checksum.input.map((part) =>
    'fixed' in part
      ? `0x${part.fixed.toString(16).toUpperCase().padStart(2, '0')}`
      : part.mask === 0xff
        ? `byte ${part.byte}`
        : `byte ${part.byte} & 0x${part.mask.toString(16).toUpperCase().padStart(2, '0')}`,
  );
  return `${fieldText(checksum.field)}: ${checksum.algorithm} over ${input.join(', ')}`;
}

function buildText(build: Readonly<Record<string, string>>): string {
  const parts = Object.entries(build).map(([axis, choice]) => `${axis}=${choice}`);
  return parts.length === 0 ? 'the only build' : parts.join(', ');
}

function vectorTable({ route, vectors }: RouteVectors, logOf: LogName): Table {
  return {
    kind: 'table',
    id: `vectors-${route}`,
    title: `${route}: vectors`,
    columns: [
      { key: 'vector', title: 'Vector', kind: 'code', weight: 26, role: 'key' },
      { key: 'given', title: 'What the sources show', kind: 'text', weight: 40 },
      { key: 'expected', title: 'What must come', kind: 'text', weight: 30 },
      { key: 'tolerance', title: '±', kind: 'text', weight: 10 },
      { key: 'raw', title: 'Raw', kind: 'code', weight: 18 },
      { key: 'bits', title: 'Mask / value', kind: 'code', weight: 20 },
      { key: 'judge', title: 'Judged', kind: 'text', weight: 14 },
      { key: 'from', title: 'From', kind: 'number', weight: 8, unit: 'ms' },
      { key: 'until', title: 'Until', kind: 'number', weight: 8, unit: 'ms' },
      { key: 'log', title: 'Log', kind: 'code', weight: 30 },
    ],
    rows: vectors.flatMap((vector) =>
      vector.expect.map((expectation, at): Row => ({ cells: vectorCells(route, vector, expectation, at, logOf) })),
    ),
  };
}

function vectorCells(
  route: string,
  vector: Vector,
  expectation: VectorExpectation,
  at: number,
  logOf: LogName,
): Row['cells'] {
  const { meaning } = expectation;
  return [
    at === 0 ? vector.id : `${vector.id} (${at + 1})`,
    vector.given.map(({ source, text }) => `${source}: ${text}`).join('\n'),
    meaning.text,
    meaning.tolerance === undefined ? '–' : `${meaning.tolerance} ${meaning.unit ?? ''}`.trim(),
    rawText(expectation),
    bitsText(expectation),
    judgeText(expectation),
    expectation.fromUs / 1000,
    expectation.untilUs / 1000,
    logOf(route, vector.id) ?? 'none: levels only',
  ];
}

function rawText(expectation: VectorExpectation): string {
  if (expectation.on === 'wire') {
    const { level } = expectation;
    if (level.kind === 'open') return 'open';
    if (level.kind === 'switched') return level.active ? 'active' : 'inactive';
    const [lo, hi] = level.thousandths;
    return `${lo === hi ? lo : `${lo} to ${hi}`} thousandths of ${level.of}`;
  }
  const { raw, float } = expectation;
  if (float !== undefined) return `${float.value}`;
  if (raw === undefined) return '–';
  return raw[0] === raw[1] ? raw[0] : `${raw[0]} to ${raw[1]}`;
}

function bitsText(expectation: VectorExpectation): string {
  if (expectation.on === 'wire' || expectation.mask === undefined) return '–';
  return expectation.value === undefined ? expectation.mask : `${expectation.mask}\n${expectation.value}`;
}

function judgeText(expectation: VectorExpectation): string {
  if (expectation.on === 'wire') return 'throughout';
  switch (expectation.judge) {
    case 'every':
      return 'every frame, one at least';
    case 'when-sent':
      return 'every frame, if any';
    case 'latest':
      return 'the latest frame';
    case 'never':
      return 'no frame';
  }
}

function leftOutSection({ routes }: VectorsFile): Section {
  const rows = routes.flatMap(({ route, leftOut }) =>
    leftOut.map(({ what, why }): Row => ({ cells: [route, what, why] })),
  );
  return {
    id: 'not-shown',
    title: 'Not shown',
    blocks: [
      {
        kind: 'table',
        id: 'cases-not-shown',
        title: 'What no vector shows, and why',
        columns: [
          { key: 'route', title: 'Route', kind: 'code', weight: 26, role: 'key' },
          { key: 'what', title: 'What', kind: 'text', weight: 30 },
          { key: 'why', title: 'Why', kind: 'text', weight: 60 },
        ],
        rows,
        whenEmpty: 'Everything is shown.',
      },
    ],
  };
}
