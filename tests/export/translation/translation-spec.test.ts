/**
 * The translation spec read again from its machine-readable form. Against the outside: the units library @lhncbc/ucum-lhc, NIST SP 811
 * B.8/B.9, the CRC catalogue (bit by bit, in the test), Davis et al. 2007 for frame lengths, DBC bit numbering walked bit by bit.
 */
import { createRequire } from 'node:module';
import { describe, expect, it } from 'vitest';
import { readDbc } from '../../../src/can/index.ts';
import { checkDocument, interfaceDbcs, translationSpec } from '../../../src/export/index.ts';
import { bitLayout } from '../../../src/export/translation/bit-layout.ts';
import type { Signal } from '../../../src/model/index.ts';
import { smallPairing } from '../../wiring/small-pairing.ts';
import { ISSUE, STOP, findingsOf, rowsOf, samplePairing, tablesIn, type Cells } from '../spec-tables.ts';
import { CATALOGUE, bitwiseCrc } from './independent-crc.ts';

const { UcumLhcUtils } = createRequire(import.meta.url)('@lhncbc/ucum-lhc') as {
  UcumLhcUtils: {
    getInstance(): { convertUnitTo(from: string, value: number, to: string): { status: string; toVal: number | null } };
  };
};
const ucum = UcumLhcUtils.getInstance();

const sample = samplePairing();
const findings = findingsOf(sample);
const document = translationSpec(sample, findings, ISSUE);
const pages = translationSpec(sample, findings, { ...ISSUE, arrangement: 'pages' });
const tables = tablesIn(document);
const row = (id: string, key: string, value: string): Cells =>
  rowsOf(tables, id).find((cells) => cells[key] === value)!;

describe('nothing of the map is missing', () => {
  const ids = sample.map.routes.map(({ id }) => id);
  it.each(['routes', 'arithmetic'])('every route is in the table %s', (id) => {
    expect(rowsOf(tables, id).map((cells) => cells['route'])).toEqual(ids);
  });
  it('every route has its own page: sentence, formula, tables', () => {
    const blocks = pages.sections.find(({ id }) => id === 'routes-in-full')!.blocks;
    const headings = blocks.flatMap((block) => (block.kind === 'heading' && block.level === 3 ? [block.id] : []));
    expect([...headings].sort()).toEqual(ids.map((id) => `route-${id}`).sort());
    expect(blocks.filter(({ kind }) => kind === 'formula').length).toBeGreaterThanOrEqual(ids.length);
    expect(checkDocument(pages)).toEqual([]);
    expect(checkDocument(document)).toEqual([]);
  });
  it('every route through firmware has timing, loss and start', () => {
    const timed = rowsOf(tables, 'timing');
    expect(timed.map((cells) => cells['route'])).toEqual(
      sample.map.routes.filter(({ carrier }) => carrier !== 'hard-wire').map(({ id }) => id),
    );
  });
  it('every route through firmware has worked cases: ends, between, no value, lost', () => {
    const cases = rowsOf(tables, 'route-vectors');
    for (const { id, carrier, from } of sample.map.routes) {
      if (carrier !== 'interface' || from.length > 1) continue;
      const own = cases.filter((cells) => cells['route'] === id).map((cells) => String(cells['case']));
      expect(own, id).toContain('source lost');
      const states = own.filter((name) => name.startsWith('state '));
      if (own.includes('text')) continue;
      if (states.length === 0) expect(own, id).toEqual(expect.arrayContaining(['least', '2/4 of the range', 'most']));
      else expect(states.length, id).toBeGreaterThan(1);
    }
  });
  it('every message sent, and the DBC files hold the same ones', () => {
    const sent = rowsOf(tables, 'sent-list')
      .map((cells) => String(cells['message']).replace(/^.*:/, ''))
      .sort();
    expect(sent).toHaveLength(sample.map.transmits.length);
    const inDbc = interfaceDbcs(sample).flatMap(({ text }) =>
      readDbc(new TextEncoder().encode(text)).database.messages.map(({ name }) => name),
    );
    expect(inDbc.sort()).toEqual(sent);
  });
  it('every field sent says what is in it', () => {
    const fields = rowsOf(tables, 'fields-sent');
    expect(fields.length).toBeGreaterThan(120);
    for (const cells of fields)
      expect(String(cells['content']), `${cells['message']}.${cells['field']}`).toMatch(
        /^(fill |counter|checksum|page in turn|[a-z0-9-]+(, [a-z0-9-]+)*$)/,
      );
  });
  it('left out with reasons, and diagnostics byte for byte', () => {
    expect(rowsOf(tables, 'left-out-list')).toHaveLength(sample.map.leftOut!.length);
    expect(rowsOf(tables, 'unmet-needs')).toEqual([]);
    const relayed = rowsOf(tables, 'diagnostic-routes');
    expect(relayed).toHaveLength(5);
    for (const cells of relayed) expect(cells['content']).toBe('none: byte for byte');
  });
});

