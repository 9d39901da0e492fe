import { findFunction, type Endpoint, type Pairing, type Supply } from '../../model/index.ts';
import { compare, formatDecimal, mapAffine, type Interval } from '../../number/index.ts';
import { domainOfEndpoint, type NumberDomain, type ValueDomain } from '../../translate/index.ts';
import { conversionBetween } from '../../units/index.ts';
import { nameLikeness, wordsOf } from './names.ts';
import { mapStates } from './state-map.ts';

/** Why an offer fits a need, or what speaks against it, with its weight. */
export interface Reason {
  readonly text: string;
  readonly points: number;
}

export interface RankedOffer {
  readonly offer: Supply;
  readonly score: number;
  readonly reasons: readonly Reason[];
}

/** Offers below this are not shown: nothing but chance speaks for them. */
const LEAST_SCORE = 36;
const MOST_SHOWN = 5;

interface Candidate {
  readonly supply: Supply;
  readonly endpoint: Endpoint;
  readonly domain: ValueDomain;
  readonly words: ReadonlySet<string>;
}

/** Offers made ready to be held against many needs. */
export interface OfferBook {
  readonly byFunction: ReadonlyMap<string, readonly Candidate[]>;
  readonly byWord: ReadonlyMap<string, readonly Candidate[]>;
}

function candidateOf(pairing: Pairing, supply: Supply): Candidate | null {
  const endpoint = pairing.find(supply.ref);
  if (!endpoint) return null;
  return { supply, endpoint, domain: domainOfEndpoint(endpoint), words: wordsOf(nameOf(endpoint)) };
}

function nameOf(endpoint: Endpoint): string {
  switch (endpoint.kind) {
    case 'signal':
      return `${endpoint.signal.id} ${endpoint.signal.title ?? ''}`;
    case 'wire':
      return `${endpoint.wire.id} ${endpoint.wire.title}`;
    case 'message':
      return `${endpoint.message.id} ${endpoint.message.title ?? ''}`;
  }
}

function enter(map: Map<string, Candidate[]>, key: string, candidate: Candidate): void {
  const list = map.get(key);
  if (list) list.push(candidate);
  else map.set(key, [candidate]);
}

/** Indexes the offers by function and by the words of their names. */
export function offerBook(pairing: Pairing, offers: Iterable<Supply>): OfferBook {
  const byFunction = new Map<string, Candidate[]>();
  const byWord = new Map<string, Candidate[]>();
  for (const supply of offers) {
    const candidate = candidateOf(pairing, supply);
    if (!candidate) continue;
    if (supply.function !== null) enter(byFunction, supply.function, candidate);
    for (const word of candidate.words) enter(byWord, word, candidate);
  }
  return { byFunction, byWord };
}

/** Offers that could meet a need, best first, each with what speaks for and against it. */
export function rankOffers(pairing: Pairing, book: OfferBook, need: Supply): readonly RankedOffer[] {
  const wanted = candidateOf(pairing, need);
  if (!wanted) return [];
  const candidates = new Set<Candidate>(need.function === null ? [] : (book.byFunction.get(need.function) ?? []));
  for (const word of wanted.words)
    for (const candidate of (book.byWord.get(word) ?? []).slice(0, 200)) candidates.add(candidate);
  return [...candidates]
    .filter(
      ({ supply }) =>
        (supply.side !== need.side || (supply.function !== null && supply.function === need.function)) &&
        supply.ref !== need.ref &&
        (supply.mask & need.mask) !== 0n,
    )
    .flatMap((candidate) => {
      const reasons = reasonsFor(wanted, candidate);
      if (reasons === null) return [];
      const score = reasons.reduce((sum, { points }) => sum + points, 0);
      return score >= LEAST_SCORE ? [{ offer: candidate.supply, score, reasons }] : [];
    })
    .sort((a, b) => b.score - a.score || (a.offer.ref < b.offer.ref ? -1 : 1))
    .slice(0, MOST_SHOWN);
}

