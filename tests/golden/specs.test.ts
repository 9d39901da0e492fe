/**
 * Both specs of a small pairing under a fixed day, as kept beside this file. A difference is a change of what is handed over: read it,
 * and only then write the file anew (vitest -u). The numbers themselves are checked against the outside elsewhere.
 */
import { describe, expect, it } from 'vitest';
import { check } from '../../src/checks/index.ts';
import { renderJson, translationSpec, wiringSpec } from '../../src/export/index.ts';
import { goldenPairing } from '../export/golden-pairing.ts';

describe('golden files', () => {
  const pairing = goldenPairing();
  // Findings are golden elsewhere: a new rule must not change these files.
  const findings = check(pairing, { rules: [] }).findings;
  const issue = { today: '2026-01-31', version: '0.0.0', digest: 'd'.repeat(64), arrangement: 'sheets' } as const;

  it('wiring spec', async () => {
    await expect(renderJson(wiringSpec(pairing, findings, issue))).toMatchFileSnapshot('small-wiring.json');
  });
  it('translation spec', async () => {
    await expect(renderJson(translationSpec(pairing, findings, issue))).toMatchFileSnapshot('small-translation.json');
  });
});
