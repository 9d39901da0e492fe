import { Carrier, FUNCTIONS, parseRef, type Edit, type Pairing, type Route } from '../../../model/index.ts';

/** What a text typed into a cell becomes: edits, or why it cannot be. */
export type CellResult = { readonly edits: readonly Edit[] } | { readonly fault: string };

export interface RouteColumn {
  readonly id: string;
  readonly title: string;
  /** Width in rem. */
  readonly width: number;
  readonly align: 'left' | 'right';
  readonly mono: boolean;
  text(route: Route, pairing: Pairing): string;
  /** Sorts by this when it is not the text. */
  number?(route: Route): number;
  /** Values to choose from. */
  choices?(pairing: Pairing): readonly string[];
  /** Absent: the cell is shown here and edited in the route editor. */
  set?(route: Route, text: string, pairing: Pairing): CellResult;
}

type TextKey = 'title' | 'note';

function setKey(route: Route, key: keyof Route & string, value: unknown): readonly Edit[] {
  const path = ['routes', { id: route.id }, key];
  if (value === undefined) return key in route ? [{ do: 'remove', in: 'map', path }] : [];
  if (JSON.stringify(route[key]) === JSON.stringify(value)) return [];
  return [{ do: 'set', in: 'map', path, to: value as never }];
}

function textColumn(key: TextKey, title: string, width: number): RouteColumn {
  return {
    id: key,
    title,
    width,
    align: 'left',
    mono: false,
    text: (route) => route[key] ?? '',
    set: (route, text) => ({ edits: setKey(route, key, text.trim() === '' ? undefined : text) }),
  };
}

function positiveColumn(key: 'staleAfterMs' | 'recoverAfter', title: string, whole: string): RouteColumn {
  return {
    id: key,
    title,
    width: 6,
    align: 'right',
    mono: false,
    text: (route) => (route[key] === undefined ? '' : String(route[key])),
    number: (route) => route[key] ?? -1,
    set: (route, text) => {
      if (text.trim() === '') return { edits: setKey(route, key, undefined) };
      const value = Number(text.trim().replace(/\s*ms$/, ''));
      const fits =
        Number.isFinite(value) && value > 0 && (key === 'staleAfterMs' || (Number.isInteger(value) && value <= 1000));
      return fits ? { edits: setKey(route, key, value) } : { fault: whole };
    },
  };
}

function refsOf(text: string): string[] {
  return text.split(/[\s,;]+/).filter(Boolean);
}

function checkedRefs(refs: readonly string[], pairing: Pairing): string | null {
  for (const ref of refs) {
    if (parseRef(ref) === null) return `"${ref}" is no reference; write host:Message.Signal or host:wire (or donor:)`;
    if (!pairing.find(ref)) return `${ref} is not in the platform`;
  }
  return null;
}

/** A condition as `axis=a|b & axis=c`. */
export function conditionText(when: Route['when']): string {
  return Object.entries(when ?? {})
    .map(([axis, choices]) => `${axis}=${choices.join('|')}`)
    .join(' & ');
}

function conditionOf(text: string, pairing: Pairing): { when: Route['when'] } | { fault: string } {
  if (text.trim() === '') return { when: undefined };
  const when: Record<string, string[]> = {};
  for (const part of text.split('&')) {
    const [axis = '', list = ''] = part.split('=').map((word) => word.trim());
    const known = pairing.map.options?.find(({ id }) => id === axis);
    if (!known) return { fault: `there is no option "${axis}"` };
    const choices = list.split('|').map((choice) => choice.trim());
    const stray = choices.find((choice) => !known.choices.includes(choice));
    if (stray !== undefined) return { fault: `"${stray}" is no choice of ${axis}: ${known.choices.join(', ')}` };
    when[axis] = choices;
  }
  return { when };
}

