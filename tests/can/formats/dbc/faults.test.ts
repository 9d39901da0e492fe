/** Every kind of fault: an example, with the line and column at which it must be named, counted by hand. */
import { describe, expect, it } from 'vitest';
import { DBC_FAULT_KINDS, readDbc, writeDbc } from '../../../../src/can/formats/dbc/index.ts';
import type { DbcFaultCode, ReadDbcOptions } from '../../../../src/can/formats/dbc/index.ts';

interface Example {
  readonly code: DbcFaultCode;
  readonly text: string | Uint8Array;
  readonly at: readonly [line: number, column: number];
  /** Words that the message must hold. */
  readonly says: readonly string[];
  readonly options?: ReadDbcOptions;
}

const HEAD = 'BU_: A B\nBO_ 1 M: 8 A\n';
const SIGNAL = ' SG_ S : 0|8@1+ (1,0) [0|0] "" B\n';

const EXAMPLES: readonly Example[] = [
  { code: 'too-large', text: 'BU_: A B C', at: [1, 1], says: ['10', '5'], options: { maxBytes: 5 } },
  { code: 'too-many-parts', text: 'BU_: A B C\nBO_ 1 M: 8 A\n', at: [1, 11], says: ['2'], options: { maxParts: 2 } },
  {
    code: 'cancelled',
    text: `BU_: A\n${' \n'.repeat(200_000)}BU_: B\n`,
    at: [200_002, 1],
    says: [],
    options: { isCancelled: () => true },
  },
  { code: 'encoding-broken', text: Uint8Array.of(0xef, 0xbb, 0xbf, 0x2f, 0x2f, 0xff), at: [1, 1], says: ['utf-8'] },
  { code: 'more-faults', text: 'x\nBU_: A A A\n', at: [1, 1], says: ['2'], options: { maxFaults: 1 } },
  { code: 'text-unreadable', text: 'BU_: A\n%%% what\nBU_: B\n', at: [2, 1], says: ["'%%% what'"] },
  {
    code: 'statement-unreadable',
    text: 'BU_: A\nBO_ x M: 8 A\n',
    at: [2, 5],
    says: ['BO_', 'a frame id', "'x M: 8 A'"],
  },
  { code: 'string-not-closed', text: 'BU_: A\nCM_ BU_ A "open;\nBO_ 1 M: 8 A\n', at: [2, 11], says: ['CM_'] },
  { code: 'string-ends-in-backslash', text: 'BU_: A\nCM_ BU_ A "C:\\";\nCM_ "x";\n', at: [2, 4], says: ['backslash'] },
  { code: 'statement-not-closed', text: 'BU_: A\nCM_ BU_ A "x"\nCM_ "y";\n', at: [3, 1], says: ['CM_', 'semicolon'] },
  { code: 'keyword-unknown', text: 'BU_: A\nBO_FOO_ 1;\n', at: [2, 1], says: ['BO_FOO_'] },
  { code: 'statement-repeated', text: 'BU_: A\nCM_ "x";\nCM_ "y";\n', at: [3, 5], says: ['comment'] },
  { code: 'signal-without-message', text: `BU_: A B\n${SIGNAL}`, at: [2, 6], says: ["'S'"] },
  { code: 'signal-apart', text: `${HEAD}CM_ "x";\n${SIGNAL}`, at: [4, 6], says: ["'S'", "'M'"] },
  { code: 'sender-missing', text: 'BU_: A\nBO_ 1 M: 8\n\nCM_ "x";\n', at: [4, 1], says: ["'M'"] },
  { code: 'unread-before', text: 'BU_: A\n//unread: BO_ x\n', at: [2, 1], says: ['earlier'] },
  { code: 'message-unknown', text: `${HEAD}BA_ "x" BO_ 17 1;\n`, at: [3, 13], says: ['BA_', '17'] },
  { code: 'signal-unknown', text: `${HEAD}VAL_ 1 T 0 "x" ;\n`, at: [3, 8], says: ['VAL_', "'T'"] },
  { code: 'node-unknown', text: 'BU_: A\nBO_ 1 M: 8 Z\n', at: [2, 12], says: ["'Z'", 'M'] },
  { code: 'environment-variable-unknown', text: 'BU_: A\nCM_ EV_ Key "x";\n', at: [2, 9], says: ["'Key'"] },
  { code: 'attribute-undefined', text: `${HEAD}BA_ "Kind" BO_ 1 1;\n`, at: [3, 16], says: ["'Kind'"] },
  { code: 'attribute-default-unattached', text: 'BU_: A\nBA_DEF_DEF_ "Kind" 1;\n', at: [2, 13], says: ["'Kind'"] },
  { code: 'frame-id-repeated', text: `${HEAD}BO_ 1 N: 8 A\n`, at: [3, 7], says: ['0x1', 'M'] },
  { code: 'frame-id-out-of-range', text: 'BU_: A\nBO_ 4294967295 M: 8 A\n', at: [2, 16], says: ['0x7FFFFFFF', "'M'"] },
  { code: 'frame-id-without-extended-bit', text: 'BU_: A\nBO_ 2048 M: 8 A\n', at: [2, 10], says: ['0x800', "'M'"] },
  { code: 'message-name-repeated', text: `${HEAD}BO_ 2 M: 8 A\n`, at: [3, 7], says: ["'M'"] },
  {
    code: 'signal-name-repeated',
    text: `${HEAD}${SIGNAL}${SIGNAL.replace('0|8', '8|8')}`,
    at: [4, 6],
    says: ["'S'", "'M'"],
  },
  { code: 'node-repeated', text: 'BU_: A B A\n', at: [1, 10], says: ["'A'"] },
  { code: 'value-table-repeated', text: 'VAL_TABLE_ T 0 "x" ;\nVAL_TABLE_ T 0 "y" ;\n', at: [2, 12], says: ["'T'"] },
  {
    code: 'environment-variable-repeated',
    text: 'BU_: A\nEV_ K: 0 [0|0] "" 0 1 X A;\nEV_ K: 0 [0|0] "" 0 2 X A;\n',
    at: [3, 5],
    says: ["'K'"],
  },
  { code: 'state-repeated', text: 'VAL_TABLE_ T 0 "x" 0 "y" ;\n', at: [1, 20], says: ['0', 'T'] },
  { code: 'name-unusual', text: 'BU_: A-B\n', at: [1, 6], says: ["'A-B'"] },
  {
    code: 'long-name-repeated',
    text: `BU_: A B\nBA_DEF_ BU_ "SystemNodeLongSymbol" STRING ;\nBA_ "SystemNodeLongSymbol" BU_ B "A";\n`,
    at: [1, 8],
    says: ["'A'", "'B'"],
  },
  { code: 'number-not-finite', text: `${HEAD}${SIGNAL.replace('[0|0]', '[0|nan]')}`, at: [3, 26], says: ['nan'] },
  { code: 'factor-zero', text: `${HEAD}${SIGNAL.replace('(1,', '(0,')}`, at: [3, 6], says: ["'S'"] },
  { code: 'range-reversed', text: `${HEAD}${SIGNAL.replace('[0|0]', '[5|1]')}`, at: [3, 6], says: ["'S'"] },
  { code: 'frame-length', text: 'BU_: A\nBO_ 1 M: 1785 A\n', at: [2, 7], says: ["'M'", '1785'] },
  { code: 'frame-length-not-fd', text: 'BU_: A\nBO_ 1 M: 13 A\n', at: [2, 7], says: ["'M'", '13'] },
  { code: 'signal-length', text: `${HEAD}${SIGNAL.replace('0|8', '0|65')}`, at: [3, 6], says: ["'S'", '65'] },
  { code: 'signal-outside-frame', text: `${HEAD}${SIGNAL.replace('0|8', '60|8')}`, at: [3, 6], says: ["'S'", '8'] },
  {
    code: 'signals-overlap',
    text: `${HEAD}${SIGNAL} SG_ T : 7|2@1+ (1,0) [0|0] "" B\n`,
    at: [4, 6],
    says: ["'S'", "'T'"],
  },
  { code: 'overlap-not-checked', text: pages(20_000), at: [2, 7], says: ["'M'"], options: { maxFaults: 1e6 } },
  { code: 'float-length', text: `${HEAD}${SIGNAL}SIG_VALTYPE_ 1 S : 1;\n`, at: [3, 6], says: ["'S'", '32'] },
  { code: 'multiplexer-missing', text: `${HEAD}${SIGNAL.replace('S :', 'S m1 :')}`, at: [3, 6], says: ["'S'", "'M'"] },
  {
    code: 'multiplexer-ambiguous',
    text: `${HEAD} SG_ P M : 0|8@1+ (1,0) [0|0] "" B\n SG_ Q M : 8|8@1+ (1,0) [0|0] "" B\n SG_ R m1 : 16|8@1+ (1,0) [0|0] "" B\n`,
    at: [5, 6],
    says: ["'R'", "'M'"],
  },
  { code: 'multiplexer-unknown', text: `${HEAD}${SIGNAL}SG_MUL_VAL_ 1 S Z 0-1;\n`, at: [3, 6], says: ["'S'", "'Z'"] },
  {
    code: 'multiplexer-unusable',
    text: `${HEAD} SG_ P M : 0|32@1+ (1,0) [0|0] "" B\n SG_ R m1 : 32|8@1+ (1,0) [0|0] "" B\nSIG_VALTYPE_ 1 P : 1;\n`,
    at: [4, 6],
    says: ["'R'", "'P'"],
  },
  {
    code: 'multiplexer-cycle',
    text: `${HEAD} SG_ P M : 0|8@1+ (1,0) [0|0] "" B\n SG_ Q M : 8|8@1+ (1,0) [0|0] "" B\nSG_MUL_VAL_ 1 P Q 0-1;\nSG_MUL_VAL_ 1 Q P 0-1;\n`,
    at: [3, 6],
    says: ["'P'"],
  },
  {
    code: 'multiplexer-range',
    text: `${HEAD} SG_ P M : 0|4@1+ (1,0) [0|0] "" B\n SG_ R m16 : 8|8@1+ (1,0) [0|0] "" B\n`,
    at: [4, 6],
    says: ["'R'", '16'],
  },
];

