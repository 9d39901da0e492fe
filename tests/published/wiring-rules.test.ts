import { describe, expect, it } from 'vitest';
import { check, type Finding } from '../../src/checks/index.ts';
import { harnessCase, loadCase, supplyCase } from '../../src/checks/examples/harness-case.ts';
import { pair, type PairingDocuments } from '../../src/model/index.ts';

/**
 * Worked examples of the rules about wires and supplies: published rows, or arithmetic that stands beside the figure. None is an
 * output of ours.
 */
function found({ map, host, donor }: PairingDocuments, rule: string): Finding[] {
  return check(pair(map, host, donor)).findings.filter((one) => one.rule === rule);
}
function one(documents: PairingDocuments, rule: string): Finding {
  const list = found(documents, rule);
  expect(list, rule).toHaveLength(1);
  return list[0]!;
}
const valueOf = ({ values }: Finding, name: string) => values.find((value) => value.name === name)?.value;

describe('conductors', () => {
  // 33 CFR 183.455(c) with 183.425 Table 5: 18 AWG of 105 °C insulation bears 20 A, in an engine space 20 × 0.85 = 17 A.
  const gauge18 = (fuseA: number) =>
    loadCase({
      loadA: 2,
      fuseA,
      segment: { maxC: 50 },
      circuit: { conductor: { size: '18AWG', colour: 'RD', insulation: 'class B', maxC: 105 } },
    });
  it('30 A before 18 AWG at 50 °C, which bears 17 A (33 CFR 183.425 Table 5)', () => {
    const finding = one(gauge18(30), 'wire/fuse-above-conductor');
    expect(Number(valueOf(finding, 'ampacity'))).toBeCloseTo(17, 0);
    expect(valueOf(finding, 'rating')).toBe(30);
    expect(finding.severity).toBe('stop');
  });
  it('15 A before it is no finding', () => {
    expect(found(gauge18(15), 'wire/fuse-above-conductor')).toEqual([]);
  });

  // FAA AC 43.13-1B Table 11-7: 20 A over 107 ft of No. 6 lose 0.942 V with its 0.44 Ω/kft of tinned aircraft wire; the bare
  // copper of ASTM B258, 0.3951 Ω/kft, loses 0.846 V. Bare strands lie between the two.
  it('20 A over 107 ft of No. 6 lose 0.846 to 0.942 V (ASTM B258, AC 43.13-1B Table 11-7): over 3 % of 12 V', () => {
    const documents = loadCase({
      loadA: 20,
      fuseA: null,
      source: { feed: undefined },
      target: { electrical: { class: 'feed', loadA: 20 }, meaning: undefined },
      segment: { lengthM: 107 * 0.3048, maxC: 20 },
      circuit: { conductor: { size: '6AWG', colour: 'RD' } },
      from: { accepts: { minMm2: 0.35, maxMm2: 70 }, maxA: 60 },
      to: { accepts: { minMm2: 0.35, maxMm2: 70 }, maxA: 60 },
    });
    const finding = one(documents, 'wire/drop-over-limit');
    expect(Number(valueOf(finding, 'drop'))).toBeGreaterThanOrEqual(0.846);
    expect(Number(valueOf(finding, 'drop'))).toBeLessThanOrEqual(0.942);
    expect(valueOf(finding, 'limit')).toBe(0.36);
  });

  // 10 A over 8 m of 18 AWG, 20.95 mΩ/m (ASTM B258): 1.68 V, 14 % of 12 V; strands add up to 4 %.
  it('10 A over 8 m of 18 AWG lose 1.68 V (ASTM B258, 20.95 mΩ/m)', () => {
    const documents = loadCase({
      loadA: 10,
      fuseA: 15,
      segment: { lengthM: 8, maxC: 20 },
      circuit: { conductor: { size: '18AWG', colour: 'RD' } },
    });
    const drop = Number(valueOf(one(documents, 'wire/drop-over-limit'), 'drop'));
    expect(drop).toBeGreaterThanOrEqual(1.67);
    expect(drop).toBeLessThanOrEqual(1.68 * 1.04);
  });

  it('12 A through a contact rated 8 A, 6.4 A with a fifth in hand (FAA AC 43.13-1B 11-67)', () => {
    const pump = (maxA: number) => loadCase({ loadA: 12, fuseA: 15, from: { maxA }, to: { maxA: 40 } });
    const finding = one(pump(8), 'wire/contact-current');
    expect([valueOf(finding, 'contact rating'), valueOf(finding, 'with a fifth in hand')]).toEqual([8, 6.4]);
    expect(finding.severity).toBe('fix');
    expect(one(pump(14), 'wire/contact-current').severity).toBe('look');
    expect(found(pump(15), 'wire/contact-current')).toEqual([]);
  });

  it('2.0 mm² in a terminal for 0.35 to 0.5 mm²', () => {
    const documents = harnessCase({
      to: { accepts: { minMm2: 0.35, maxMm2: 0.5 } },
      circuit: { conductor: { size: '2mm2', colour: 'BU' } },
    });
    const finding = one(documents, 'wire/terminal-size');
    expect([valueOf(finding, 'accepts from'), valueOf(finding, 'accepts to')]).toEqual([0.35, 0.5]);
    expect(finding.mend?.title).toContain('0.5 mm²');
  });
});

