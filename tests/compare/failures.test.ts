import { describe, expect, it } from 'vitest';
import { hardFailures, type Conductor } from '../../src/compare/walk/hard-failures.ts';
import type { WayElement } from '../../src/compare/walk/way.ts';
import type { Electrical, Wire, WireEntry } from '../../src/model/index.ts';
import { loadPairing } from './sample-pairings.ts';

const pairing = loadPairing('ft6-orrin32.map.json');
const route = pairing.map.routes[0]!;

function entry(electrical: Electrical, more: Partial<Wire> = {}): WireEntry {
  const wire: Wire = { id: 'w', title: 'W', module: 'reader', direction: 'in', electrical, ...more };
  return { kind: 'wire', side: 'host', ref: 'host:w', wire };
}
function element(kind: WayElement['kind'], role: WayElement['role'] = 'carries', ref = 'host:w'): WayElement {
  return { kind, ref, role, programmable: false, why: '', sources: ['host:w'], place: '', part: 'in' };
}
function conductor(source: WireEntry, reader: WireEntry, over: Partial<Conductor> = {}): Conductor {
  return { pairing, route, functionId: null, source, reader, ...over };
}
const outcome = (of: ReturnType<typeof hardFailures>, how: string) => of.find((one) => one.how === how);

/**
 * Levels of an open and of a shorted conductor by the electrical classes of its ends: an input rests at its pull, a coil with one end
 * on battery rests high and is energised by ground. Common practice in vehicle I/O design.
 */
describe('a conductor whose element fails', () => {
  const toGround = entry({ class: 'switched-ground', activeLevel: 'low', contact: 'normally-open' }, { ground: 'G1' });
  const meaning = { active: 'Closed', inactive: 'Open' };

  it.each([
    ['input-pull-down', 'low', 'reads low'],
    ['input-pull-up-12v', 'high', 'reads high'],
    ['input-pull-up-5v', 'high', 'reads high'],
    ['coil-to-battery', 'high', 'is not energised'],
    ['coil-to-ground', 'low', 'is not energised'],
  ] as const)('%s rests %s when it opens', (kind, level, words) => {
    const opens = outcome(hardFailures(element('wire'), conductor(toGround, entry({ class: kind }))), 'opens');
    expect(opens).toMatchObject({ reads: level, standing: 'undecided' });
    expect(opens!.effect).toContain(words);
  });

  it('decides nothing about an input whose pull nobody states', () => {
    const found = outcome(
      hardFailures(element('wire'), conductor(toGround, entry({ class: 'input-analogue' }))),
      'opens',
    );
    expect(found).toMatchObject({ reads: '', standing: 'undecided' });
    expect(found!.effect).toContain('do not tell');
  });

  it('names the fuse that blows, or the driver that is overloaded', () => {
    const reader = entry({ class: 'input-pull-down' });
    const of = (more: Partial<Wire>) =>
      outcome(
        hardFailures(element('wire'), conductor(entry({ class: 'switched-battery' }, more), reader)),
        'shorted to ground',
      )!.effect;
    expect(of({ feed: 'F9' })).toContain('the fuse of host:F9 blows');
    expect(of({})).toContain('the driver is overloaded');
    expect(
      outcome(hardFailures(element('wire'), conductor(toGround, reader)), 'shorted to ground')!.effect,
    ).not.toContain('fuse');
  });

  it('tells a lost supply cavity of a sensor from a parted conductor', () => {
    const reader = entry({ class: 'input-pull-up-5v' }, { meaning });
    const supply = hardFailures(element('connector', 'supplies', 'host:X1'), conductor(toGround, reader));
    expect(supply[0]).toMatchObject({ how: 'opens', reads: '' });
    expect(hardFailures(element('connector'), conductor(toGround, reader))[0]).toMatchObject({ reads: 'Open' });
  });

  it('a contact that opens to act turns its words round, so that they decide nothing', () => {
    const functionId = 'park-neutral-starter-interlock';
    const judged = (contact: 'normally-open' | 'normally-closed') => {
      const source = entry({ class: 'switched-ground', activeLevel: 'low', contact }, { ground: 'G1' });
      const reader = entry(
        { class: 'coil-to-battery', activeLevel: 'low' },
        { meaning: { active: 'One thing', inactive: 'Another' } },
      );
      return outcome(hardFailures(element('wire'), conductor(source, reader, { functionId })), 'opens')!.standing;
    };
    expect(judged('normally-open')).toBe('safe');
    expect(judged('normally-closed')).toBe('undecided');
  });

  it('behind a relay whose coil nothing else holds, the reader is not judged', () => {
    const behind = [{ ref: 'k9', heldByOther: false }];
    const found = hardFailures(element('wire'), conductor(toGround, entry({ class: 'input-pull-down' }), { behind }));
    for (const { reads, effect } of found) {
      expect(reads).toBe('');
      expect(effect).toContain('k9');
    }
  });
});
