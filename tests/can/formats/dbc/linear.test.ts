/**
 * Reading takes steps in proportion to the length of the text, whatever is in it. Counted, not timed: every character looked at
 * and every character copied is a step, by counting the calls of the string functions that the reader uses.
 */
import { describe, expect, it } from 'vitest';
import { readDbc } from '../../../../src/can/formats/dbc/index.ts';
import { generateDbc } from '../../../bench/generate-dbc.ts';

/** Steps of one reading. */
function stepsOf(text: string): number {
  const { charCodeAt, slice, includes, indexOf } = String.prototype;
  let steps = 0;
  String.prototype.charCodeAt = function (index) {
    steps++;
    return charCodeAt.call(this, index);
  };
  String.prototype.slice = function (...range) {
    const part = slice.apply(this, range);
    steps += part.length;
    return part;
  };
  String.prototype.includes = function (...search) {
    steps += this.length;
    return includes.apply(this, search);
  };
  String.prototype.indexOf = function (search, from = 0) {
    const found = indexOf.call(this, search, from);
    steps += (found < 0 ? this.length : found) - from;
    return found;
  };
  try {
    readDbc(text);
  } finally {
    Object.assign(String.prototype, { charCodeAt, slice, includes, indexOf });
  }
  return steps;
}

const HEAD = 'BU_: A B\nBO_ 1 M: 8 A\n SG_ S M : 0|8@1+ (1,0) [0|0] "" B\n';

/** Pieces that, repeated, would cost a careless reader time that grows with the square, or forever. */
const PIECES: Readonly<Record<string, readonly [head: string, piece: string]>> = {
  blanks: ['', ' '],
  'line ends': ['', '\n'],
  returns: ['x', '\r'],
  zeros: ['', '\0'],
  letters: ['', 'A'],
  quotes: ['', '"'],
  'escaped quotes': ['CM_ "', '\\"'],
  backslashes: ['CM_ "', '\\'],
  semicolons: ['', ';'],
  slashes: ['', '/'],
  remarks: ['', '//\n'],
  'indented remarks': ['', ' // x\n'],
  'unread remarks': ['', '//unread: x\n'],
  'broken messages': ['', 'BO_\n'],
  'broken signals': [HEAD, ' SG_ X : 1\n'],
  'texts left open at each line': ['', 'CM_ "\n'],
  'texts that swallow lines': [HEAD, 'VAL_ 1 S 0 " 1 " 1 " 1\n'],
  'texts left open at the end': ['', 'CM_ BU_ A \\"\n'],
  'final backslashes': ['BU_: A\n', 'CM_ BU_ A "\\";\n'],
  'final backslashes then garbage': ['BU_: A\n', 'CM_ BU_ A "\\"; x "\n'],
  'unknown statements': ['', 'FOO_ x;\n'],
  'unknown statements left open': ['', 'FOO_ x\n'],
  'unmodelled statements left open': ['', 'CAT_ x\n'],
  'references to nothing': ['', 'CM_ BO_ 9 "x";\n'],
  'repeated comments': ['BU_: A\n', 'CM_ BU_ A "x";\n'],
  'repeated defaults': ['BA_DEF_ "x" INT;\n', 'BA_DEF_DEF_ "x" 1;\n'],
  'repeated definitions': ['', 'BA_DEF_ "x" INT 0 1;\n'],
  'repeated nodes': ['', 'BU_: A\n'],
  'a list of nodes': ['BU_:', ' A'],
  'bit timings on a line': ['', 'BS_:'],
  'bit timings with numbers': ['', 'BS_: 1 '],
  'symbol lists': ['', 'NS_ :\n'],
  'symbols on a line': ['NS_ :', ' X'],
  'a long number': ['BO_ 1 M: 8 A\n SG_ S : 0|8@1+ (', '9'],
  'a long id': ['BO_ ', '9'],
  states: [`${HEAD}VAL_ 1 S `, '0 "x" '],
  'a long text': ['CM_ "', 'x\n'],
  choices: ['BA_DEF_ "x" ENUM ', '"a",'],
  ranges: [`${HEAD}SG_MUL_VAL_ 1 S S `, '0-9, '],
  'repeated messages': ['', 'BO_ 1 M: 8 A\n'],
  'repeated signals': [HEAD, ' SG_ T : 8|8@1+ (1,0) [0|0] "" B\n'],
  'repeated multiplexed signals': [HEAD, ' SG_ T m1 : 8|8@1+ (1,0) [0|0] "" B\n'],
  receivers: [`${HEAD.trimEnd()}`, ',B'],
  senders: ['BU_: A\nBO_ 1 M: 8 A\nBO_TX_BU_ 1 : ', 'A,'],
  groups: [HEAD, 'SIG_GROUP_ 1 G 1 : S;\n'],
  relations: [HEAD, 'BA_REL_ "x" BU_BO_REL_ A 1 1;\n'],
};

describe('reading is linear in', () => {
  it.each(Object.entries(PIECES))('%s', (_, [head, piece]) => {
    const at = (length: number): string => head + piece.repeat(Math.ceil(length / piece.length));
    const [small, large] = [at(20_000), at(80_000)].map((text) => stepsOf(text)) as [number, number];
    expect(small).toBeGreaterThan(10_000); // the count counts
    // Four times the text: about four times the steps. Quadratic would be sixteen.
    expect(large / small).toBeLessThan(4.6);
    // Each character is looked at a few dozen times at most, retries, checks and line counting included.
    expect(large / 80_000).toBeLessThan(60);
  });

  it('a file of the usual kind', () => {
    const [small, large] = [generateDbc(500), generateDbc(2000)];
    const [stepsSmall, stepsLarge] = [stepsOf(small), stepsOf(large)];
    expect(stepsLarge / large.length / (stepsSmall / small.length)).toBeLessThan(1.1);
    expect(stepsLarge / large.length).toBeLessThan(8);
  });
});
