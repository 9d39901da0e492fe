import {
  DRIVER_CLASSES,
  FUNCTIONS,
  RECEIVER_CLASSES,
  type InterfaceModule,
  type Pairing,
} from '../../../model/index.ts';
import { derivationOf } from '../../state/derived.ts';

/** Something that can be chosen by typing a part of it. */
export interface Choice {
  readonly value: string;
  readonly label: string;
  readonly note: string;
}

const functionChoices: readonly Choice[] = [...FUNCTIONS.values()].map(({ id, title, criticality }) => ({
  value: id,
  label: title,
  note: `${id} · ${criticality}`,
}));

/** The function catalogue. */
export function choicesOfFunctions(): readonly Choice[] {
  return functionChoices;
}

const endpoints = new WeakMap<Pairing, { readonly from: readonly Choice[]; readonly to: readonly Choice[] }>();

/** All signals and wires: as sources the offers come first, as targets the needs. Worked out once for a pairing. */
export function choicesOfEnds(pairing: Pairing, role: 'from' | 'to'): readonly Choice[] {
  const known = endpoints.get(pairing) ?? listEnds(pairing);
  endpoints.set(pairing, known);
  return known[role];
}

function listEnds(pairing: Pairing): { readonly from: readonly Choice[]; readonly to: readonly Choice[] } {
  const { needs, offers } = derivationOf(pairing);
  const all: Choice[] = [];
  for (const side of [pairing.host, pairing.donor]) {
    for (const message of side.platform.messages) {
      const add = (ref: string, label: string): void => {
        const role = needs.has(ref) ? 'need' : offers.has(ref) ? 'offer' : 'not free';
        all.push({ value: ref, label, note: `${side.name} · ${role}` });
      };
      if (message.signals.length === 0) add(`${side.name}:${message.id}`, message.id);
      for (const { id } of message.signals) add(`${side.name}:${message.id}.${id}`, `${message.id}.${id}`);
    }
    for (const { wire, ref } of side.wires.values()) {
      const role = needs.has(ref) ? 'need' : offers.has(ref) ? 'offer' : 'not free';
      all.push({ value: ref, label: wire.title, note: `${side.name} wire · ${role}` });
    }
  }
  const first = (set: ReadonlyMap<string, unknown>): readonly Choice[] => [
    ...all.filter(({ value }) => set.has(value)),
    ...all.filter(({ value }) => !set.has(value)),
  ];
  return { from: first(offers), to: first(needs) };
}

/** Choices that have all the typed words, at most `limit`. */
export function matching(choices: readonly Choice[], typed: string, limit = 40): readonly Choice[] {
  const words = typed.toLowerCase().split(/\s+/).filter(Boolean);
  const hits: Choice[] = [];
  for (const choice of choices) {
    const text = `${choice.value} ${choice.label} ${choice.note}`.toLowerCase();
    if (words.every((word) => text.includes(word))) hits.push(choice);
    if (hits.length >= limit) break;
  }
  return hits;
}

const drivers = new Set<string>(DRIVER_CLASSES);
const receivers = new Set<string>(RECEIVER_CLASSES);

/** Pins of an interface module that take a level in, or put one out. */
export function pinsOf(owner: InterfaceModule | undefined, way: 'in' | 'out'): readonly string[] {
  const fits = way === 'in' ? receivers : drivers;
  return (owner?.pins ?? []).filter(({ electrical }) => fits.has(electrical.class)).map(({ id }) => id);
}
