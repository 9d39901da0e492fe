import type { CarrierRule, Criticality, Pairing, SideName } from '../../model/index.ts';
import { findUnit } from '../../units/index.ts';

/** A class of functions as a reader meets it. */
export function criticalityWords(criticality: Criticality | null): string {
  return criticality ?? 'none known';
}

export function carrierRuleWords(rule: CarrierRule): string {
  switch (rule) {
    case 'hard-wired':
      return 'hard wire end to end';
    case 'hard-wired-or-backed-up':
      return 'hard wire, or backed up by one';
    case 'bus-protected':
      return 'bus, with counter, checksum, time-out';
    case 'free':
      return 'any';
  }
}

/** A document's unit as its UCUM code; as written when it names none that is known, a dash for the bare number. */
export function unitCode(text: string): string {
  if (text === '') return '–';
  const code = findUnit(text)?.unit.code;
  return code === undefined ? `${text} (unknown)` : code === '1' ? '1' : code;
}

/** The title of a module, or its id. */
export function moduleTitle(pairing: Pairing, side: SideName, id: string): string {
  return pairing.side(side).modules.get(id)?.title ?? id;
}

/** Frame id as drawings and traces write it: hexadecimal, three or eight digits by its format. */
export function frameIdText(frameId: string, idFormat: 'standard' | 'extended'): string {
  return `0x${frameId.slice(2).padStart(idFormat === 'standard' ? 3 : 8, '0')}`;
}

/** 12 findings, 1 finding, no findings. */
export function counted(count: number, one: string, many = `${one}s`): string {
  return count === 0 ? `no ${many}` : count === 1 ? `1 ${one}` : `${count} ${many}`;
}

export function joined(parts: readonly string[], empty = '–'): string {
  return parts.length === 0 ? empty : parts.join(', ');
}

/** First letter as a capital. */
export function capital(text: string): string {
  return text === '' ? text : text[0]!.toUpperCase() + text.slice(1);
}
