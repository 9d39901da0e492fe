/**
 * What the reader takes from each statement. Source of the forms: the published description of the DBC format; of the irregularities:
 * shared/reference/dbc.md, which lists what was found in 184 open files.
 */
import { describe, expect, it } from 'vitest';
import { readDbc } from '../../../../src/can/formats/dbc/index.ts';
import type { DbcDatabase, DbcMessage, DbcSignal } from '../../../../src/can/formats/dbc/index.ts';

/** Reads a text in which nothing may be unreadable. */
function read(text: string): DbcDatabase {
  const { database, faults } = readDbc(text);
  expect(faults.filter(({ severity }) => severity === 'error')).toEqual([]);
  expect(database.unread).toBe('');
  return database;
}

function message(text: string): DbcMessage {
  return read(`BU_: A B C\n${text}`).messages[0] as DbcMessage;
}

/** The signal written by `line` in an 8-byte message. */
function signal(line: string): DbcSignal {
  return message(`BO_ 1 Status: 8 A\n${line}\n`).signals[0] as DbcSignal;
}

describe('numbers', () => {
  it.each([
    ['(1,0)', '1', 1, '0', 0],
    ['(0.01,250)', '0.01', 0.01, '250', 250],
    ['(1E-05,-1.5e+3)', '1E-05', 1e-5, '-1.5e+3', -1500],
    ['(+0.5,+2)', '+0.5', 0.5, '+2', 2],
    ['(.25,-.5)', '.25', 0.25, '-.5', -0.5],
    ['(2.,0.)', '2.', 2, '0.', 0],
    ['(-0.125,0)', '-0.125', -0.125, '0', 0],
    [
      '(0.1234567890123456789,18446744073709551615)',
      '0.1234567890123456789',
      0.12345678901234568,
      '18446744073709551615',
      18446744073709552000,
    ],
    ['(0x10,0)', '0x10', 16, '0', 0],
    ['( 1 , 0 )', '1', 1, '0', 0],
  ])('%s', (scaling, factorText, factor, offsetText, offset) => {
    const found = signal(` SG_ S : 0|8@1+ ${scaling} [0|0] "" B`);
    expect(found.factor).toEqual({ text: factorText, value: factor });
    expect(found.offset).toEqual({ text: offsetText, value: offset });
  });

  it('keeps a minimum that is no number as it is written', () => {
    const { database, faults } = readDbc('BU_: A\nBO_ 1 M: 8 A\n SG_ S : 0|8@1+ (1,0) [-1.#INF|1.#INF] "" A\n');
    expect(database.messages[0]?.signals[0]?.min).toEqual({ text: '-1.#INF', value: -Infinity });
    expect(database.messages[0]?.signals[0]?.max).toEqual({ text: '1.#INF', value: Infinity });
    expect(faults.map(({ code }) => code)).toEqual(['number-not-finite', 'number-not-finite']);
  });
});

describe('white space', () => {
  it.each([
    ['plain', ' SG_ Speed : 7|16@0- (0.5,-40) [-40|215] "km/h" B,C'],
    ['none', 'SG_ Speed:7|16@0-(0.5,-40)[-40|215]"km/h"B,C'],
    ['double', '  SG_  Speed  :  7|16@0-  (0.5,-40)  [-40|215]  "km/h"  B,C'],
    ['between all tokens', 'SG_ Speed : 7 | 16 @ 0 - ( 0.5 , -40 ) [ -40 | 215 ] "km/h" B , C'],
    ['tabs', '\tSG_\tSpeed\t:\t7|16@0-\t(0.5,-40)\t[-40|215]\t"km/h"\tB,C'],
    ['receivers apart by blanks', 'SG_ Speed : 7|16@0- (0.5,-40) [-40|215] "km/h" B C'],
    ['over several lines', 'SG_ Speed :\n 7|16@0-\n (0.5,-40)\n [-40|215]\n "km/h"\n B,C'],
    ['no-break spaces', 'SG_\u00a0Speed\u00a0: 7|16@0- (0.5,-40) [-40|215] "km/h"\u00a0B,C'],
    ['a remark inside', 'SG_ Speed : 7|16@0- // sawtooth\n (0.5,-40) [-40|215] "km/h" B,C'],
  ])('%s', (_, line) => {
    expect(signal(line)).toMatchObject({
      name: 'Speed',
      startBit: 7,
      lengthBits: 16,
      order: 'big',
      signed: true,
      factor: { value: 0.5 },
      offset: { value: -40 },
      min: { value: -40 },
      max: { value: 215 },
      unit: 'km/h',
      receivers: ['B', 'C'],
    });
  });

  it('takes CR LF, LF, and CR alone as line ends', () => {
    const lines = ['BU_: A', 'BO_ 1 M: 8 A', ' SG_ S : 0|8@1+ (1,0) [0|0] "" A', 'CM_ SG_ 1 S "two', 'lines";', ''];
    const [lf, crlf, cr] = ['\n', '\r\n', '\r'].map((end) => readDbc(lines.join(end)).database);
    expect(lf?.messages[0]?.signals[0]?.comment).toBe('two\nlines');
    expect(crlf).toEqual(lf);
    expect(cr).toEqual(lf);
  });

  it('reads two statements on a line', () => {
    const database = read('BU_: A BO_ 1 M: 8 A SG_ S : 0|8@1+ (1,0) [0|0] "" A CM_ BO_ 1 "one"; CM_ BU_ A "two";;\n');
    expect(database.messages[0]).toMatchObject({
      name: 'M',
      comment: 'one',
      signals: [{ name: 'S', receivers: ['A'] }],
    });
    expect(database.nodes[0]?.comment).toBe('two');
  });

  it('keeps // remarks', () => {
    expect(read('// head\nVERSION "1" // tail\nBU_: A\n  // indented\n').remarks).toBe('// head\n// tail\n// indented');
  });
});

