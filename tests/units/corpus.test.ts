/**
 * Every unit text of an open corpus of DBC files (the test data of an open-source CAN library, MIT licence), read in place: set
 * CROSSLOOM_CORPUS to its folder, or keep it beside the project as ../shared/corpus. Without it the test says so and is counted
 * as skipped.
 */
import { existsSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { ambiguousUnit, findUnit } from '../../src/units/index.ts';

const root = join(dirname(fileURLToPath(import.meta.url)), '..', '..');
const corpus = process.env['CROSSLOOM_CORPUS'] ?? join(root, '..', 'shared', 'corpus');
const expectations = join(corpus, 'dbc', 'expected.json');

/** Not units: kept as written and flagged. */
const UNKNOWN = ['ASCII'];
/** Two meanings in the corpus itself or elsewhere: a person chooses. */
const AMBIGUOUS = ['C', 'g'];

const EXPECTED: Readonly<Record<string, string>> = {
  degK: 'K',
  m: 'm',
  'm/s': 'm/s',
  s: 's',
  degrees: 'deg',
  '%': '%',
  'degrees/s': 'deg/s',
  mm: 'mm',
  // "°C" in Latin-1, read as UTF-8, written as UTF-8, read as Latin-1.
  'ï¿½C': 'Cel',
  kohm: 'kOhm',
  ohm: 'Ohm',
  deg: 'deg',
  'N*m': 'N.m',
  '°/s': 'deg/s',
  '-': '1',
  cm3: 'cm3',
  Bar: 'bar',
  bar: 'bar',
};

function unitTexts(node: unknown, texts: Set<string>): void {
  if (Array.isArray(node)) for (const part of node) unitTexts(part, texts);
  else if (typeof node === 'object' && node !== null) {
    for (const [key, value] of Object.entries(node)) {
      if (key === 'unit' && typeof value === 'string') texts.add(value);
      else unitTexts(value, texts);
    }
  }
}

describe.skipIf(!existsSync(expectations))('unit texts of the DBC corpus', () => {
  it('resolve, or are on a named list', () => {
    const texts = new Set<string>();
    unitTexts(JSON.parse(readFileSync(expectations, 'utf8')), texts);
    texts.delete('');
    expect(texts.size).toBeGreaterThan(15);
    const found = Object.fromEntries(
      [...texts]
        .filter((text) => !UNKNOWN.includes(text) && !AMBIGUOUS.includes(text))
        .map((text) => [text, findUnit(text)?.unit.code ?? null]),
    );
    expect(found).toEqual(EXPECTED);
    for (const text of UNKNOWN) expect([findUnit(text), ambiguousUnit(text)]).toEqual([null, null]);
    for (const text of AMBIGUOUS) expect([findUnit(text), ambiguousUnit(text)?.text]).toEqual([null, text]);
  });
});
