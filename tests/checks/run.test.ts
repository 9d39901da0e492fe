import { describe, expect, it } from 'vitest';
import { check, findingDigest, recheck, standingOfWaivers, type Finding } from '../../src/checks/index.ts';
import { numberCase } from '../../src/checks/examples/frame-case.ts';
import { guardedCase } from '../../src/checks/examples/guarded.ts';
import { exampleMap } from '../../src/checks/examples/documents.ts';
import { indexSide, pair, type CrossloomMap, type PairingDocuments } from '../../src/model/index.ts';

const run = ({ map, host, donor }: PairingDocuments) => check(pair(map, host, donor));
const without = (documents: PairingDocuments, map: Partial<CrossloomMap>): PairingDocuments => ({
  ...documents,
  map: { ...documents.map, ...map },
});
const fahrenheit = () => numberCase({ source: { unit: '[degF]', offset: 0, range: [0, 250] } });
const stopOf = (findings: readonly Finding[]) => findings.find(({ rule }) => rule === 'unit/not-converted')!;

describe('check', () => {
  it('orders findings by severity, then rule, then subject, and counts them', () => {
    const { findings, counts } = run(fahrenheit());
    const rank = { stop: 0, fix: 1, look: 2 };
    const keys = findings.map(({ severity, rule, subject }) => `${rank[severity]} ${rule} ${subject}`);
    expect(keys).toEqual([...keys].sort());
    expect(counts.stop).toBe(1);
    expect(counts.stop + counts.fix + counts.look + counts.waived).toBe(findings.length);
  });

  it('names rule, values with units, and why in every finding', () => {
    const { findings } = run(fahrenheit());
    for (const finding of findings) {
      expect(finding.rule).toMatch(/^[a-z]+\/[a-z-]+$/);
      expect(finding.message.length).toBeGreaterThan(10);
      expect(finding.why.length).toBeGreaterThan(10);
      for (const { name, unit } of finding.values) expect([typeof name, typeof unit]).toEqual(['string', 'string']);
    }
  });

  it('covers all option combinations in one pass, and says for which a finding holds', () => {
    const documents = numberCase({
      map: {
        options: [
          { id: 'drivetrain', choices: ['2wd', '4wd'] },
          { id: 'year', choices: ['early', 'late'] },
        ],
      },
      route: { when: { drivetrain: ['4wd'] }, staleAfterMs: undefined },
    });
    const { findings } = run(documents);
    const open = findings.find(({ rule }) => rule === 'option/combination-uncovered')!;
    expect(open.options).toEqual(['drivetrain=2wd']);
    const stale = findings.find(({ rule }) => rule === 'time/no-staleness-limit')!;
    expect(stale.options).toEqual(['drivetrain=4wd']);
    expect(open.mask & stale.mask).toBe(0n);
  });

  it('runs only the rules it is given', () => {
    const { map, host, donor } = fahrenheit();
    expect(check(pair(map, host, donor), { rules: [] }).findings).toEqual([]);
  });
});

