import type { CircuitEnd } from '../../model/index.ts';
import type { ConductorSize } from '../conductor/size.ts';
import type { PlanContext } from './context.ts';
import { acceptsAt } from './connector-lookup.ts';

/** What is put on the end of a conductor. */
export interface Fitting {
  readonly joint: 'terminal' | 'tap' | 'ring' | 'splice' | 'unknown';
  /** Part of the terminal or ring; null when the documents name none. */
  readonly terminal: string | null;
  readonly seal: string | null;
  readonly view: 'wire-side' | 'mating-side' | null;
  /** Whether the terminal accepts the conductor; null when not stated. */
  readonly accepted: boolean | null;
}

const NONE: Fitting = { joint: 'unknown', terminal: null, seal: null, view: null, accepted: null };

/**
 * The terminal and seal for an end. In a platform's connector the added harness holds the mating half: the terminal is of the
 * same family, of the other gender.
 */
export function fittingAt(context: PlanContext, end: CircuitEnd, size: ConductorSize): Fitting {
  switch (end.kind) {
    case 'splice':
      return { ...NONE, joint: 'splice' };
    case 'unknown':
      return NONE;
    case 'stud':
      return { ...NONE, joint: 'ring', terminal: ringFor(context, end.ground, size) };
    case 'cavity':
    case 'part': {
      if (end.kind === 'cavity' && end.joint === 'tap') return { ...NONE, joint: 'tap' };
      const connector = end.connector === null ? null : context.find(end.connector);
      if (!connector) return { ...NONE, joint: 'terminal' };
      const mating = end.connector!.includes(':');
      const range = end.cavity === null ? null : acceptsAt(connector, end.cavity);
      return {
        joint: 'terminal',
        terminal:
          connector.terminal === undefined ? null : mating ? `${connector.terminal} (mating)` : connector.terminal,
        seal: connector.sealed === true ? (connector.seal ?? null) : null,
        view: connector.view ?? null,
        accepted: range ? size.areaMm2 >= range.minMm2 - 1e-9 && size.areaMm2 <= range.maxMm2 + 1e-9 : null,
      };
    }
  }
}

/** A ring terminal by stud and conductor: `ring M8, 0.5mm2`. */
function ringFor({ pairing }: PlanContext, groundRef: string, size: ConductorSize): string {
  const side = groundRef.startsWith('host:') ? 'host' : 'donor';
  const ground = pairing.side(side).grounds.get(groundRef.slice(groundRef.indexOf(':') + 1));
  return `ring ${ground?.studMm === undefined ? '(stud size not given)' : `M${ground.studMm}`}, ${size.text}`;
}