describe('texts', () => {
  it.each([
    ['escaped quotes', '"say \\"go\\""', 'say "go"'],
    ['a semicolon', '"a; b;"', 'a; b;'],
    ['a semicolon at a line end', '"a;\nb;\n"', 'a;\nb;\n'],
    ['what looks like a statement', '"\nBO_ 2 X: 8 A\n"', '\nBO_ 2 X: 8 A\n'],
    ['what looks like a remark', '"http://example.org // no remark"', 'http://example.org // no remark'],
    ['backslashes', '"C:\\dir\\file"', 'C:\\dir\\file'],
    ['two backslashes', '"a\\\\b"', 'a\\\\b'],
    ['nothing', '""', ''],
    ['letters outside ASCII', '"°C µm – Größe"', '°C µm – Größe'],
  ])('%s', (_, written, meaning) => {
    expect(read(`BU_: A\nCM_ BU_ A ${written};\n`).nodes[0]?.comment).toBe(meaning);
  });

  it('sees a final backslash for what it is when nothing else makes sense', () => {
    const { database, faults } = readDbc('BU_: A B\nCM_ BU_ A "C:\\dir\\";\nCM_ BU_ B "x";\n');
    expect(database.nodes.map(({ comment }) => comment)).toEqual(['C:\\dir\\', 'x']);
    expect(faults.map(({ code, line }) => [code, line])).toEqual([['string-ends-in-backslash', 2]]);
  });
});

describe('messages', () => {
  it.each([
    [291, 291, false],
    [2047, 2047, false],
    [0, 0, false],
    [2147483648, 0, true],
    [2566844926, 0x18fef1fe, true],
    [2684354559, 0x1fffffff, true],
  ])('id %i', (id, frameId, extended) => {
    expect(message(`BO_ ${id} M: 8 A\n`)).toMatchObject({ id, frameId, extended });
  });

  it('takes an id beyond 11 bits without bit 31 as 29 bits, and says so', () => {
    const { database, faults } = readDbc('BU_: A\nBO_ 274923520 M: 8 A\n');
    expect(database.messages[0]).toMatchObject({ id: 274923520, frameId: 274923520, extended: true });
    expect(faults.map(({ code }) => code)).toEqual(['frame-id-without-extended-bit']);
  });

  it('has no sender where the file has the placeholder', () => {
    expect(message('BO_ 1 M: 8 Vector__XXX\n').sender).toBeNull();
  });

  it('reads several senders, length 0 and long frames', () => {
    const database = read('BU_: A B\nBO_ 1 M: 0 A\nBO_ 2 N: 64 B\nBO_TX_BU_ 2 : A,B;\n');
    expect(database.messages.map(({ lengthBytes, transmitters }) => [lengthBytes, transmitters])).toEqual([
      [0, []],
      [64, ['A', 'B']],
    ]);
  });

  it('sets the independent signals apart', () => {
    const database = read(
      'BU_: A\nBO_ 3221225472 VECTOR__INDEPENDENT_SIG_MSG: 0 Vector__XXX\n SG_ S : 0|8@1+ (1,0) [0|0] "" A\n',
    );
    expect(database.messages).toEqual([]);
    expect(database.independentSignals[0]?.signals[0]?.name).toBe('S');
  });

  it('reads names with leading digits and other characters, and remarks on them', () => {
    const { database, faults } = readDbc(
      'BU_: 4WD Gate-Way\nBO_ 1 2nd_Status: 8 4WD\n SG_ A.b-c : 0|8@1+ (1,0) [0|0] "" Gate-Way\n',
    );
    expect(database.messages[0]).toMatchObject({
      name: '2nd_Status',
      sender: '4WD',
      signals: [{ name: 'A.b-c', receivers: ['Gate-Way'] }],
    });
    expect(faults.map(({ code, line, column }) => [code, line, column])).toEqual([
      ['name-unusual', 1, 6],
      ['name-unusual', 1, 10],
      ['name-unusual', 2, 7],
      ['name-unusual', 3, 6],
    ]);
  });

  it('lists nodes over several lines', () => {
    expect(read('BU_: A B\n C D\n\nBO_ 1 M: 8 D\n').nodes.map(({ name }) => name)).toEqual(['A', 'B', 'C', 'D']);
  });
});