describe('waivers', () => {
  const waiver = (finding: Finding, more: object = {}) => ({
    rule: finding.rule,
    subject: finding.subject,
    answers: findingDigest(finding),
    reason: 'bench only',
    by: 'First Person',
    on: '2026-01-31',
    ...more,
  });

  it('answers a stop only with two different names', () => {
    const documents = fahrenheit();
    const stop = stopOf(run(documents).findings);
    const waived = (more: object) => run(without(documents, { waivers: [waiver(stop, more)] }));
    expect(waived({}).counts).toMatchObject({ stop: 1, waived: 0 });
    expect(waived({}).findings.map(({ rule }) => rule)).toContain('record/second-name-missing');
    expect(waived({ secondBy: ' first  PERSON ' }).counts).toMatchObject({ stop: 1, waived: 0 });
    const two = waived({ secondBy: 'Second Person' });
    expect(two.counts).toMatchObject({ stop: 0, waived: 1 });
    expect(stopOf(two.findings).waived).toEqual({
      by: 'First Person',
      secondBy: 'Second Person',
      reason: 'bench only',
      on: '2026-01-31',
    });
    expect(two.findings.map(({ rule }) => rule)).not.toContain('record/lapsed-waiver');
  });

  it('answers a fix with one name', () => {
    const documents = numberCase({ route: { staleAfterMs: 20000 } });
    const fix = run(documents).findings.find(({ rule }) => rule === 'time/timeout-too-long')!;
    expect(run(without(documents, { waivers: [waiver(fix)] })).counts.waived).toBe(1);
  });

  it('lapses when a value changes, and names the rule that lapsed', () => {
    const before = numberCase({ route: { staleAfterMs: 20000 } });
    const fix = run(before).findings.find(({ rule }) => rule === 'time/timeout-too-long')!;
    const after = run(without(numberCase({ route: { staleAfterMs: 30000 } }), { waivers: [waiver(fix)] }));
    expect(after.counts.waived).toBe(0);
    const lapsed = after.findings.find(({ rule }) => rule === 'record/lapsed-waiver')!;
    expect(lapsed.message).toContain('time/timeout-too-long');
    expect(lapsed.severity).toBe('fix');
  });

  it('says when a waiver answers nothing any more', () => {
    const fix = run(numberCase({ route: { staleAfterMs: 20000 } })).findings.find(
      ({ rule }) => rule === 'time/timeout-too-long',
    )!;
    const spent = run(without(numberCase(), { waivers: [waiver(fix)] }));
    expect(spent.findings.find(({ rule }) => rule === 'record/lapsed-waiver')?.severity).toBe('look');
    const [standing] = standingOfWaivers([waiver(fix)], []);
    expect(standing?.standing.kind).toBe('spent');
  });

  it('keeps a digest through another wording, and changes it with rule, subject, value, unit and options', () => {
    const base = { rule: 'a/b', subject: 's', values: [{ name: 'n', value: 1, unit: 'ms' }], options: [] };
    const digest = findingDigest(base);
    expect(digest).toMatch(/^[0-9a-f]{64}$/);
    expect(findingDigest({ ...base, message: 'other words' } as unknown as Finding)).toBe(digest);
    const others = [
      { ...base, rule: 'a/c' },
      { ...base, subject: 't' },
      { ...base, values: [{ name: 'n', value: 2, unit: 'ms' }] },
      { ...base, values: [{ name: 'n', value: 1, unit: 's' }] },
      { ...base, options: ['year=late'] },
    ].map(findingDigest);
    expect(new Set([digest, ...others]).size).toBe(6);
  });
});

describe('recheck', () => {
  it('gives what a full check gives after an edit of a route, and keeps what it need not ask again', () => {
    const { map, host, donor } = guardedCase();
    const sides = [indexSide('host', host), indexSide('donor', donor)] as const;
    const before = check(pair(map, ...sides));
    const edited = exampleMap({ ...map, routes: map.routes.map((route) => ({ ...route, staleAfterMs: 5000 })) });
    // Only the routes are other objects than before.
    const next = pair({ ...map, routes: edited.routes }, ...sides);
    const again = recheck(before, next, ['route:speed']);
    expect(again.findings).toEqual(check(next).findings);
    expect(again.findings.map(({ rule }) => rule)).toContain('time/timeout-too-long');
    expect(again.memory).toBe(before.memory);
  });

  it('checks in full when a platform or a fate changed', () => {
    const { map, host, donor } = numberCase();
    const before = check(pair(map, host, donor));
    const fated = pair({ ...map, fates: { 'donor:old-panel': 'removed' } }, before.pairing.host, before.pairing.donor);
    expect(recheck(before, fated).findings).toEqual(check(fated).findings);
    const other = numberCase({ source: { unit: 'kPa', offset: 0, range: [0, 250] } });
    const replaced = pair(map, host, other.donor);
    expect(recheck(before, replaced).findings).toEqual(check(replaced).findings);
    expect(recheck(before, replaced).counts.stop).toBeGreaterThan(0);
  });
});
