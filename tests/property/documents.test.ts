import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { keysIfSurelyFits } from '../../src/model/fast-check.ts';
import { CrossloomMap, Platform, Route, Signal, Wire, readPlatform, writePlatform } from '../../src/model/index.ts';

const id = fc
  .stringMatching(/^[A-Za-z][A-Za-z0-9_-]{0,12}$/)
  .filter((text) => !['constructor', 'prototype'].includes(text));
const exact = fc.oneof(
  fc.integer(),
  fc.double({ noNaN: true, noDefaultInfinity: true }),
  fc.constantFrom('1/3', '0.1', '1e-5'),
);
const title = fc.string({ maxLength: 30, unit: 'grapheme' });

const signal = fc.record(
  {
    id,
    title,
    bits: fc.record({
      start: fc.integer({ min: 0, max: 511 }),
      length: fc.integer({ min: 1, max: 64 }),
      order: fc.constantFrom('little' as const, 'big' as const),
    }),
    number: fc.constantFrom('unsigned' as const, 'signed' as const, 'float32' as const, 'float64' as const),
    factor: exact,
    offset: exact,
    unit: fc.constantFrom('', 'km/h', '%'),
    range: fc.tuple(exact, exact),
    states: fc.dictionary(fc.integer({ min: 0, max: 300 }).map(String), title),
    notAvailable: fc.array(fc.oneof(fc.integer(), fc.constant('18446744073709551615')), { maxLength: 3 }),
  },
  { requiredKeys: ['id', 'bits', 'number', 'factor', 'offset', 'unit'] },
);

const platform = fc
  .record({
    id,
    title,
    signals: fc.uniqueArray(signal, { selector: (entry) => entry.id, maxLength: 5 }),
    messageIds: fc.uniqueArray(id, { maxLength: 4 }),
  })
  .map(({ id: platformId, title: platformTitle, signals, messageIds }) => ({
    format: 'crossloom-platform' as const,
    version: 1 as const,
    id: platformId,
    title: platformTitle,
    buses: [{ id: 'b', kind: 'can' as const, bitRate: 250000 }],
    modules: [{ id: 'm', title: 'M' }],
    messages: messageIds.map((messageId) => ({
      id: messageId,
      bus: 'b',
      frameId: '0x10',
      idFormat: 'standard' as const,
      length: 8,
      sender: 'm',
      signals,
    })),
    wires: [],
    connectors: [],
    feeds: [],
    grounds: [],
  }));

/** Mutates one place of a JSON value: another type, a missing key, a strange key. */
const mutation = fc.record({
  at: fc.nat(),
  kind: fc.constantFrom('null', 'string', 'number', 'drop', 'extra', 'nested'),
});

function mutate(value: unknown, { at, kind }: { at: number; kind: string }): unknown {
  const copy = JSON.parse(JSON.stringify(value)) as unknown;
  const places: { holder: Record<string, unknown>; key: string }[] = [];
  const walk = (node: unknown): void => {
    if (typeof node !== 'object' || node === null) return;
    for (const key of Object.keys(node)) {
      places.push({ holder: node as Record<string, unknown>, key });
      walk((node as Record<string, unknown>)[key]);
    }
  };
  walk(copy);
  if (places.length === 0) return copy;
  const { holder, key } = places[at % places.length]!;
  if (kind === 'drop') delete holder[key];
  else if (kind === 'extra') holder[`${key}X`] = 1;
  else holder[key] = { null: null, string: 'x', number: -7.5, nested: { a: [] } }[kind];
  return copy;
}

describe('documents', () => {
  it('write ∘ read is the identity, byte for byte', () => {
    fc.assert(
      fc.property(platform, (document) => {
        const text = writePlatform(document);
        const result = readPlatform(text);
        expect(result.ok).toBe(true);
        if (result.ok) {
          expect(result.document).toEqual(JSON.parse(JSON.stringify(document)));
          expect(writePlatform(result.document)).toBe(text);
        }
      }),
    );
  });

  it('the fast path passes only what the schema passes, and passes what is valid', () => {
    fc.assert(
      fc.property(platform, mutation, (document, change) => {
        const valid = JSON.parse(JSON.stringify(document)) as unknown;
        expect(keysIfSurelyFits(Platform, valid)).not.toBeNull();
        const changed = mutate(valid, change);
        if (keysIfSurelyFits(Platform, changed) !== null) expect(Platform.safeParse(changed).success).toBe(true);
        else expect(Platform.safeParse(changed).success).toBe(false);
      }),
      { numRuns: 500 },
    );
  });

  it('the fast path knows every construct that the schemas use', () => {
    const route = {
      id: 'r',
      from: ['host:A.B'],
      to: 'donor:C.D',
      carrier: 'interface',
      steps: [{ do: 'choose-by', selector: 0, cases: { D: { source: 1 } } }, { do: 'convert' }],
      onLoss: { do: 'substitute', value: '1/3' },
      when: { a: ['b'] },
    };
    const wire = {
      id: 'w',
      title: 'W',
      module: 'm',
      direction: 'in',
      electrical: { class: 'lamp', ohm: [1, 2] },
      meaning: { scale: { of: 'V', factor: 1, range: [0, 5] }, unit: '%' },
    };
    const map = {
      format: 'crossloom-map',
      version: 1,
      id: 'm',
      title: '',
      revision: 'A',
      host: { platform: 'a' },
      donor: { platform: 'b' },
      fates: { 'host:x': 'removed' },
      interfaceModules: [],
      transmits: [],
      routes: [route],
      waivers: [{ rule: 'a/b', subject: 's', answers: 'd', reason: 'r', by: 'n', on: '2026-01-31' }],
    };
    expect(keysIfSurelyFits(Route, route)).not.toBeNull();
    expect(keysIfSurelyFits(Wire, wire)).not.toBeNull();
    expect(keysIfSurelyFits(CrossloomMap, map)).not.toBeNull();
    expect(keysIfSurelyFits(Signal, { id: 'x' })).toBeNull();
  });
});