/** `raw 86 (0x56) = 46` → 86 and 46. */
function rawAndValue(text: string): { readonly raw: number | null; readonly value: number | null } {
  const match = /^(?:raw (-?\d+)(?: \(0x[0-9A-F]+\))?)?(?: = )?(-?[\d.]+(?:e[+-]?\d+)?)?$/.exec(text);
  return {
    raw: match?.[1] === undefined ? null : Number(match[1]),
    value: match?.[2] === undefined ? null : Number(match[2]),
  };
}

describe('worked cases against an independent units library', () => {
  const converted = sample.map.routes.filter(
    ({ steps, from }) => from.length === 1 && steps?.length === 1 && steps[0]!.do === 'convert',
  );
  it('the sample converts units in over a dozen routes', () => expect(converted.length).toBeGreaterThan(12));
  it.each(converted.map((route) => [route.id, route] as const))('%s', (id, route) => {
    const [source, target] = [sample.find(route.from[0]!), sample.find(route.to)];
    if (source?.kind !== 'signal' || target?.kind !== 'signal') throw new Error('not between signals');
    const plain = (unit: string): string => unit.replace(/\{[^}]*\}/g, '');
    const step = Number(
      target.signal.factor.toString().includes('/')
        ? String(target.signal.factor)
            .split('/')
            .reduce((a, b) => String(Number(a) / Number(b)))
        : target.signal.factor,
    );
    let checked = 0;
    for (const cells of rowsOf(tables, 'route-vectors')) {
      if (cells['route'] !== id) continue;
      const into = rawAndValue(String(cells['in']));
      if (into.value === null) continue;
      const answer = ucum.convertUnitTo(plain(source.signal.unit), into.value, plain(target.signal.unit));
      if (answer.status !== 'succeeded') continue;
      const delivered = Number(cells['delivered']);
      expect(Math.abs(delivered - answer.toVal!), String(cells['case'])).toBeLessThanOrEqual(
        1e-6 * Math.max(1, Math.abs(answer.toVal!)),
      );
      const out = rawAndValue(String(cells['out']));
      if (out.value !== null && cells['note'] === '–')
        expect(Math.abs(out.value - answer.toVal!)).toBeLessThanOrEqual(
          step / 2 + 1e-6 * Math.max(1, Math.abs(answer.toVal!)),
        );
      checked += 1;
    }
    if (['gauge-coolant', 'vehicle-speed', 'ac-pressure'].includes(id)) expect(checked).toBeGreaterThanOrEqual(4);
  });
  it('NIST SP 811 B.9: t/°F = 1.8 t/°C + 32', () => {
    const cells = rowsOf(tables, 'route-vectors').filter((one) => one['route'] === 'gauge-coolant');
    const pairs = cells
      .map((one) => [rawAndValue(String(one['in'])).value, one['delivered']] as const)
      .filter(([celsius]) => celsius !== null);
    expect(pairs.length).toBeGreaterThanOrEqual(6);
    for (const [celsius, fahrenheit] of pairs) expect(Number(fahrenheit)).toBeCloseTo(1.8 * celsius! + 32, 9);
  });
});