describe('drivers and receivers', () => {
  it('0.5 mA of leakage: 0.5 V over 1 kΩ is harmless, 16.5 V over 33 kΩ holds the input up', () => {
    const leaking = (pullOhm: number) =>
      harnessCase({
        source: {
          electrical: { class: 'switched-battery', activeLevel: 'high', maxA: 2, leakageA: 0.0005 },
          ground: undefined,
        },
        target: { electrical: { class: 'input-pull-down', activeLevel: 'high', pullOhm } },
      });
    expect(found(leaking(1000), 'wire/leakage-over-threshold')).toEqual([]);
    expect(valueOf(one(leaking(33_000), 'wire/leakage-over-threshold'), 'leakage')).toBe(0.5);
  });

  it('a 21 W lamp runs at 21 / 12 = 1.75 A and starts at ten times that', () => {
    const documents = harnessCase({
      source: { electrical: { class: 'switched-battery', maxA: 5 }, function: undefined, ground: undefined },
      target: { electrical: { class: 'lamp', loadA: 21 / 12 }, function: undefined },
    });
    expect(valueOf(one(documents, 'wire/inrush-over-driver'), 'inrush current')).toBe(17.5);
  });

  it('12 V over 2.2 kΩ wet a contact with 5.5 mA, over 40 kΩ with 0.3 mA', () => {
    const button = (pullOhm: number) =>
      harnessCase({
        target: { electrical: { class: 'input-pull-up-12v', activeLevel: 'low', pullOhm, pullToV: 12 } },
      });
    expect(found(button(2200), 'wire/wetting-current')).toEqual([]);
    expect(valueOf(one(button(40_000), 'wire/wetting-current'), 'current through the contact')).toBe(0.3);
  });

  it('a ratiometric sensor without its reference: 5.10 / 4.95 is 3 %, 0.2 V of 5 V is 4 %', () => {
    const documents = harnessCase({
      source: { electrical: { class: 'ratiometric-5v' }, meaning: undefined, function: undefined },
      target: { electrical: { class: 'input-analogue' }, meaning: undefined, function: undefined },
    });
    const finding = one(documents, 'wire/reference-not-shared');
    expect(Number(valueOf(finding, 'error by the reference'))).toBeCloseTo((5.1 / 4.95 - 1) * 100, 1);
    expect(Number(valueOf(finding, 'error by the grounds'))).toBe((0.2 / 5) * 100);
  });

  // What the reference list calls a charging mismatch: a lamp contact where a duty of 128 Hz is expected, or another frequency.
  it('an alternator that expects a duty of 128 Hz and is given a contact, or 400 Hz', () => {
    const target = {
      electrical: {
        class: 'input-frequency' as const,
        activeLevel: 'low' as const,
        frequencyHz: [115, 140] as [number, number],
        maxV: 28,
      },
      meaning: undefined,
      function: 'alternator-field-command',
    };
    const contact = harnessCase({ source: { function: 'alternator-field-command' }, target });
    expect(one(contact, 'wire/classes-do-not-fit').message).toContain('no source of frequency');
    const duty = harnessCase({
      source: {
        electrical: { class: 'pwm-ground', activeLevel: 'low', maxA: 0.5, frequencyHz: [400, 400] },
        function: 'alternator-field-command',
        meaning: undefined,
      },
      target,
    });
    expect(valueOf(one(duty, 'wire/frequency-outside-window'), 'highest frequency')).toBe(400);
  });
});

