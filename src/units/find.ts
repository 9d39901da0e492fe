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

const BY_SPELLING: ReadonlyMap<string, Unit> = new Map(
  Object.entries(ALIASES).flatMap(([code, spellings]) => {
    const unit = unitByCode(code);
    if (unit === null) throw new Error(`aliases name the code ${code}, which is not in the table`);
    return spellings.map((spelling) => [plainText(spelling), unit] as const);
  }),
);

const AMBIGUOUS_BY_TEXT: ReadonlyMap<string, AmbiguousUnit> = new Map(AMBIGUOUS.map((entry) => [entry.text, entry]));

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

/**
 * The unit a text stands for, or null when it is unknown, empty or ambiguous (see `ambiguousUnit`). Codes first, then spellings;
 * case counts, and is overlooked only where no other unit could be meant: "KPA" is kPa, but "MW" is never mW, and "MV", "MS",
 * "mpa" are nothing. Text mis-decoded on its way ("�C", "Â°C") is mended.
 */
export function findUnit(text: string): FoundUnit | null {
  const exact = unitByCode(text);
  if (exact !== null) return { unit: exact, by: 'code' };
  const plain = plainText(text);
  const bare = /^[[(](.+)[\])]$/.exec(plain)?.[1];
  return findPlain(plain) ?? (bare === undefined ? null : findPlain(bare));
}

function findPlain(plain: string): FoundUnit | null {
  if (AMBIGUOUS_BY_TEXT.has(plain)) return null;
  const unit = unitOfPlain(plain) ?? unitOfPlain(respelled(plain) ?? '');
  if (unit === null) return null;
  const assumed = ASSUMED[plain] ?? ASSUMED[plain.toLowerCase()];
  return assumed === undefined ? { unit, by: 'alias' } : { unit, by: 'alias', assumed };
}

function unitOfPlain(plain: string): Unit | null {
  const exact = unitByCode(plain) ?? BY_SPELLING.get(plain);
  if (exact !== undefined && exact !== null) return exact;
  // A single letter in the other case is another unit as often as not (s and S, h and H).
  if (plain.length < 2 || PREFIXED.test(plain)) return foldedWithPrefix(plain);
  return BY_FOLDED.get(plain.toLowerCase()) ?? null;
}

/** Case-blind only after the prefix letter: "mv" is mV and "MPA" is MPa, but "MV" is not mV. */
function foldedWithPrefix(plain: string): Unit | null {
  if (plain.length < 2) return null;
  const unit = BY_FOLDED.get(plain.toLowerCase()) ?? null;
  return unit !== null && unit.code[0] === plain[0] ? unit : null;
}

/** What a text could mean, when it could mean several things: "C" is degree Celsius or coulomb. Null for any other text. */
export function ambiguousUnit(text: string): AmbiguousUnit | null {
  return AMBIGUOUS_BY_TEXT.get(text) ?? AMBIGUOUS_BY_TEXT.get(plainText(text)) ?? null;
}