/** One message with that many pages. */
function pages(count: number): string {
  const lines = Array.from({ length: count }, (_, i) => ` SG_ S${i} m${i} : 32|8@1+ (1,0) [0|0] "" B`);
  return ['BU_: A B', 'BO_ 1 M: 8 A', ' SG_ P M : 0|32@1+ (1,0) [0|0] "" B', ...lines, ''].join('\n');
}

describe('each kind of fault', () => {
  it.each(EXAMPLES.map((example) => [example.code, example] as const))('%s', (code, { text, at, says, options }) => {
    const { faults } = readDbc(text, options);
    const found = faults.find((fault) => fault.code === code);
    expect(found, JSON.stringify(faults)).toBeDefined();
    expect([found?.line, found?.column]).toEqual(at);
    for (const word of says) expect(found?.message).toContain(word);
    expect(found?.message).not.toMatch(/[{}]|undefined/);
    expect(found?.severity).toBe(DBC_FAULT_KINDS[code].severity);
    expect(found?.mend.length).toBeGreaterThan(5);
  });

  it('has an example', () => {
    const shown = new Set(EXAMPLES.map(({ code }) => code));
    expect(Object.keys(DBC_FAULT_KINDS).filter((code) => !shown.has(code as DbcFaultCode))).toEqual([]);
  });
});

