import { ALIASES, ASSUMED } from './aliases.ts';
import { AMBIGUOUS, type AmbiguousUnit } from './ambiguous.ts';
import { plainText, respelled } from './spelling.ts';
import { UNITS, type Unit, unitByCode } from './table/index.ts';

export interface FoundUnit {
  readonly unit: Unit;
  /** Whether the text is the code itself or a spelling of it. */
  readonly by: 'code' | 'alias';
  /** What the spelling left open and practice decides: "taken as US gallon; …". */
  readonly assumed?: string;
}

const AMBIGUOUS_BY_TEXT: ReadonlyMap<string, AmbiguousUnit> = new Map(AMBIGUOUS.map((entry) => [entry.text, entry]));

const BY_SPELLING: ReadonlyMap<string, Unit> = spellings();

function spellings(): ReadonlyMap<string, Unit> {
  const bySpelling = new Map<string, Unit>();
  for (const [code, texts] of Object.entries(ALIASES)) {
    const unit = unitByCode(code);
    if (unit === null) throw new Error(`aliases name the code ${code}, which is not in the table`);
    for (const text of texts) bySpelling.set(plainText(text), unit);
  }
  // What the workbench shows can be typed back; an alias has the first word.
  for (const unit of UNITS) {
    const symbol = plainText(unit.symbol);
    if (symbol === '' || AMBIGUOUS_BY_TEXT.has(symbol) || bySpelling.has(symbol)) continue;
    if (unitByCode(symbol) === null) bySpelling.set(symbol, unit);
  }
  return bySpelling;
}

const ASSUMED_BY_SPELLING: ReadonlyMap<string, string> = new Map(Object.entries(ASSUMED));

/** Lower-case spelling → the one unit it can mean, or null when units differ in case only (mW and MW). */
const BY_FOLDED: ReadonlyMap<string, Unit | null> = foldedSpellings();

function foldedSpellings(): ReadonlyMap<string, Unit | null> {
  const folded = new Map<string, Unit | null>();
  const enter = (spelling: string, unit: Unit): void => {
    const key = spelling.toLowerCase();
    const present = folded.get(key);
    folded.set(key, present === undefined || present === unit ? unit : null);
  };
  for (const unit of UNITS) enter(unit.code, unit);
  for (const [spelling, unit] of BY_SPELLING) enter(spelling, unit);
  return folded;
}

/** An SI prefix m or M before a unit that takes prefixes: here the case of the first letter is a factor of 10^9. */
const PREFIXED = /^[mM](?:Pa|V|A|W|J|N|g|s|S|L|l|F|H|T|Hz|Ohm|bar|bit|By|B|Wb|m|rad)(?![a-zA-Z])/i;

/** Answers kept, because a file repeats few texts over thousands of signals; emptied when hostile input fills it. */
const ANSWERS = new Map<string, FoundUnit | null>();
const MOST_ANSWERS = 4096;

/**
 * The unit a text stands for, or null when it is unknown, empty or ambiguous (see `ambiguousUnit`). Codes first, then spellings;
 * case counts, and is overlooked only where no other unit could be meant: "KPA" is kPa, but "MW" is never mW, and "MV", "MS",
 * "mpa" are nothing. Text mis-decoded on its way ("�C", "Â°C") is mended.
 */
export function findUnit(text: string): FoundUnit | null {
  const exact = unitByCode(text);
  if (exact !== null) return { unit: exact, by: 'code' };
  const known = ANSWERS.get(text);
  if (known !== undefined) return known;
  const answer = findSpelling(text);
  if (ANSWERS.size >= MOST_ANSWERS) ANSWERS.clear();
  ANSWERS.set(text, answer);
  return answer;
}

function findSpelling(text: string): FoundUnit | null {
  const plain = plainText(text);
  const bare = /^[[(](.+)[\])]$/.exec(plain)?.[1];
  return findPlain(plain) ?? (bare === undefined ? null : findPlain(bare));
}

function findPlain(plain: string): FoundUnit | null {
  if (AMBIGUOUS_BY_TEXT.has(plain)) return null;
  const direct = unitOfPlain(plain);
  if (direct !== null) return found(direct, assumption(plain));
  const parts = respelled(plain);
  const unit = parts === null ? null : unitOfPlain(parts);
  return unit === null
    ? null
    : found(
        unit,
        plain
          .split('/')
          .map(assumption)
          .find((said) => said !== undefined),
      );
}

function found(unit: Unit, assumed: string | undefined): FoundUnit {
  return assumed === undefined ? { unit, by: 'alias' } : { unit, by: 'alias', assumed };
}

function assumption(plain: string): string | undefined {
  return ASSUMED_BY_SPELLING.get(plain) ?? ASSUMED_BY_SPELLING.get(plain.toLowerCase());
}

function unitOfPlain(plain: string): Unit | null {
  const exact = unitByCode(plain) ?? BY_SPELLING.get(plain);
  if (exact !== undefined && exact !== null) return exact;
  // A single letter in the other case is another unit as often as not (s and S, h and H).
  if (plain.length < 2) return null;
  const folded = BY_FOLDED.get(plain.toLowerCase()) ?? null;
  // Case-blind only after a prefix letter: "mv" is mV and "MPA" is MPa, but "MV" is not mV.
  return folded !== null && PREFIXED.test(plain) && folded.code[0] !== plain[0] ? null : folded;
}

/** What a text could mean, when it could mean several things: "C" is degree Celsius or coulomb. Null for any other text. */
export function ambiguousUnit(text: string): AmbiguousUnit | null {
  return AMBIGUOUS_BY_TEXT.get(text) ?? AMBIGUOUS_BY_TEXT.get(plainText(text)) ?? null;
}
