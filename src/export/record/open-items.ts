/** What stands in a cell that nobody has decided yet. Never a blank. */
export const TO_BE_DECIDED = 'to be decided';

export interface OpenItem {
  /** What is to be decided or found out. */
  readonly what: string;
  /** For which circuits, messages, routes. */
  readonly where: readonly string[];
}

/** Gathers, while a document is being written, what it cannot say. */
export interface OpenItems {
  /** Notes that something is open at a place, and gives the words for the cell. */
  decide(what: string, where: string): string;
  /** What was noted, in the order of first mention. */
  list(): readonly OpenItem[];
}

export function openItems(): OpenItems {
  const noted = new Map<string, Set<string>>();
  return {
    decide: (what, where) => {
      const places = noted.get(what);
      if (places) places.add(where);
      else noted.set(what, new Set([where]));
      return TO_BE_DECIDED;
    },
    list: () => [...noted].map(([what, where]) => ({ what, where: [...where] })),
  };
}

/** Most places named in full; beyond, the count says how many there are. */
const MOST_NAMED = 400;

/** Places in a line, runs of numbers drawn together: `101–104, 107, X1`. */
export function placesText(where: readonly string[]): string {
  const parts: string[] = [];
  for (let at = 0; at < where.length && parts.length < MOST_NAMED;) {
    let last = at;
    while (last + 1 < where.length && follows(where[last]!, where[last + 1]!)) last += 1;
    if (last - at >= 2) parts.push(`${where[at]}–${where[last]}`);
    else parts.push(...where.slice(at, last + 1));
    at = last + 1;
  }
  return parts.length >= MOST_NAMED ? `${parts.join(', ')} … (${where.length} in all)` : parts.join(', ');
}

function follows(a: string, b: string): boolean {
  return /^\d{1,9}$/.test(a) && /^\d{1,9}$/.test(b) && Number(b) === Number(a) + 1;
}