/** Null: it cannot be (another dimension, another kind of value). */
function reasonsFor(need: Candidate, offer: Candidate): readonly Reason[] | null {
  const reasons: Reason[] = [];
  const sameFunction = need.supply.function !== null && need.supply.function === offer.supply.function;
  if (sameFunction) {
    const title = findFunction(need.supply.function!)?.title ?? need.supply.function!;
    reasons.push({ text: `same function: ${title}`, points: 50 });
  } else if (need.supply.function !== null && offer.supply.function !== null) {
    reasons.push({ text: `another function: ${offer.supply.function}`, points: -20 });
  }
  if (need.supply.side === offer.supply.side) reasons.push({ text: 'from the same side', points: -20 });
  const value = valueReasons(need.domain, offer.domain, sameFunction);
  if (value === null) return null;
  reasons.push(...value);
  const likeness = nameLikeness(need.words, offer.words);
  if (likeness > 0)
    reasons.push({
      text: `names share ${Math.round(likeness * 100)} % of their words`,
      points: Math.round(likeness * 20),
    });
  if (need.endpoint.kind === offer.endpoint.kind)
    reasons.push({ text: `both are ${need.endpoint.kind === 'wire' ? 'discrete wires' : 'on a network'}`, points: 4 });
  reasons.push(...rateReasons(need, offer));
  return reasons;
}

function valueReasons(need: ValueDomain, offer: ValueDomain, sameFunction: boolean): readonly Reason[] | null {
  if (need.kind === 'number' && offer.kind === 'number') return numberReasons(need, offer, sameFunction);
  if (need.kind === 'state' && offer.kind === 'state') {
    const { map, unmatched } = mapStates(
      offer.states.map(({ label }) => label),
      need.states.map(({ label }) => label),
    );
    const total = Object.keys(map).length + unmatched.length;
    const share = total === 0 ? 0 : Object.keys(map).length / total;
    return [
      { text: `${Object.keys(map).length} of ${total} states have a counterpart`, points: Math.round(share * 20) },
    ];
  }
  if (need.kind === offer.kind)
    return [{ text: need.kind === 'frame' ? 'both are whole frames' : 'both are text', points: 15 }];
  if (need.kind === 'frame' || offer.kind === 'frame' || need.kind === 'text' || offer.kind === 'text') return null;
  return sameFunction
    ? [{ text: `one is a ${offer.kind}, the other a ${need.kind}: a step must turn one into the other`, points: -25 }]
    : null;
}

function numberReasons(need: NumberDomain, offer: NumberDomain, sameFunction: boolean): readonly Reason[] | null {
  if (!need.unit || !offer.unit) {
    return [
      { text: 'a unit is unknown, so nothing can be converted', points: need.unitText === offer.unitText ? 8 : -5 },
    ];
  }
  if (need.unit.code === offer.unit.code)
    return [
      { text: `same unit: ${need.unit.symbol || '1'}`, points: 24 },
      ...rangeReasons(need.interval, offer.interval, need.unit.symbol),
    ];
  const conversion = conversionBetween(offer.unit, need.unit);
  if (conversion.kind === 'none')
    return sameFunction
      ? [{ text: `${offer.unit.symbol} cannot become ${need.unit.symbol}: ${conversion.message}`, points: -15 }]
      : null;
  const converted =
    conversion.kind === 'affine' && offer.interval ? mapAffine(offer.interval, conversion.affine) : null;
  return [
    { text: `${offer.unit.symbol} converts to ${need.unit.symbol}`, points: 20 },
    ...rangeReasons(need.interval, converted, need.unit.symbol),
  ];
}

function rangeReasons(need: Interval | null, offer: Interval | null, unit: string): readonly Reason[] {
  if (!need || !offer) return [];
  const fits = compare(offer.lo, need.lo) >= 0 && compare(offer.hi, need.hi) <= 0;
  if (fits) return [{ text: 'its range fits', points: 6 }];
  const say = ({ lo, hi }: Interval): string =>
    `${formatDecimal(lo, { maxSignificant: 6 })} … ${formatDecimal(hi, { maxSignificant: 6 })} ${unit}`;
  return [{ text: `its range ${say(offer)} is cut to ${say(need)}`, points: -4 }];
}

function rateReasons(need: Candidate, offer: Candidate): readonly Reason[] {
  const [wanted, given] = [periodOf(need), periodOf(offer)];
  if (wanted === null || given === null) return [];
  if (given <= wanted * 1.5) return [{ text: `comes every ${given} ms, wanted every ${wanted} ms`, points: 5 }];
  return [{ text: `comes only every ${given} ms, wanted every ${wanted} ms`, points: -5 }];
}

function periodOf({ endpoint }: Candidate): number | null {
  if (endpoint.kind === 'wire') return endpoint.wire.periodMs ?? null;
  return endpoint.message.cycleMs ?? null;
}
