/** State names that mean the same on different vehicles (common practice). */
const SAME: readonly (readonly string[])[] = [
  [
    'on',
    'active',
    'true',
    'yes',
    'pressed',
    'closed',
    'applied',
    'enabled',
    'requested',
    'request',
    'set',
    'engaged',
    '1',
    'high',
    'lit',
    'run',
  ],
  [
    'off',
    'inactive',
    'false',
    'no',
    'released',
    'not pressed',
    'open',
    'not applied',
    'disabled',
    'not requested',
    'no request',
    'not set',
    'disengaged',
    '0',
    'low',
    'dark',
    'not active',
  ],
  ['p', 'park'],
  ['r', 'reverse'],
  ['n', 'neutral'],
  ['d', 'drive', 'forward'],
  ['m', 'manual', 'tap'],
  ['l', 'low range', '4l', '4wd low', 'low'],
  ['2h', '2wd', 'two wheel', 'rear'],
  ['4h', '4wd', '4wd high', 'high range', 'four wheel'],
  ['first', 'gear 1', '1st', 'm1'],
  ['second', 'gear 2', '2nd', 'm2'],
  ['third', 'gear 3', '3rd', 'm3'],
  ['fourth', 'gear 4', '4th', 'm4'],
  ['fifth', 'gear 5', '5th', 'm5'],
  ['sixth', 'gear 6', '6th', 'm6'],
  ['stopped', 'not running', 'engine off'],
  ['running', 'engine on'],
  ['cranking', 'crank', 'start'],
];

function plain(label: string): string {
  return label
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, ' ')
    .trim();
}

const FAMILY = new Map(SAME.flatMap((labels, at) => labels.map((label) => [label, at] as const)));

export interface StateMapping {
  readonly map: Readonly<Record<string, string>>;
  readonly unmatched: readonly string[];
}

/** Pairs state names that are equal or mean the same; what has no counterpart is left to a person. */
export function mapStates(from: readonly string[], to: readonly string[]): StateMapping {
  const targets = new Map(to.map((label) => [plain(label), label]));
  const families = new Map<number, string[]>();
  for (const label of to) {
    const family = FAMILY.get(plain(label));
    if (family !== undefined) families.set(family, [...(families.get(family) ?? []), label]);
  }
  const map: Record<string, string> = {};
  const unmatched: string[] = [];
  for (const label of new Set(from)) {
    const family = FAMILY.get(plain(label));
    const related = family === undefined ? [] : (families.get(family) ?? []);
    const target = targets.get(plain(label)) ?? (related.length === 1 ? related[0] : undefined);
    if (target === undefined) unmatched.push(label);
    else map[label] = target;
  }
  return { map, unmatched };
}
