import { describe, expect, it } from 'vitest';
import {
  createDatabase,
  createMessage,
  createNode,
  createSignal,
  dbcNumber,
  readDbc,
  writeDbc,
} from '../../../../src/can/formats/dbc/index.ts';
import type { DbcDatabase } from '../../../../src/can/formats/dbc/index.ts';

/** Reads back what was written; nothing may be wrong with it. */
function reread(database: DbcDatabase): DbcDatabase {
  const { database: found, faults } = readDbc(writeDbc(database));
  expect(faults).toEqual([]);
  return found;
}

describe('the text', () => {
  it('has the sections of the format in their order', () => {
    const text = `VERSION "1.0"


NS_ :
\tCM_

BS_:

BU_: A B
VAL_TABLE_ OnOff 1 "On" 0 "Off" ;


BO_ 2147483649 M: 8 A
 SG_ P M : 0|8@1+ (1,0) [0|255] "" Vector__XXX
 SG_ Q m1 : 8|16@0- (0.5,-40) [-40|215] "degC" A,B

BO_TX_BU_ 2147483649 : A,B;
EV_ Key: 0 [0|1] "" 0 7 DUMMY_NODE_VECTOR0 Vector__XXX;
ENVVAR_DATA_ Key: 5;
CM_ "bus";
CM_ BU_ A "node";
CM_ BO_ 2147483649 "message";
CM_ SG_ 2147483649 Q "say \\"go\\"";
BA_DEF_ BO_ "Kind" ENUM "a","b";
BA_DEF_REL_ BU_SG_REL_ "Timeout" INT 0 65535;
BA_DEF_DEF_ "Kind" "a";
BA_DEF_DEF_REL_ "Timeout" 100;
BA_ "Kind" BO_ 2147483649 1;
BA_REL_ "Timeout" BU_SG_REL_ B SG_ 2147483649 Q 250;
VAL_ 2147483649 Q -1 "x" 2 "y" ;
SIG_GROUP_ 2147483649 G 1 : P Q;
SG_MUL_VAL_ 2147483649 Q P 1-1, 3-5;
`;
    const { database, faults } = readDbc(text);
    expect(faults).toEqual([]);
    expect(writeDbc(database)).toBe(text);
    expect(writeDbc(database, { lineEnd: '\r\n' })).toBe(text.replaceAll('\n', '\r\n'));
  });

  it('writes back, as remarks, what could not be read', () => {
    const { database } = readDbc('// kept\nBU_: A\nBO_ 1 M: 8 A\n SG_ X : 16|8@2+ (1,0)\nCM_ BO_ ! "x";\n');
    const text = writeDbc(database);
    expect(text.split('\n').filter((line) => line.startsWith('//'))).toEqual([
      '// kept',
      '//unread: CM_ BO_ ! "x";',
      '//unread: SG_ X : 16|8@2+ (1,0)',
    ]);
    expect(readDbc(text).database).toEqual(database);
  });
});

describe('hostile texts', () => {
  const NASTY = [
    'a"b',
    '\\',
    'ends in \\',
    'ends in \\ ',
    '\\"',
    '";\nBU_: Evil\nCM_ "',
    'line\r\nend\rs',
    '// no remark',
    ' padded ',
    '',
    '\u0000\u2028é😀',
    ';',
  ];

  it.each(NASTY.map((text) => [text]))('%j stays what it is in every place', (text) => {
    const meaning = text.replace(/\r\n?/g, '\n'); // a line end is a line end
    const signal = createSignal(
      'S',
      { startBit: 0, lengthBits: 8 },
      { unit: text, comment: text, states: [{ raw: 1n, text }] },
    );
    const message = createMessage(
      'M',
      { frameId: 1, extended: false, lengthBytes: 8 },
      { signals: [signal], comment: text, attributes: new Map([['a', text]]) },
    );
    const found = reread(
      createDatabase({
        version: text,
        nodes: [createNode('N', { comment: text })],
        messages: [message],
        comment: text,
        attributeDefinitions: [
          { name: 'a', object: 'message', type: { kind: 'text' }, defaultValue: text },
          { name: text, object: 'node', type: { kind: 'enumeration', choices: [text, 'x'] }, defaultValue: null },
        ],
      }),
    );
    expect(found.version).toBe(meaning);
    expect(found.nodes.map(({ name, comment }) => [name, comment])).toEqual([['N', meaning]]);
    expect(found.messages[0]).toMatchObject({
      comment: meaning,
      signals: [{ unit: meaning, comment: meaning, states: [{ text: meaning }] }],
    });
    expect(found.messages[0]?.attributes.get('a')).toBe(meaning);
    expect(found.attributeDefinitions[0]?.defaultValue).toBe(meaning);
    expect(found.attributeDefinitions[1]).toMatchObject({ name: meaning, type: { choices: [meaning, 'x'] } });
  });
});