describe('supplies', () => {
  it('18 A of a fan on 20 A are 90 %; on 25 A 72 %', () => {
    const fan = (fuseA: number) =>
      loadCase({
        loadA: 18,
        fuseA,
        segment: { maxC: 40 },
        circuit: { conductor: { size: '4mm2', colour: 'RD' } },
        from: { accepts: { minMm2: 0.35, maxMm2: 6 }, maxA: 40 },
        to: { accepts: { minMm2: 0.35, maxMm2: 6 }, maxA: 40 },
      });
    const finding = one(fan(20), 'supply/feed-overloaded');
    expect([valueOf(finding, 'load'), valueOf(finding, 'share'), finding.severity]).toEqual([18, 90, 'look']);
    expect(found(fan(25), 'supply/feed-overloaded')).toEqual([]);
    expect(one(fan(15), 'supply/feed-overloaded').severity).toBe('fix');
  });

  // 20 A that come with the tow option, on a 30 A feed which carries 15 A already: 35 A of 30 A in those builds only.
  it('a load that comes with an option counts in the builds that have it', () => {
    const documents = loadCase({
      loadA: 20,
      fuseA: 30,
      route: { when: { trailer: ['with'] } },
      map: { options: [{ id: 'trailer', choices: ['with', 'without'] }] },
      circuit: { conductor: { size: '6mm2', colour: 'RD' } },
    });
    const feeds = documents.host.feeds.map((feed) => (feed.id === 'F2' ? { ...feed, loadA: 15 } : feed));
    const finding = one({ ...documents, host: { ...documents.host, feeds } }, 'supply/feed-overloaded');
    expect([valueOf(finding, 'load'), valueOf(finding, 'share')]).toEqual([35, 117]);
    expect(finding.options).toEqual(['trailer=with']);
  });

  it('50 mA empty half of 60 Ah in 30 Ah / 0.05 A = 600 h = 25 days; 20 mA in 62 are let pass', () => {
    const parked = (sleepMa: number) => supplyCase({ module: { sleepMa } });
    expect(valueOf(one(parked(50), 'supply/sleep-current'), 'days to half')).toBe(25);
    expect(found(parked(20), 'supply/sleep-current')).toEqual([]);
  });

  // By the time gates of ISO 8820-3 (from memory) a 5 A fuse may hold longer at some current than a 7.5 A fuse before it.
  it('two fuses in line: larger is not yet selective, and the later one must not be the larger', () => {
    const inLine = (feedA: number, fuseA: number) =>
      loadCase({ loadA: 2, fuseA: feedA, circuit: { fuseA, conductor: { size: '2.5mm2', colour: 'RD' } } });
    expect(one(inLine(5, 10), 'supply/fuse-coordination').severity).toBe('fix');
    expect(one(inLine(7.5, 5), 'supply/fuse-coordination').severity).toBe('look');
    expect(found(inLine(20, 5), 'supply/fuse-coordination')).toEqual([]);
  });

  it('a controller on an accessory feed, which is dead while the starter turns', () => {
    const documents = supplyCase({
      feed: { kind: 'accessory', liveIn: ['accessory', 'run'] },
      route: { function: 'park-neutral-starter-interlock' },
      host: {
        feeds: [
          {
            id: 'F3',
            kind: 'battery',
            fuseA: 5,
            loadA: 0,
            at: { connector: 'C7', cavity: '2' },
            documents: ['sheet-1'],
          },
        ],
      },
    });
    const finding = one(documents, 'supply/feed-not-live');
    expect(finding.message).toContain('start: Park/neutral starter interlock');
    expect(finding.mend?.edits).toEqual([
      { do: 'set', in: 'map', path: ['interfaceModules', { id: 'xm' }, 'feed'], to: 'host:F3' },
    ]);
  });
});
