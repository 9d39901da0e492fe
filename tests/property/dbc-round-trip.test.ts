/** Writing and reading: nothing is lost of a database made of hostile parts, nor of a file made of broken ones. */
import { isDeepStrictEqual } from 'node:util';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  createDatabase,
  createMessage,
  createNode,
  createSignal,
  dbcNumber,
  readDbc,
  writeDbc,
} from '../../src/can/formats/dbc/index.ts';
import type {
  DbcAttributeValue,
  DbcDatabase,
  DbcMessage,
  DbcNode,
  DbcSignal,
} from '../../src/can/formats/dbc/index.ts';

/** Text of any characters, rich in those that mean something in the format. Line ends are LF: CR LF is read as LF. */
const nastyText = fc
  .array(
    fc.oneof(
      fc.constantFrom(
        '"',
        '\\',
        ';',
        '\n',
        ' ',
        '//',
        'BO_ 1 ',
        '\nBU_: X\n',
        '\\"',
        ',',
        ':',
        '°',
        '€',
        '\u2028',
        '\0',
      ),
      fc.string({ maxLength: 5, unit: 'binary' }),
    ),
    { maxLength: 8 },
  )
  .map((parts) => parts.join('').replace(/\r/g, ' '));

/** Names: mostly as the format wants them, now and then anything. */
const plainName = fc.stringMatching(/^[A-Za-z_][A-Za-z0-9_]{0,12}$/);
const name = fc.oneof(
  { arbitrary: plainName, weight: 4 },
  { arbitrary: nastyText.filter((text) => text !== ''), weight: 1 },
);
const names = (maxLength: number): fc.Arbitrary<string[]> => fc.uniqueArray(name, { maxLength });

const numberText = fc.oneof(
  fc.constantFrom(
    '0',
    '1',
    '+1',
    '-0',
    '.5',
    '5.',
    '1E-05',
    '-1.5e+3',
    '18446744073709551615',
    '0x1F',
    '0.1234567890123456789',
  ),
  fc
    .tuple(fc.bigInt({ min: -(10n ** 25n), max: 10n ** 25n }), fc.integer({ min: -30, max: 30 }))
    .map(([mantissa, exponent]) => `${mantissa}e${exponent}`),
);
const number = numberText.map(dbcNumber);

const attributeValue: fc.Arbitrary<DbcAttributeValue> = fc.oneof(number, nastyText);
const attributes = fc
  .uniqueArray(fc.tuple(nastyText, attributeValue), { selector: ([key]) => key, maxLength: 3 })
  .map((entries) => new Map(entries));
const maybeText = fc.option(nastyText, { nil: null });
const states = fc.option(
  fc.array(fc.record({ raw: fc.bigInt({ min: -(2n ** 63n), max: 2n ** 64n - 1n }), text: nastyText }), {
    maxLength: 4,
  }),
  { nil: null },
);

const range = fc
  .tuple(fc.bigInt({ min: 0n, max: 2n ** 64n - 1n }), fc.bigInt({ min: 0n, max: 2n ** 64n - 1n }))
  .map(([from, to]) => ({ from, to }));

function signalsOf(signalNames: readonly string[], nodeNames: readonly string[]): fc.Arbitrary<DbcSignal[]> {
  const one = (signalName: string): fc.Arbitrary<DbcSignal> =>
    fc
      .record({
        startBit: fc.nat(511),
        lengthBits: fc.integer({ min: 1, max: 64 }),
        order: fc.constantFrom('little' as const, 'big' as const),
        signed: fc.boolean(),
        number: fc.constantFrom('integer' as const, 'float32' as const, 'float64' as const),
        factor: number,
        offset: number,
        min: number,
        max: number,
        unit: nastyText,
        receivers: fc.subarray([...nodeNames]),
        comment: maybeText,
        states,
        attributes,
        isMultiplexer: fc.boolean(),
        multiplexValue: fc.option(fc.bigInt({ min: 0n, max: 2n ** 64n - 1n }), { nil: null }),
        extendedMultiplexing: fc.option(
          fc.record({
            selector: fc.constantFrom(...signalNames),
            ranges: fc.array(range, { minLength: 1, maxLength: 3 }),
          }),
          { nil: null },
        ),
      })
      .map(({ startBit, lengthBits, ...parts }) => createSignal(signalName, { startBit, lengthBits }, parts));
  return fc.tuple(...signalNames.map(one));
}

