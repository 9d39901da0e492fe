import { describe, expect, it } from 'vitest';
import { check } from '../../src/checks/index.ts';
import { isRegulation } from '../../src/checks/law.ts';
import { bit, flowCase } from '../../src/checks/examples/signals.ts';
import { FUNCTIONS, pair, type VehicleFunction } from '../../src/model/index.ts';

/**
 * Which regulation stands behind each interlock function. Sources, outside this project:
 * 49 CFR 571.102 (FMVSS 102) S3.1.3, starter interlock; 49 CFR 571.114 (FMVSS 114) S5.1 theft protection, S5.2 rollaway prevention,
 * S5.3 brake transmission shift interlock (75 FR 15621); 49 CFR 571.108 (FMVSS 108), stop lamps; 49 CFR 571.301, fuel system
 * integrity; UN R116 / R162, immobilizers. Sections from the published Code of Federal Regulations.
 */
const PUBLISHED: Readonly<Record<string, readonly RegExp[]>> = {
  'park-neutral-starter-interlock': [/49 CFR 571\.102/, /S3\.1\.3/],
  'clutch-pedal-starter-interlock': [/S3\.1\.3/, /automatic transmissions only/],
  'starter-relay-command': [/49 CFR 571\.102/],
  'crank-request': [/49 CFR 571\.114/],
  'ignition-run-state': [/49 CFR 571\.114/],
  'immobilizer-authorization': [/49 CFR 571\.114/, /UN R116/],
  'remote-start-request': [/49 CFR 571\.102/],
  'key-removal-park-interlock': [/49 CFR 571\.114 S5\.1/, /S5\.2/],
  'auto-stop-restart-permit': [/49 CFR 571\.102/],
  'service-brake-switch-primary': [/49 CFR 571\.108/, /S5\.3/],
  'stop-lamp-activation': [/49 CFR 571\.108/],
  'brake-to-shift-interlock': [/49 CFR 571\.114 .*S5\.3/],
  'gear-selector-request': [/49 CFR 571\.102/, /S5\.3/],
  'park-lock-status': [/49 CFR 571\.114/],
  'fuel-pump-enable': [/49 CFR 571\.301/],
  'crash-fuel-cutoff': [/49 CFR 571\.301/],
};

const interlocks = [...FUNCTIONS.values()].filter(({ criticality }) => criticality === 'interlock');

/** The function carried by the interface module in plain frames: what no interlock may be. */
function findingsOf(entry: VehicleFunction) {
  const signal = bit('Value', entry.id, 0, {
    states: { '0': entry.states?.[0] ?? 'Off', '1': entry.states?.[1] ?? 'On' },
  });
  const { map, host, donor } = flowCase(
    entry.direction === 'powertrain-to-chassis' ? { toHost: [signal] } : { toDonor: [signal] },
  );
  return check(pair(map, host, donor)).findings;
}

const ABOUT_THE_CARRIER = ['routing/not-hard-wired', 'routing/backup-missing', 'guard/critical-unprotected'];

describe('interlock functions name their regulation', () => {
  it('has the 23 interlock functions of the catalogue, and a published source for each that the law names', () => {
    expect(interlocks).toHaveLength(23);
    const withLaw = interlocks.filter(({ sources }) => sources.some(isRegulation)).map(({ id }) => id);
    expect(withLaw.sort()).toEqual(Object.keys(PUBLISHED).sort());
  });

  it.each(interlocks.map((entry) => ({ id: entry.id, entry })))('$id, carried by firmware alone', ({ id, entry }) => {
    const found = findingsOf(entry).filter(({ rule }) => ABOUT_THE_CARRIER.includes(rule));
    expect(found.length).toBeGreaterThan(0);
    const said = found.map(({ why }) => why).join('\n');
    for (const pattern of PUBLISHED[id] ?? []) expect(said).toMatch(pattern);
    if (PUBLISHED[id] === undefined) expect(said).toContain('No regulation is recorded');
    // No regulation read prescribes a wire: the finding must keep law and practice apart.
    expect(said).toContain('The law asks for the function, not for a wire; engineering practice is the rest');
  });

  it.each(
    interlocks.filter(({ carrierRule }) => carrierRule !== 'bus-protected').map((entry) => ({ id: entry.id, entry })),
  )('$id stops the map', ({ entry }) => {
    const stops = findingsOf(entry).filter(
      ({ severity, rule }) => severity === 'stop' && ABOUT_THE_CARRIER.includes(rule),
    );
    expect(stops.length).toBeGreaterThan(0);
  });
});