describe('hostile names', () => {
  const NASTY = [
    'engine-speed rpm',
    'Größe',
    'a:b',
    '"',
    '',
    'x;\nBU_: Evil',
    '4WD',
    'BO_',
    'VERSION',
    'Vector__XXX2',
    '//',
    '__proto__',
    'a,b',
    '\\',
    'x'.repeat(300),
  ];

  it('come back under their long names, everywhere they are used', () => {
    const names = NASTY.filter((name) => name !== '');
    const nodes = names.map((name) => createNode(name));
    const signals = names.map((name, i) =>
      createSignal(name, { startBit: i, lengthBits: 1 }, { receivers: [name], comment: name }),
    );
    const messages = names.map((name, i) =>
      createMessage(
        name,
        { frameId: i, extended: true, lengthBytes: 8 },
        { sender: name, transmitters: [name], signals, signalGroups: [{ name: 'G', repetitions: 1, signals: names }] },
      ),
    );
    const { database: found, faults } = readDbc(writeDbc(createDatabase({ nodes, messages }), { maxNameLength: 32 }));
    expect(faults.filter(({ code }) => code !== 'name-unusual')).toEqual([]);
    expect(found.nodes.map(({ name }) => name)).toEqual(names);
    expect(found.messages.map(({ name, sender }) => [name, sender])).toEqual(names.map((name) => [name, name]));
    expect(found.messages.map(({ transmitters }) => transmitters)).toEqual(names.map((name) => [name]));
    for (const message of found.messages) {
      expect(message.signals.map(({ name, receivers, comment }) => [name, receivers, comment])).toEqual(
        names.map((name) => [name, [name], name]),
      );
      expect(message.signalGroups[0]?.signals).toEqual(names);
      for (const { shortName } of message.signals) expect(shortName.length).toBeLessThanOrEqual(32);
    }
  });

  it('stay apart when their short forms would be the same', () => {
    const names = ['a b', 'a_b', 'a;b', 'a_b_0000', `${'x'.repeat(40)}1`, `${'x'.repeat(40)}2`];
    const { database: found, faults } = readDbc(
      writeDbc(createDatabase({ nodes: names.map((name) => createNode(name)) }), { maxNameLength: 32 }),
    );
    expect(faults).toEqual([]);
    expect(found.nodes.map(({ name }) => name)).toEqual(names);
    expect(new Set(found.nodes.map(({ shortName }) => shortName)).size).toBe(names.length);
  });

  it('are left as they were read, however odd', () => {
    const text = `BU_: A-B 4WD\nBO_ 1 ${'M'.repeat(60)}: 8 A-B\n`;
    expect(readDbc(writeDbc(readDbc(text).database)).database).toEqual(readDbc(text).database);
    expect(writeDbc(readDbc(text).database)).toContain('BU_: A-B 4WD\n');
  });
});

describe('hostile numbers', () => {
  const withSignal = (
    parts: Parameters<typeof createSignal>[2],
    field = { startBit: 0, lengthBits: 8 },
  ): DbcDatabase => {
    const signals = [createSignal('S', field, parts)];
    return createDatabase({
      messages: [createMessage('M', { frameId: 1, extended: false, lengthBytes: 8 }, { signals })],
    });
  };

  it('are written from their value when their text is none', () => {
    const database = withSignal({
      factor: { text: '1) [0|0] "', value: 2 },
      min: { text: '0]', value: 5 },
      max: dbcNumber(9),
    });
    expect(reread(database).messages[0]?.signals[0]).toMatchObject({ factor: { text: '2' }, min: { text: '5' } });
  });

  it.each([
    withSignal({ factor: dbcNumber(NaN) }),
    withSignal({}, { startBit: -1, lengthBits: 8 }),
    withSignal({}, { startBit: 0, lengthBits: 1.5 }),
    withSignal({ multiplexValue: -1n }),
    withSignal({ extendedMultiplexing: { selector: 'P', ranges: [] } }),
    createDatabase({ messages: [createMessage('M', { frameId: NaN, extended: false, lengthBytes: 8 })] }),
    createDatabase({ bitTiming: '500\nBU_: Evil' }),
  ])('%# are refused when nothing can be written for them', (database) => {
    expect(() => writeDbc(database)).toThrow(RangeError);
  });
});
