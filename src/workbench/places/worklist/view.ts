import type { NeedProposals } from '../../../edit/index.ts';
import { findFunction, type Message, type Pairing, type Supply } from '../../../model/index.ts';
import { likelyProtection } from '../../parts/frame-fields.ts';
import { titleOfEndpoint } from '../../parts/subject.ts';

/** Which needs are shown, and which of them is current. */
export interface WorklistView {
  readonly shows: 'open' | 'left-out' | 'met';
  /** Group of functions; '' for all, 'none' for needs without a function. */
  readonly group: string;
  readonly side: '' | 'host' | 'donor';
  /** `side:module` that reads it; '' for all. */
  readonly reader: string;
  readonly text: string;
  /** Least score of what is accepted at once. */
  readonly least: number;
  readonly current: string | null;
  /** Which proposal of the current need is chosen. */
  readonly proposal: number;
  readonly marked: ReadonlySet<string>;
}

export const FIRST_VIEW: WorklistView = {
  shows: 'open',
  group: '',
  side: '',
  reader: '',
  text: '',
  least: 70,
  current: null,
  proposal: 0,
  marked: new Set(),
};

export const NO_GROUP = 'none';

/** A need as the list shows it. */
export interface ListedNeed {
  readonly need: Supply;
  readonly title: string;
  readonly group: string;
  /** Null while the proposals are being worked out. */
  readonly proposals: NeedProposals | null;
  /** It looks like a counter or checksum: whoever sends the frame makes it afresh. */
  readonly isFrameField: boolean;
}

export function groupOfNeed(need: Supply): string {
  return findFunction(need.function ?? undefined)?.group ?? NO_GROUP;
}

/** `starting-security` as people say it. */
export function groupTitle(group: string): string {
  if (group === NO_GROUP) return 'No function given';
  const words = group.replaceAll('-', ' and ');
  return words.charAt(0).toUpperCase() + words.slice(1);
}

export function listNeeds(
  pairing: Pairing,
  needs: readonly Supply[],
  proposals: readonly NeedProposals[] | null,
): readonly ListedNeed[] {
  const byRef = new Map(proposals?.map((each) => [each.need.ref, each]));
  return needs.map((need) => {
    const endpoint = pairing.find(need.ref);
    return {
      need,
      title: endpoint ? titleOfEndpoint(endpoint) : need.ref,
      group: groupOfNeed(need),
      proposals: byRef.get(need.ref) ?? null,
      isFrameField: endpoint?.kind === 'signal' && looksLikeFrameField(endpoint.message, endpoint.signal.id),
    };
  });
}

/** Needs that pass the filters. */
export function filterNeeds(
  listed: readonly ListedNeed[],
  { group, side, reader, text }: WorklistView,
): readonly ListedNeed[] {
  const words = text.toLowerCase().split(/\s+/).filter(Boolean);
  return listed.filter(({ need, title, group: own }) => {
    const searched = `${need.ref} ${title} ${need.function ?? ''}`.toLowerCase();
    return (
      (group === '' || own === group) &&
      (side === '' || need.side === side) &&
      (reader === '' || need.modules.some((id) => `${need.side}:${id}` === reader)) &&
      words.every((word) => searched.includes(word))
    );
  });
}

/** Needs of one function group. */
export interface NeedBlock {
  readonly group: string;
  readonly entries: readonly ListedNeed[];
}

/** Grouped by function group in alphabetical order, those without a function last; the best proposals come first. */
export function blocksOf(listed: readonly ListedNeed[]): readonly NeedBlock[] {
  const groups = new Map<string, ListedNeed[]>();
  for (const entry of listed) {
    const known = groups.get(entry.group);
    if (known) known.push(entry);
    else groups.set(entry.group, [entry]);
  }
  return [...groups]
    .sort(([a], [b]) => Number(a === NO_GROUP) - Number(b === NO_GROUP) || (a < b ? -1 : 1))
    .map(([group, entries]) => ({ group, entries }));
}

function looksLikeFrameField(message: Message, signalId: string): boolean {
  const protection = likelyProtection(message);
  return protection?.counter === signalId || protection?.checksum === signalId;
}

/** Whether a need's best proposal can be routed and scores at least so much; never for a counter or checksum. */
export function isAcceptable({ proposals, isFrameField }: ListedNeed, least: number): boolean {
  if (isFrameField) return false;
  const best = proposals?.proposals[0];
  return best !== undefined && best.draft.route !== null && best.score >= least;
}