/** `9 · s1 − 500`, `−s1`, `12`: worked out for one x. Null for a text of another form. */
function linear(text: string, x: bigint): bigint | null {
  const bare = text
    .replace(/^\((.*)\)$/, '$1')
    .replaceAll('−', '-')
    .replaceAll(/-\s+/g, '-')
    .replaceAll(/\+\s+/g, '');
  let sum = 0n;
  for (const term of bare.split(/(?<!·) (?=-?\d|-?s1)/)) {
    const match = /^(?:(-?\d+)|(?:(-?\d+) · |(-?))s1)$/.exec(term);
    if (!match) return null;
    if (match[1] !== undefined) sum += BigInt(match[1]);
    else sum += (match[2] === undefined ? (match[3] === '-' ? -1n : 1n) : BigInt(match[2])) * x;
  }
  return sum;
}

/** `(9 · s1 + 3) div 5` as printed, in integers; halves away from zero. Null for a line of another form. */
function printed(expression: string, x: bigint): bigint | null {
  const [upper, lower] = expression.split(' div ');
  const num = linear(upper!, x);
  const den = lower === undefined ? 1n : linear(lower, x);
  if (num === null || den === null || den <= 0n) return null;
  const size = num < 0n ? -num : num;
  const rounded = (2n * size + den) / (2n * den);
  return num < 0n ? -rounded : rounded;
}

describe('the integer form as printed', () => {
  it('gives the raw values of the worked cases', () => {
    let routes = 0;
    let cases = 0;
    for (const { route, integers } of rowsOf(tables, 'arithmetic')) {
      const lines = String(integers).split('\n');
      const own = lines.filter((line) => line.startsWith('n1 = '));
      if (
        !lines[0]!.startsWith('s1 = the unsigned') ||
        lines.some((line) => line.startsWith('n2 = ')) ||
        own.length === 0
      )
        continue;
      if (!own.every((line) => / {3}for s1 (from|=) /.test(line))) continue;
      routes += 1;
      for (const cells of rowsOf(tables, 'route-vectors').filter((one) => one['route'] === route)) {
        const input = String(cells['in']);
        const raw = /^raw (-?\d+)/.exec(input)?.[1];
        const out = /^raw (-?\d+)/.exec(String(cells['out']))?.[1];
        if (raw === undefined || out === undefined || rawAndValue(input).value === null) continue;
        const into = BigInt(raw);
        const line = own.find((one) => {
          const span = / {3}for s1 (?:from (-?\d+) to (-?\d+)|= (-?\d+))$/.exec(one)!;
          if (span[3] !== undefined) return into === BigInt(span[3]);
          return into >= BigInt(span[1]!) && into <= BigInt(span[2]!);
        })!;
        const result = printed(line.replace(/^n1 = /, '').replace(/ {3}for .*$/, ''), into);
        if (result === null) throw new Error(`${route}: "${line}" is of no form known here`);
        expect(result, `${route}, ${cells['case']}, ${line}`).toBe(BigInt(out));
        cases += 1;
      }
    }
    expect(routes).toBeGreaterThan(20);
    expect(cases).toBeGreaterThan(100);
  });
  it('is proved for every route', () => {
    for (const { route, proof } of rowsOf(tables, 'arithmetic'))
      expect(String(proof), String(route)).not.toMatch(/NOT PROVED/);
  });
});