describe('multiplexing', () => {
  it('reads M, m and both', () => {
    const found = message(
      'BO_ 1 M: 8 A\n SG_ P M : 0|8@1+ (1,0) [0|0] "" B\n SG_ Q m3M : 8|8@1+ (1,0) [0|0] "" B\n SG_ R m12 : 16|8@1+ (1,0) [0|0] "" B\n',
    );
    expect(found.signals.map(({ isMultiplexer, multiplexValue }) => [isMultiplexer, multiplexValue])).toEqual([
      [true, null],
      [true, 3n],
      [false, 12n],
    ]);
  });

  it('reads ranges without expanding them', () => {
    const found = message(
      'BO_ 1 M: 8 A\n SG_ P M : 0|32@1+ (1,0) [0|0] "" B\n SG_ R m0 : 32|8@1+ (1,0) [0|0] "" B\nSG_MUL_VAL_ 1 R P 0-4294967294, 4294967295-4294967295;\n',
    );
    expect(found.signals[1]?.extendedMultiplexing).toEqual({
      selector: 'P',
      ranges: [
        { from: 0n, to: 4294967294n },
        { from: 4294967295n, to: 4294967295n },
      ],
    });
  });

  it('takes a name M as a name where a name stands', () => {
    expect(signal('SG_ M : 0|8@1+ (1,0) [0|0] "" B')).toMatchObject({ name: 'M', isMultiplexer: false });
  });
});

describe('states', () => {
  it('reads negative and 64-bit raw values, and an empty list', () => {
    const text = 'BO_ 1 M: 8 A\n SG_ S : 0|64@1- (1,0) [0|0] "" B\n SG_ T : 0|0@1- (1,0) [0|0] "" B\n';
    const { database } = readDbc(
      `BU_: A B\n${text}VAL_ 1 S -9223372036854775808 "least" -1 "x" 18446744073709551615 "all" ;\nVAL_ 1 T ;\n`,
    );
    expect(database.messages[0]?.signals[0]?.states).toEqual([
      { raw: -9223372036854775808n, text: 'least' },
      { raw: -1n, text: 'x' },
      { raw: 18446744073709551615n, text: 'all' },
    ]);
    expect(database.messages[0]?.signals[1]?.states).toEqual([]);
  });

  it('reads value tables and states of environment variables', () => {
    const database = read(
      'BU_: A\nVAL_TABLE_ OnOff 1 "On" 0 "Off" ;\nEV_ Key: 0 [0|1] "" 0 7 DUMMY_NODE_VECTOR0 A;\nENVVAR_DATA_ Key: 5;\nVAL_ Key 1 "In" ;\nCM_ EV_ Key "the key";\n',
    );
    expect(database.valueTables).toEqual([
      {
        name: 'OnOff',
        states: [
          { raw: 1n, text: 'On' },
          { raw: 0n, text: 'Off' },
        ],
      },
    ]);
    expect(database.environmentVariables[0]).toMatchObject({
      name: 'Key',
      type: 0,
      id: 7,
      access: 'DUMMY_NODE_VECTOR0',
      nodes: ['A'],
      sizeBytes: 5,
      comment: 'the key',
      states: [{ raw: 1n, text: 'In' }],
    });
  });
});