function messageOf(messageName: string, frameId: number, nodeNames: readonly string[]): fc.Arbitrary<DbcMessage> {
  return names(5).chain((signalNames) =>
    fc
      .record({
        extended: fc.boolean(),
        lengthBytes: fc.nat(64),
        sender: fc.option(fc.constantFrom(...nodeNames), { nil: null }),
        transmitters: fc.subarray([...nodeNames]),
        signals: signalsOf(signalNames, nodeNames),
        comment: maybeText,
        attributes,
        groups: fc.array(fc.record({ name: plainName, repetitions: fc.nat(9), signals: fc.subarray(signalNames) }), {
          maxLength: 2,
        }),
      })
      .map(({ extended, lengthBytes, groups, ...parts }) =>
        createMessage(messageName, { frameId, extended, lengthBytes }, { ...parts, signalGroups: groups }),
      ),
  );
}

const database: fc.Arbitrary<DbcDatabase> = fc
  .tuple(fc.uniqueArray(name, { minLength: 1, maxLength: 4 }), names(4))
  .chain(([nodeNames, messageNames]) =>
    fc.record({
      version: nastyText,
      comment: maybeText,
      attributes,
      nodes: fc.tuple(
        ...nodeNames.map((nodeName) =>
          fc.record({ comment: maybeText, attributes }).map((parts): DbcNode => createNode(nodeName, parts)),
        ),
      ),
      messages: fc.tuple(...messageNames.map((messageName, index) => messageOf(messageName, index, nodeNames))),
      attributeDefinitions: fc.uniqueArray(
        fc
          .record({
            name: nastyText,
            object: fc.constantFrom('database' as const, 'node' as const, 'message' as const, 'signal' as const),
          })
          .chain((key) =>
            fc
              .record({
                type: fc.oneof(
                  fc.constant({ kind: 'text' as const }),
                  fc.array(nastyText, { maxLength: 3 }).map((choices) => ({ kind: 'enumeration' as const, choices })),
                  fc.tuple(number, number).map(([min, max]) => ({ kind: 'float' as const, min, max })),
                ),
                defaultValue: fc.option(attributeValue, { nil: null }),
              })
              .map((parts) => ({ ...key, ...parts })),
          ),
        { selector: ({ name: attribute }) => attribute, maxLength: 4 },
      ),
    }),
  )
  .map((parts) => createDatabase(parts));

/** What the database says, whatever short names are used to write it, and without what the long names add. */
function meaningOf(source: DbcDatabase): unknown {
  const isOurs = (attribute: string): boolean => /^System(Node|Message|Signal|EnvVar)LongSymbol$/.test(attribute);
  const named = <T extends { shortName: string; attributes: ReadonlyMap<string, DbcAttributeValue> }>(
    object: T,
  ): unknown => ({
    ...object,
    shortName: '',
    attributes: [...object.attributes].filter(([attribute]) => !isOurs(attribute)),
  });
  return {
    ...source,
    nodes: source.nodes.map(named),
    messages: source.messages.map((message) => ({
      ...(named(message) as object),
      signals: message.signals.map(named),
    })),
    attributeDefinitions: source.attributeDefinitions.filter(({ name: attribute }) => !isOurs(attribute)),
    attributes: [...source.attributes],
  };
}