describe('protection', () => {
  it('the test’s own CRC gives the check values of the catalogue', () => {
    const digits = [...'123456789'].map((digit) => digit.charCodeAt(0));
    for (const crc of Object.values(CATALOGUE)) expect(bitwiseCrc(digits, crc)).toBe(crc.check);
  });
  it.each(['vectors-sent', 'vectors-received'])('worked frames of %s', (id) => {
    const seen = new Set<string>();
    for (const cells of rowsOf(tables, id)) {
      const ref = String(cells['message']);
      const entry = sample.find(ref);
      if (entry?.kind !== 'message') throw new Error(ref);
      const protection =
        sample.map.transmits.find(({ message }) => message === ref)?.protection ?? entry.message.protection!;
      const field = entry.message.signals.find((signal) => signal.id === protection.checksum)!;
      const bytes = String(cells['payload'])
        .split(' ')
        .map((byte) => parseInt(byte, 16));
      const first = field.bits.order === 'little' ? field.bits.start >> 3 : field.bits.start >> 3;
      const covered = bytes.filter((_, at) => at < first || at >= first + field.bits.length / 8);
      const data =
        protection.dataId === undefined
          ? []
          : protection.dataId < 256
            ? [protection.dataId]
            : [protection.dataId & 255, protection.dataId >> 8];
      const input = protection.dataIdAt === 'before' ? [...data, ...covered] : [...covered, ...data];
      const algorithm = String(protection.algorithm);
      const wanted =
        algorithm === 'sum8'
          ? BigInt(input.reduce((sum, byte) => sum + byte, 0) & 255)
          : algorithm === 'xor8'
            ? BigInt(input.reduce((sum, byte) => sum ^ byte, 0))
            : bitwiseCrc(input, CATALOGUE[algorithm]!);
      expect(BigInt(String(cells['checksum'])), `${ref} ${cells['case']}`).toBe(wanted);
      seen.add(algorithm);
    }
    expect([...seen]).toEqual(expect.arrayContaining(['crc8-sae-j1850', 'crc8-autosar-h2f']));
  });
});

describe('times', () => {
  it('the worst age is the sum of its parts', () => {
    for (const cells of rowsOf(tables, 'timing')) {
      const parts = [
        'sourcePeriod',
        'sourceBus',
        'interfacePeriod',
        'interfaceLatency',
        'steps',
        'targetPeriod',
        'targetBus',
      ];
      const sum = parts.reduce((total, key) => total + Number(cells[key]), 0);
      expect(Number(String(cells['age']).replace('≥ ', '')), String(cells['route'])).toBeCloseTo(sum, 6);
    }
  });
  it('bus load: 55 + 10 s bits for 11-bit ids, 80 + 10 s for 29-bit ones at worst (Davis, Burns, Bril, Lukkien 2007, eq. 1)', () => {
    for (const bus of rowsOf(tables, 'bus-table')) {
      const messages = rowsOf(tables, 'transmit-list').filter(
        (cells) => cells['bus'] === bus['bus'] && typeof cells['cycle'] === 'number',
      );
      expect(messages.length).toBeGreaterThan(10);
      const share = messages.reduce((sum, { frameId, length, cycle }) => {
        const bits = (String(frameId).length > 5 ? 80 : 55) + 10 * Number(length);
        return sum + bits / (Number(bus['bitRate']) * Number(cycle));
      }, 0);
      expect(bus['loadWorst'], String(bus['bus'])).toBeCloseTo(100 * share, 0);
    }
  });
});

describe('bit layout figures', () => {
  const field = (id: string, start: number, length: number, order: 'little' | 'big'): Signal => ({
    id,
    bits: { start, length, order },
    number: 'unsigned',
    factor: 1,
    offset: 0,
    unit: '',
  });
  /** Bits of a field in DBC numbering, walked one by one: upwards for little-endian, down and to bit 7 of the next byte for big-endian. */
  function walked({ start, length, order }: Signal['bits']): readonly number[] {
    const bits: number[] = [];
    for (let bit = start; bits.length < length;) {
      bits.push(bit);
      bit = order === 'little' ? bit + 1 : bit % 8 === 0 ? bit + 15 : bit - 1;
    }
    return bits.sort((a, b) => a - b);
  }
  it.each([
    field('EngineSpeed', 11, 16, 'big'),
    field('Whole', 7, 64, 'big'),
    field('Odd', 5, 11, 'little'),
    field('Bit', 30, 1, 'little'),
    field('Twelve', 35, 12, 'big'),
  ])('$id covers its bits and no other', (signal) => {
    const message = {
      id: 'M',
      bus: 'b',
      frameId: '0x1',
      idFormat: 'standard',
      length: 8,
      sender: null,
      signals: [signal],
    } as const;
    const drawing = bitLayout({ ...message, signals: [signal] }, [{ signal, number: 1, look: 'used' }]);
    const boxes = drawing.shapes.flatMap((shape) => (shape.kind === 'rect' && shape.fill === 'shade' ? [shape] : []));
    const numbers = drawing.shapes.flatMap((shape) => (shape.kind === 'text' && shape.size === 3.6 ? [shape] : []));
    expect(numbers).toHaveLength(64);
    const inside = numbers.filter(({ at }) =>
      boxes.some(({ x, y, width, height }) => at.x > x && at.x < x + width && at.y > y && at.y < y + height),
    );
    expect(inside.map(({ text }) => Number(text)).sort((a, b) => a - b)).toEqual(walked(signal.bits));
  });
});