/** The columns of the routes, in their order. */
export const ROUTE_COLUMNS: readonly RouteColumn[] = [
  { id: 'id', title: 'Route', width: 14, align: 'left', mono: true, text: ({ id }) => id },
  textColumn('title', 'Title', 12),
  {
    id: 'function',
    title: 'Function',
    width: 14,
    align: 'left',
    mono: false,
    text: (route) => route.function ?? '',
    choices: () => ['', ...FUNCTIONS.keys()],
    set: (route, text) => {
      const id = text.trim();
      if (id !== '' && !FUNCTIONS.has(id)) return { fault: `"${id}" is not in the function catalogue` };
      return { edits: setKey(route, 'function', id === '' ? undefined : id) };
    },
  },
  {
    id: 'from',
    title: 'From',
    width: 19,
    align: 'left',
    mono: true,
    text: ({ from }) => from.join(', '),
    set: (route, text, pairing) => {
      const refs = refsOf(text);
      const fault = refs.length === 0 ? 'a route has at least one source' : checkedRefs(refs, pairing);
      return fault === null ? { edits: setKey(route, 'from', refs) } : { fault };
    },
  },
  {
    id: 'to',
    title: 'To',
    width: 19,
    align: 'left',
    mono: true,
    text: ({ to }) => to,
    set: (route, text, pairing) => {
      const refs = refsOf(text);
      const fault = refs.length !== 1 ? 'a route has one target' : checkedRefs(refs, pairing);
      return fault === null ? { edits: setKey(route, 'to', refs[0]) } : { fault };
    },
  },
  {
    id: 'carrier',
    title: 'Carrier',
    width: 7,
    align: 'left',
    mono: false,
    text: ({ carrier }) => carrier,
    choices: () => Carrier.options,
    set: (route, text) => {
      const carrier = Carrier.safeParse(text.trim());
      return carrier.success
        ? { edits: setKey(route, 'carrier', carrier.data) }
        : { fault: `a carrier is ${Carrier.options.join(', ')}` };
    },
  },
  {
    id: 'by',
    title: 'By',
    width: 5,
    align: 'left',
    mono: true,
    text: ({ by }) => by ?? '',
    choices: (pairing) => ['', ...pairing.interfaceModules.keys()],
    set: (route, text, pairing) => {
      const id = text.trim();
      if (id !== '' && !pairing.interfaceModules.has(id)) return { fault: `there is no interface module "${id}"` };
      return { edits: setKey(route, 'by', id === '' ? undefined : id) };
    },
  },
  {
    id: 'steps',
    title: 'Steps',
    width: 10,
    align: 'left',
    mono: false,
    text: ({ steps }) => (steps ?? []).map((step) => step.do).join(' → '),
  },
  positiveColumn('staleAfterMs', 'Stale after, ms', 'write milliseconds above 0'),
  positiveColumn('recoverAfter', 'Good samples', 'write a whole number from 1 to 1000'),
  {
    id: 'onLoss',
    title: 'On loss',
    width: 13,
    align: 'left',
    mono: false,
    text: (route) => (route.onLoss ? lossText(route) : ''),
  },
  {
    id: 'when',
    title: 'Only in',
    width: 9,
    align: 'left',
    mono: false,
    text: ({ when }) => conditionText(when),
    set: (route, text, pairing) => {
      const read = conditionOf(text, pairing);
      return 'fault' in read ? read : { edits: setKey(route, 'when', read.when) };
    },
  },
  textColumn('note', 'Note', 18),
];

function lossText({ onLoss }: Route): string {
  switch (onLoss?.do) {
    case 'hold':
      return `hold${onLoss.forMs === undefined ? '' : ` for ${onLoss.forMs} ms`}${onLoss.then ? `, then ${onLoss.then}` : ''}`;
    case 'substitute':
      return onLoss.notAvailable ? 'not available' : `substitute ${onLoss.state ?? onLoss.value ?? ''}`;
    case 'stop-sending':
      return 'stop sending';
    case 'open-output':
      return 'open the output';
    default:
      return '';
  }
}

export function columnOf(id: string): RouteColumn {
  return ROUTE_COLUMNS.find((column) => column.id === id) ?? ROUTE_COLUMNS[0]!;
}
