import type { PlannedConductor, Trial } from '../../../wiring/index.ts';
import { AMBIENT_C } from './circuit-edits.ts';

/** What stands in the fields; null where nothing was typed. */
export interface TrialEntries {
  readonly size: string | null;
  readonly length: string | null;
  readonly current: string | null;
  readonly ambient: string | null;
  readonly fuse: string | null;
}

export const EMPTY_ENTRIES: TrialEntries = { size: null, length: null, current: null, ambient: null, fuse: null };

type FieldName = 'length' | 'current' | 'ambient';

const LONGEST_M = 100;
const MOST_A = 1000;

/** The entries as a trial; what cannot be read is a fault in words and stays as planned. */
export function readTrial(
  entries: TrialEntries,
  planned: PlannedConductor,
): { readonly trial: Trial; readonly faults: ReadonlyMap<FieldName, string> } {
  const faults = new Map<FieldName, string>();
  const number = (field: FieldName, least: number, most: number, unit: string): number | undefined => {
    const text = entries[field];
    if (text === null) return undefined;
    const value = Number(text.trim().replace('−', '-').replace(',', '.'));
    if (text.trim() === '' || !Number.isFinite(value) || value < least || value > most) {
      faults.set(field, `write a number of ${unit} from ${least} to ${most}`);
      return undefined;
    }
    return value;
  };
  const lengthM = number('length', 0.01, LONGEST_M, 'metres');
  const currentA = number('current', 0, MOST_A, 'amperes');
  const ambientC = number('ambient', AMBIENT_C.least, AMBIENT_C.most, 'degrees Celsius');
  const fuseA = entries.fuse === null ? undefined : Number(entries.fuse);
  return {
    trial: {
      ...(entries.size === null || entries.size === planned.size.text ? {} : { size: entries.size }),
      ...(lengthM === undefined || lengthM === planned.lengthM ? {} : { lengthM }),
      ...(currentA === undefined || currentA === planned.currentA ? {} : { currentA }),
      ...(ambientC === undefined || ambientC === planned.ambientC ? {} : { ambientC }),
      ...(fuseA === undefined ? {} : { fuseA }),
    },
    faults,
  };
}