describe('DBC reading and writing', () => {
  it('brings back a database of hostile names, texts and numbers', () => {
    fc.assert(
      fc.property(
        database,
        fc.constantFrom('\n' as const, '\r\n' as const),
        fc.constantFrom(undefined, 32),
        (made, lineEnd, maxNameLength) => {
          const { database: found, faults } = readDbc(writeDbc(made, { lineEnd, maxNameLength }));
          expect(
            faults.filter(
              ({ code }) =>
                /unreadable|not-closed|unknown|repeated|without|read/.test(code) && code !== 'state-repeated',
            ),
          ).toEqual([]);
          // Several definitions of one name share a default, so each name is defined once here.
          expect(meaningOf(found)).toEqual(meaningOf(made));
          expect(isDeepStrictEqual(readDbc(writeDbc(found)).database, found)).toBe(true);
        },
      ),
      { numRuns: 400 },
    );
  });

  const piece = fc.oneof(
    fc.constantFrom(
      ...[
        'VERSION "1"',
        'NS_ :',
        'BS_:',
        'BU_: A B',
        'BO_ 1 M: 8 A',
        ' SG_ S M : 0|8@1+ (1,0) [0|0] "" B',
        ' SG_ T m1 : 8|8@0- (.5,-1E+2) [0|nan] "\\"" A,B',
      ],
      ...[
        'CM_ "x";',
        'CM_ BU_ A "a\nb";',
        'CM_ SG_ 1 S "s\\";',
        'BA_DEF_ BO_ "K" ENUM "a","b";',
        'BA_DEF_DEF_ "K" "a";',
        'BA_ "K" BO_ 1 1;',
        'BA_ "SystemSignalLongSymbol" SG_ 1 S "Long name";',
      ],
      ...[
        'BA_REL_ "R" BU_SG_REL_ A SG_ 1 S 5;',
        'VAL_ 1 S 0 "a" -1 "b" ;',
        'VAL_TABLE_ V 1 "x" ;',
        'SIG_VALTYPE_ 1 S : 1;',
        'SIG_VALTYPE_ 1 S : 0;',
        'SG_MUL_VAL_ 1 T S 1-2, 4-4;',
        'SIG_GROUP_ 1 G 1 : S T;',
      ],
      ...[
        'BO_TX_BU_ 1 : A,B;',
        'EV_ E: 0 [0|1] "" 0 1 X A;',
        'ENVVAR_DATA_ E: 4;',
        'VAL_ E 1 "e" ;',
        'SGTYPE_ x ; ',
        'FOO_ "y" ;',
        'CM_ BO_ 9 "gone";',
        '// remark',
        '//unread: old',
        'BO_ 3221225472 I: 0 X',
      ],
    ),
    fc.constantFrom(
      '"',
      '\\"',
      '\\',
      ';',
      '\n',
      '\r\n',
      '\r',
      ' ',
      ':',
      ',',
      '|',
      '@',
      'BO_ ',
      'SG_ ',
      'CM_ ',
      'FOO_ ',
      '//',
      'x',
      '1',
      '\0',
      '\u2028',
      '€',
    ),
    fc.string({ maxLength: 6, unit: 'binary' }),
  );

  it('reads what it wrote as it read it first, whatever was broken', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(piece, fc.constantFrom('\n', '\n', '\r\n', ' ', '')), { maxLength: 40 }),
        (parts) => {
          const first = readDbc(parts.flat().join('')).database;
          const again = readDbc(writeDbc(first)).database;
          if (!isDeepStrictEqual(again, first)) expect(again).toEqual(first);
          expect(isDeepStrictEqual(again, first)).toBe(true);
        },
      ),
      { numRuns: 3000 },
    );
  });

  it('loses no word of a file that it cannot read', () => {
    fc.assert(
      fc.property(fc.array(fc.stringMatching(/^[a-z0-9 %&=<>]{1,20}$/), { minLength: 1, maxLength: 10 }), (lines) => {
        const text = lines.join('\n').trim();
        fc.pre(text !== '');
        expect(readDbc(text).database.unread).toBe(text);
      }),
    );
  });
});