describe('after a fault', () => {
  const good = [
    'BU_: A B',
    'BO_ 1 M: 8 A',
    ' SG_ S : 0|8@1+ (1,0) [0|0] "km/h" B',
    ' SG_ T : 8|8@1+ (1,0) [0|0] "" B',
    'CM_ SG_ 1 T "last";',
    '',
  ];

  it.each([
    ['a broken statement', 'BA_ Kind BO_ 1 1;'],
    ['a quote left open', 'CM_ BU_ A "open;'],
    ['garbage', '\u0000\u0001 %&/ "'],
    ['a broken signal', ' SG_ X : 16|8@2+ (1,0) [0|0] "" B'],
    ['a cut line', ' SG_ X : 16|8@1+ (1,0'],
  ])('%s: all other statements are read, and its words are kept', (_, line) => {
    for (let at = 1; at < good.length - 1; at++) {
      const text = [...good.slice(0, at), line, ...good.slice(at)].join('\n');
      const { database, faults } = readDbc(text);
      const errors = faults.filter(({ severity }) => severity === 'error');
      expect(errors.map((fault) => fault.line)).toEqual([at + 1]);
      expect(database.messages[0]?.signals.map(({ name }) => name)).toEqual(['S', 'T']);
      expect(database.messages[0]?.signals[1]?.comment).toBe('last');
      const kept = [database.unread, ...database.messages.map(({ unread }) => unread)].join('');
      expect(kept).toBe(line.trim());
    }
  });

  it('reads the second statement of a line when the first is broken', () => {
    const { database, faults } = readDbc('BU_: A\nCM_ BU_ ; "x; CM_ y"; CM_ BU_ A "read";\n');
    expect(database.nodes[0]?.comment).toBe('read');
    expect(faults.map(({ line, column }) => [line, column])).toEqual([[2, 9]]);
  });

  it('does not keep as a statement what would read otherwise in another place', () => {
    // Without its semicolon, the reference to nothing would take the remark, and in the file written the next statement, with it.
    const { database } = readDbc('BU_: A\nCM_ BO_ 9 "gone"\n// remark\nCM_ BU_ A "x";\n');
    expect(database.kept).toEqual([]);
    expect(database.unread).toBe('CM_ BO_ 9 "gone"\n// remark');
    expect(database.nodes[0]?.comment).toBe('x');
    expect(readDbc(writeDbc(database)).database).toEqual(database);
  });

  it('counts lines by LF, CR LF and CR', () => {
    for (const end of ['\n', '\r\n', '\r']) {
      const { faults } = readDbc(['BU_: A', '', 'BO_ x', ''].join(end));
      expect(faults.map(({ line, column }) => [line, column])).toEqual([[3, 5]]);
    }
  });

  it('lists no more faults than asked for, and counts the others', () => {
    const { faults, moreFaults } = readDbc('BO_ x\nBU_: A\n'.repeat(50), { maxFaults: 10 });
    expect(faults.length).toBe(11);
    expect(moreFaults).toBe(50 + 49 - 10); // each broken line, each further listing of node A
    expect(faults.at(-1)?.code).toBe('more-faults');
  });
});