describe('attributes', () => {
  const text = `BU_: A B
BO_ 1 M: 8 A
 SG_ S : 0|8@1+ (1,0) [0|0] "" B
BA_DEF_ "Db-Name" STRING ;
BA_DEF_ BU_ "Address" HEX 0 255;
BA_DEF_ BO_ "Kind" ENUM "slow","fast";
BA_DEF_ SG_ "Gain" FLOAT -1.7E+308 1.7E+308;
BA_DEF_REL_ BU_SG_REL_ "Timeout" INT 0 65535;
BA_DEF_REL_ BU_BO_REL_ "Use" INT 0 1;
BA_DEF_DEF_ "Kind" "slow";
BA_DEF_DEF_REL_ "Timeout" 100;
BA_ "Db-Name" "bus";
BA_ "Address" BU_ A 17;
BA_ "Kind" BO_ 1 1;
BA_ "Gain" SG_ 1 S 1E-3;
BA_REL_ "Timeout" BU_SG_REL_ B SG_ 1 S 250;
BA_REL_ "Use" BU_BO_REL_ B 1 1;
`;

  it('reads definitions, defaults, values and relations', () => {
    const database = read(text);
    expect(
      database.attributeDefinitions.map(({ name, object, type, defaultValue }) => [
        name,
        object,
        type.kind,
        defaultValue,
      ]),
    ).toEqual([
      ['Db-Name', 'database', 'text', null],
      ['Address', 'node', 'hex', null],
      ['Kind', 'message', 'enumeration', 'slow'],
      ['Gain', 'signal', 'float', null],
      ['Timeout', 'node-signal', 'integer', { text: '100', value: 100 }],
      ['Use', 'node-message', 'integer', null],
    ]);
    expect([...database.attributes]).toEqual([['Db-Name', 'bus']]);
    expect([...(database.nodes[0]?.attributes ?? [])]).toEqual([['Address', { text: '17', value: 17 }]]);
    expect([...(database.messages[0]?.attributes ?? [])]).toEqual([['Kind', { text: '1', value: 1 }]]);
    expect([...(database.messages[0]?.signals[0]?.attributes ?? [])]).toEqual([
      ['Gain', { text: '1E-3', value: 0.001 }],
    ]);
    expect(database.relationAttributes).toEqual([
      {
        object: 'node-signal',
        name: 'Timeout',
        node: 'B',
        messageId: 1,
        signal: 'S',
        value: { text: '250', value: 250 },
      },
      { object: 'node-message', name: 'Use', node: 'B', messageId: 1, value: { text: '1', value: 1 } },
    ]);
  });

  it('does not care which of two statements stands first', () => {
    const [definitions, values] = [text.split('\n').slice(3, 11), text.split('\n').slice(11)];
    const head = text.split('\n').slice(0, 3);
    const turned = read([...values, ...definitions, ...head].join('\n'));
    expect(turned.messages).toEqual(read(text).messages);
  });

  it('keeps names of JavaScript as names', () => {
    const database = read(
      'BU_: __proto__ constructor\nBO_ 1 toString: 8 __proto__\n SG_ __proto__ : 0|8@1+ (1,0) [0|0] "" constructor\nBA_DEF_ BU_ "__proto__" INT 0 1;\nBA_ "__proto__" BU_ __proto__ 1;\nCM_ SG_ 1 __proto__ "x";\n',
    );
    expect(database.nodes[0]?.attributes.get('__proto__')).toEqual({ text: '1', value: 1 });
    expect(database.messages[0]?.signals[0]).toMatchObject({ name: '__proto__', comment: 'x' });
    expect(({} as { polluted?: unknown }).polluted).toBeUndefined();
  });
});