describe('what is not stated', () => {
  it('is never a blank', () => {
    for (const all of [tables, tablesIn(translationSpec(smallPairing(), [], ISSUE))]) {
      for (const { id, columns, rows } of all.values()) {
        for (const { cells } of rows) {
          for (const { key, kind } of columns) {
            if (kind !== 'entry' && kind !== 'check') expect([null, ''], `${id} ${key}`).not.toContain(cells[key]);
          }
        }
      }
    }
  });
  it('stands among the open items with its places', () => {
    const open = rowsOf(tables, 'to-decide');
    const jitter = open.find(({ what }) => /^Jitter/.test(String(what)))!;
    expect(jitter['count']).toBe(
      rowsOf(tables, 'received-list').filter((cells) => cells['jitter'] === 'to be decided').length,
    );
    expect(open.some(({ what }) => /Watchdog/.test(String(what)))).toBe(true);
    expect(open.some(({ what }) => /Stale limit/.test(String(what)))).toBe(false);
  });
  it('no stale limit, no loss behaviour: said at the route and open', () => {
    const poor = samplePairing((map) => ({
      ...map,
      routes: map.routes.map((route) =>
        route.id === 'engine-speed' ? { ...route, staleAfterMs: undefined, onLoss: undefined } : route,
      ),
    }));
    const poorTables = tablesIn(translationSpec(poor, [], ISSUE));
    const timing = rowsOf(poorTables, 'timing').find((cells) => cells['route'] === 'engine-speed')!;
    expect([timing['stale'], timing['loss']]).toEqual(['to be decided', 'to be decided']);
    const open = rowsOf(poorTables, 'to-decide')
      .filter(({ where }) => where === 'engine-speed')
      .map(({ what }) => what);
    expect(open).toEqual(expect.arrayContaining(['Stale limit of the route', 'Loss behaviour of the route']));
  });
});

describe('builds, mark and hostile names', () => {
  it('one build leaves out the routes of others', () => {
    const two = tablesIn(translationSpec(sample, findings, { ...ISSUE, build: { drivetrain: '2wd', year: '2021' } }));
    const routes = rowsOf(two, 'routes').map((cells) => cells['route']);
    expect(routes).not.toContain('transfer-range');
    expect(routes).toContain('remote-start-21');
    expect(routes).not.toContain('remote-start');
    expect(rowsOf(two, 'sent-list').map((cells) => cells['message'])).not.toContain('host:TransferStatus');
    expect(row('routes', 'route', 'transfer-range')['builds']).toBe('drivetrain=4wd');
  });
  it('the mark is on while a stop is open', () => {
    expect(document.mark).toBeNull();
    expect(translationSpec(sample, [...findings, STOP], ISSUE).mark?.text).toBe('NOT FOR BUILD');
  });
  it('revision, digest and day are on the stamp', () => {
    expect(document.stamp).toEqual({
      revision: 'C',
      digest: ISSUE.digest,
      date: '2026-01-31',
      tool: 'Crossloom 0.0.0',
    });
  });
});
