/** One line of the test sheet: what to touch, in which state, what to read, within which limit. */
export interface TestRow {
  /** `C-1`, `I-4` …: kind and number. */
  readonly test: string;
  readonly kind: 'continuity' | 'isolation' | 'feed-voltage' | 'drop' | 'bus' | 'interlock' | 'open-wire';
  readonly points: readonly string[];
  readonly condition: string;
  /** Expected reading as a number, in `unit`; null where it is a state in words. */
  readonly expectedValue: number | null;
  readonly expected: string;
  readonly unit: 'Ω' | 'V' | null;
  readonly lowest: number | null;
  readonly highest: number | null;
  readonly instrument: string;
  readonly source: string;
  readonly circuits: readonly string[];
  readonly options: readonly string[];
}

/** A row without its number. */
export type TestDraft = Omit<TestRow, 'test'>;

const letters: Readonly<Record<TestRow['kind'], string>> = {
  continuity: 'C',
  isolation: 'I',
  'feed-voltage': 'F',
  drop: 'D',
  bus: 'B',
  interlock: 'L',
  'open-wire': 'O',
};

/** Numbers the rows within their kinds. */
export function numbered(drafts: readonly TestDraft[]): readonly TestRow[] {
  const counts = new Map<string, number>();
  return drafts.map((draft) => {
    const letter = letters[draft.kind];
    const count = (counts.get(letter) ?? 0) + 1;
    counts.set(letter, count);
    return { test: `${letter}-${count}`, ...draft };
  });
}
