import { describe, expect, it } from 'vitest';
import {
  FUNCTIONS,
  functionLosses,
  levelOfState,
  lossOf,
  type FunctionLoss,
  type SafeLoss,
} from '../../src/model/index.ts';

/** What words of a safe state say about the value that is safe; English, checked against each entry's own text. */
const SAYS_OFF =
  /\b(off|no crank|no start|not cranking|not active|not pressed|released?|de-energised|disengaged|unlocked|inhibit(ed)?|refused|locked in park|key retained|lamp off|normal( mode)?|sleep|no shift|assume off|vent open|no fuel)\b/i;
const SAYS_ON =
  /\b(lamp on|treat as (open|pressed)|engine stopped|assume (load|connected|engaged)|cancel( cruise)?|pump off|treat as pressed)\b/i;

describe('safe loss behaviour', () => {
  it('is known for each of the 119 functions of the catalogue, and for nothing else', () => {
    expect(FUNCTIONS.size).toBe(119);
    expect(functionLosses()).toHaveLength(119);
    expect(lossOf('no-such-function')).toBeNull();
    expect(lossOf('__proto__')).toBeNull();
  });

  describe.each(functionLosses().map(({ function: entry, loss }) => ({ id: entry.id, entry, loss })))(
    '$id',
    ({ entry, loss }) => {
      it('rests on words that stand in its safe state', () => {
        expect(entry.safeState).toContain(loss.says);
      });

      it('does not call the same value safe and dangerous', () => {
        for (const safe of loss.safe) expect(isDangerous(loss, safe), JSON.stringify(safe)).toBe(false);
      });

      it('gives the level its words say', () => {
        const first = loss.safe[0]!;
        if (first.do !== 'substitute' || !('level' in first)) return;
        const word = first.level === 'inactive' ? SAYS_OFF : SAYS_ON;
        expect(loss.says, `${entry.safeState} → ${first.level}`).toMatch(word);
      });

      it('holds only where the safe state says hold, keep or as last valid', () => {
        const holds = loss.safe.some(({ do: kind }) => kind === 'hold');
        expect(holds, entry.safeState).toBe(/^hold\b|\bhold last|\bkeep last|\bas last valid/i.test(entry.safeState));
      });

      it('gives states the catalogue has, and values within the usual range', () => {
        for (const safe of loss.safe) {
          if (safe.do !== 'substitute') continue;
          if ('state' in safe) expect(entry.states).toContain(safe.state);
          if ('value' in safe && entry.typicalRange) {
            expect(safe.value).toBeGreaterThanOrEqual(entry.typicalRange[0]);
            expect(safe.value).toBeLessThanOrEqual(entry.typicalRange[1]);
          }
        }
        for (const bad of loss.dangerous) {
          if ('states' in bad) for (const state of bad.states) expect(entry.states).toContain(state);
        }
      });
    },
  );

  it('never holds for an interlock whose wrong value starts the engine or moves the vehicle', () => {
    for (const id of [
      'park-neutral-starter-interlock',
      'starter-relay-command',
      'crank-request',
      'brake-to-shift-interlock',
      'pto-enable',
    ]) {
      expect(lossOf(id)!.safe.map(({ do: kind }) => kind)).not.toContain('hold');
    }
  });
});

function isDangerous(loss: FunctionLoss, safe: SafeLoss): boolean {
  if (safe.do !== 'substitute') return false;
  return loss.dangerous.some((bad) => {
    if ('level' in safe) return 'level' in bad && bad.level === safe.level;
    if ('state' in safe) return 'states' in bad && bad.states.includes(safe.state);
    return ('above' in bad && safe.value > bad.above) || ('below' in bad && safe.value < bad.below);
  });
}

describe('level of a state', () => {
  it.each([
    ['park-neutral-starter-interlock', 'permitted', null, 'active'],
    ['park-neutral-starter-interlock', 'not permitted', null, 'inactive'],
    ['service-brake-switch-primary', 'Released', '1', 'inactive'],
    [undefined, 'Off', null, 'inactive'],
    [undefined, 'On', null, 'active'],
    [undefined, 'Anything', '1', 'active'],
    [undefined, 'Anything', '0', 'inactive'],
    [undefined, 'Anything', null, null],
  ] as const)('%s %s (raw %s) is %s', (functionId, label, raw, level) => {
    expect(levelOfState(functionId, label, raw)).toBe(level);
  });
});