describe('what is not interpreted', () => {
  it('keeps other statements of the format, of other dialects, and those that refer to nothing', () => {
    const { database, faults } = readDbc(
      'BU_: A\nSGTYPE_ T : 8@1+ (1,0) [0|0] "a;b" 0,X;\nSIG_TYPE_REF_ 1 S : T;\nFOO_ 1 "x" ;\nCM_ BO_ 99 "gone;\r\nfar";\n',
    );
    expect(database.kept).toEqual([
      { reason: 'unmodelled', text: 'SGTYPE_ T : 8@1+ (1,0) [0|0] "a;b" 0,X;' },
      { reason: 'unmodelled', text: 'SIG_TYPE_REF_ 1 S : T;' },
      { reason: 'unknown', text: 'FOO_ 1 "x" ;' },
      { reason: 'unattached', text: 'CM_ BO_ 99 "gone;\nfar";' },
    ]);
    expect(faults.map(({ code, line, column }) => [code, line, column])).toEqual([
      ['keyword-unknown', 4, 1],
      ['message-unknown', 5, 9],
    ]);
  });

  it('lets the last of two contradicting statements count and keeps the first', () => {
    const { database, faults } = readDbc('BU_: A\nCM_ BU_ A "first";\nCM_ BU_ A "last";\n');
    expect(database.nodes[0]?.comment).toBe('last');
    expect(database.kept).toEqual([{ reason: 'superseded', text: 'CM_ BU_ A "first";' }]);
    expect(faults.map(({ code, line }) => [code, line])).toEqual([['statement-repeated', 3]]);
  });
});

describe('long names', () => {
  it('replace the short ones everywhere, and the short ones stay for writing', () => {
    const database = read(`BU_: Nod Oth
BO_ 5 Msg: 8 Nod
 SG_ Sel M : 0|8@1+ (1,0) [0|0] "" Oth
 SG_ Sig m0 : 8|8@1+ (1,0) [0|0] "" Nod,Oth
BO_TX_BU_ 5 : Nod,Oth;
BA_DEF_ BU_ "SystemNodeLongSymbol" STRING ;
BA_DEF_ BO_ "SystemMessageLongSymbol" STRING ;
BA_DEF_ SG_ "SystemSignalLongSymbol" STRING ;
BA_ "SystemNodeLongSymbol" BU_ Nod "Node_with_a_long_name";
BA_ "SystemMessageLongSymbol" BO_ 5 "Message_with_a_long_name";
BA_ "SystemSignalLongSymbol" SG_ 5 Sel "Selector_with_a_long_name";
BA_ "SystemSignalLongSymbol" SG_ 5 Sig "Signal_with_a_long_name";
SIG_GROUP_ 5 Group 1 : Sel Sig;
SG_MUL_VAL_ 5 Sig Sel 0-1;
`);
    const found = database.messages[0];
    expect(database.nodes[0]).toMatchObject({ name: 'Node_with_a_long_name', shortName: 'Nod' });
    expect(found).toMatchObject({
      name: 'Message_with_a_long_name',
      shortName: 'Msg',
      sender: 'Node_with_a_long_name',
      transmitters: ['Node_with_a_long_name', 'Oth'],
      signalGroups: [{ signals: ['Selector_with_a_long_name', 'Signal_with_a_long_name'] }],
    });
    expect(found?.signals[1]).toMatchObject({
      name: 'Signal_with_a_long_name',
      shortName: 'Sig',
      receivers: ['Node_with_a_long_name', 'Oth'],
      extendedMultiplexing: { selector: 'Selector_with_a_long_name' },
    });
  });
});

describe('the result', () => {
  it('knows where each message and signal stands', () => {
    const result = readDbc(
      'BU_: A\nBO_ 1 M: 8 A\n SG_ S : 0|8@1+ (1,0) [0|0] "" A\n SG_ T : 8|8@1+ (1,0) [0|0] "" A\n',
    );
    const found = result.database.messages[0] as DbcMessage;
    expect(result.placeOf(found)).toEqual({ line: 2, column: 7 });
    expect(result.placeOf(found, found.signals[1])).toEqual({ line: 4, column: 6 });
    expect(result.placeOf({ ...found })).toBeNull();
  });

  it('reports progress and can be stopped, keeping the rest', () => {
    const text = `BU_: A\n${'BO_ 1 M: 8 A\n'.repeat(100_000)}`;
    const seen: number[] = [];
    readDbc(text, { onProgress: (fraction) => seen.push(fraction) });
    expect(seen.length).toBeGreaterThan(2);
    expect(seen).toEqual([...seen].sort((a, b) => a - b));
    expect(seen.at(-1)).toBe(1);

    const stopped = readDbc(text, { isCancelled: () => true, maxFaults: 1_000_000 });
    expect(stopped.faults.map(({ code }) => code)).toContain('cancelled');
    const lines = stopped.database.messages.length + stopped.database.unread.split('\n').length;
    expect(lines).toBe(100_000);
  });
});
