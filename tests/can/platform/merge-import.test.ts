import { describe, expect, it } from 'vitest';
import { contentOfDbc, mergeImport, readDbc } from '../../../src/can/index.ts';
import type { Platform } from '../../../src/model/index.ts';

const base: Platform = {
  format: 'crossloom-platform',
  version: 1,
  id: 'p',
  title: 'P',
  buses: [{ id: 'b', kind: 'can', bitRate: 500000 }],
  modules: [],
  messages: [],
  wires: [],
  connectors: [],
  feeds: [],
  grounds: [],
};

const first = `VERSION ""
NS_ :
BS_:
BU_: Engine Cluster
BO_ 448 EngineStatus: 8 Engine
 SG_ Speed : 0|16@1+ (0.25,0) [0|8000] "furlong" Cluster
 SG_ Gear : 16|4@1+ (1,0) [0|0] "" Cluster
VAL_ 448 Gear 0 "Park" 15 "SNA" ;
`;
const record = { bus: 'b', file: 'x.dbc', sha256: '0'.repeat(64), on: '2026-01-31' };
const into = (platform: Platform, text: string, gone: 'keep' | 'remove' = 'keep') =>
  mergeImport(platform, contentOfDbc(readDbc(text).database, 'b'), { record, gone });

describe('importing a DBC file into a platform', () => {
  const imported = into(base, first).platform;
  const message = imported.messages[0]!;

  it('takes over what the file says', () => {
    expect(imported.modules.map(({ id }) => id)).toEqual(['Engine', 'Cluster']);
    expect(message).toMatchObject({ id: 'EngineStatus', frameId: '0x1C0', sender: 'Engine', length: 8 });
    expect(message.signals[0]).toMatchObject({
      id: 'Speed',
      factor: 0.25,
      range: [0, 8000],
      readers: ['Cluster'],
      unit: 'furlong',
    });
    expect(message.signals[1]).toMatchObject({ states: { '0': 'Park', '15': 'SNA' }, notAvailable: [15] });
  });

  it('says which unit it does not know', () => {
    expect(contentOfDbc(readDbc(first).database, 'b').notes.join()).toContain('"furlong" is not known');
  });

  /** What people add between two imports. */
  const worked: Platform = {
    ...imported,
    documents: [{ id: 'doc', title: 'Measured' }],
    messages: [
      {
        ...message,
        staleAfterMs: 50,
        documents: ['doc'],
        protection: { counter: 'Gear', algorithm: 'unknown' },
        signals: message.signals.map((signal) =>
          signal.id === 'Speed'
            ? {
                ...signal,
                unit: '{rev}/min',
                unitAsWritten: 'furlong',
                function: 'engine-speed',
                note: 'unit measured',
              }
            : signal,
        ),
      },
    ],
  };

  it('keeps what people added when the same file comes again', () => {
    const again = into(worked, first);
    expect(again.changes).toEqual([]);
    expect(again.platform.messages).toEqual(worked.messages);
  });

  it('lists what changed and keeps the rest', () => {
    const { platform, changes } = into(worked, first.replace('(0.25,0) [0|8000]', '(0.125,0) [0|8000]'));
    expect(changes).toEqual([{ kind: 'changed', subject: 'EngineStatus.Speed', what: ['factor: 0.25 → 0.125'] }]);
    expect(platform.messages[0]!.signals[0]).toMatchObject({
      factor: 0.125,
      unit: '{rev}/min',
      function: 'engine-speed',
      note: 'unit measured',
    });
    expect(platform.messages[0]).toMatchObject({ staleAfterMs: 50, documents: ['doc'] });
  });

  it('drops a corrected unit when the file says another', () => {
    const { platform } = into(worked, first.replace('"furlong"', '"rpm"'));
    expect(platform.messages[0]!.signals[0]).toMatchObject({ unit: '{rev}/min', unitAsWritten: 'rpm' });
  });

  it('recognises renames by frame id and by bits, and keeps references true', () => {
    const { platform, changes } = into(
      worked,
      first.replace('EngineStatus', 'EngStat').replace('SG_ Speed', 'SG_ Rpm'),
    );
    expect(platform.messages.map(({ id }) => id)).toEqual(['EngineStatus']);
    expect(platform.messages[0]!.signals.map(({ id }) => id)).toEqual(['Speed', 'Gear']);
    expect(changes.map(({ kind, subject }) => [kind, subject])).toEqual([
      ['renamed', 'EngineStatus'],
      ['renamed', 'EngineStatus.Speed'],
    ]);
  });

  it('keeps a message that the file lost, unless told to remove it', () => {
    const without = first.replace(/BO_ [^]*$/, 'BO_ 5 Other: 1 Engine\n');
    expect(into(worked, without).platform.messages.map(({ id }) => id)).toEqual(['EngineStatus', 'Other']);
    expect(into(worked, without, 'remove').platform.messages.map(({ id }) => id)).toEqual(['Other']);
    expect(into(worked, without).changes).toContainEqual({
      kind: 'gone',
      subject: 'EngineStatus',
      what: ['kept in the platform'],
    });
  });

  it('never takes a name that a message of another bus or a wire has', () => {
    const taken: Platform = {
      ...base,
      modules: [{ id: 'm', title: 'M' }],
      wires: [{ id: 'EngineStatus', title: 'W', module: 'm', direction: 'in', electrical: { class: 'lamp' } }],
    };
    const { platform, notes } = into(taken, first);
    expect(platform.messages[0]!.id).toBe('EngineStatus_2');
    expect(notes.join()).toContain('taken');
  });
});
