import { describe, expect, it } from 'vitest';
import { check, type Finding } from '../../src/checks/index.ts';
import { interfaceModule } from '../../src/checks/examples/documents.ts';
import { copperCase, crowdedBus, moduleWithPort } from '../../src/checks/examples/bus-case.ts';
import { diagnosticsCase } from '../../src/checks/examples/diagnostics.ts';
import { numberCase } from '../../src/checks/examples/frame-case.ts';
import { GUARD, guardedCase } from '../../src/checks/examples/guarded.ts';
import { byte, flowCase } from '../../src/checks/examples/signals.ts';
import { wireCase } from '../../src/checks/examples/wire-case.ts';
import { pair, type PairingDocuments } from '../../src/model/index.ts';

/** Worked examples of the reference list of mistakes, each with its own arithmetic beside it; none is an output of ours. */
function finding({ map, host, donor }: PairingDocuments, rule: string): Finding {
  const found = check(pair(map, host, donor)).findings.filter((one) => one.rule === rule);
  expect(found, rule).toHaveLength(1);
  return found[0]!;
}
const valueOf = ({ values }: Finding, name: string) => values.find((value) => value.name === name)?.value;

describe('worked examples', () => {
  it('latency-chain: 20 + 10 + 5 + 20 = 55 ms for a torque request that tolerates 50', () => {
    const documents = flowCase({
      toDonor: [byte('Request', 'torque-reduction-request', '%')],
      route: () => ({ staleAfterMs: 50, note: 'reference torque 400 N.m' }),
      map: { interfaceModules: [interfaceModule({ periodMs: 10, latencyMs: 5 })] },
    });
    const at20 = {
      ...documents,
      host: { ...documents.host, messages: documents.host.messages.map((message) => ({ ...message, cycleMs: 20 })) },
      map: { ...documents.map, transmits: documents.map.transmits.map((transmit) => ({ ...transmit, cycleMs: 20 })) },
    };
    const found = finding(at20, 'time/age-exceeded');
    // The reference counts the module, not the buses; on each the one frame of 8 bytes takes 135 bits · 2 µs = 0.27 ms.
    const buses = ['response on the source’s bus', 'response on the target’s bus'].map((name) => valueOf(found, name));
    expect(buses).toEqual([0.27, 0.27]);
    expect(valueOf(found, 'age')).toBe(55 + 0.54);
    expect(valueOf(found, 'tolerable age')).toBe(50);
  });

  it('range-clip: an 8-bit tachometer at 32 rev/min a bit ends at 255 · 32 = 8160', () => {
    const tachometer = { unit: '{rev}/min', function: undefined, notAvailable: undefined };
    const found = finding(
      numberCase({
        source: {
          ...tachometer,
          bits: { start: 0, length: 16, order: 'little' },
          factor: 0.25,
          offset: 0,
          range: [0, 8200],
        },
        target: { ...tachometer, factor: 32, offset: 0, range: undefined },
      }),
      'range/clipped',
    );
    expect([valueOf(found, 'target end'), valueOf(found, 'to'), valueOf(found, 'end')]).toEqual([
      '8160',
      '8200',
      'high',
    ]);
  });

  it('sender-curve-reversed: 45 Ω, half of a 0–90 Ω sender, is (240 − 45)/(240 − 33) = 94 % on a 240–33 Ω gauge', () => {
    const level = (points: [number, number][]) => ({
      function: 'fuel-level',
      meaning: { curve: { of: 'Ohm' as const, points }, unit: '%' },
    });
    const found = finding(
      wireCase({
        source: {
          ...level([
            [0, 0],
            [45, 50],
            [90, 100],
          ]),
          electrical: { class: 'resistive' },
        },
        target: {
          ...level([
            [33, 100],
            [240, 0],
          ]),
          module: 'cluster',
          electrical: { class: 'resistive-gauge' },
        },
      }),
      'unit/hard-wire-scale-differs',
    );
    // The finding names the point where the two are furthest apart; at 45 Ω they are 44 % apart, at 33 Ω (37 against 100) 63 %.
    expect(valueOf(found, 'at')).toBe('33');
    expect(Number(valueOf(found, 'target'))).toBe(100);
    expect(Number(valueOf(found, 'source'))).toBeCloseTo(36.7, 1);
  });

  it('unit-mismatch-speed: 1 mi/h = 1.609344 km/h (NIST SP 811, B.8)', () => {
    const speed = { factor: 1, offset: 0, range: [0, 100] as [number, number], function: 'vehicle-speed' };
    const found = finding(
      numberCase({ source: { ...speed, unit: '[mi_i]/h' }, target: { ...speed, range: [0, 250], unit: 'km/h' } }),
      'unit/not-converted',
    );
    expect(valueOf(found, 'conversion')).toBe('1.609344·x');
  });

  it('offset-omitted: a factor of 5/9 from °F to °C without its 32 is named', () => {
    const found = finding(
      numberCase({
        source: { unit: '[degF]', offset: 0, range: [0, 250] },
        route: { steps: [{ do: 'linear', factor: '5/9', offset: 0, unit: 'Cel' }] },
      }),
      'unit/factor-contradicts',
    );
    expect(String(valueOf(found, 'likely slip'))).toMatch(/32|offset/);
  });

  it('bus-load: 40 frames · 135 bits · 100 a second on 500 kbit/s are 108 %', () => {
    // One of the 40 is the example's own frame, which is sent every 10 ms here too.
    const documents = crowdedBus({ own: 19, added: 20, cycleMs: 10, originalMs: 100 });
    const map = { ...documents.map, transmits: documents.map.transmits.map((one) => ({ ...one, cycleMs: 10 })) };
    const found = finding({ ...documents, map }, 'bus/overloaded');
    expect(valueOf(found, 'load, worst case')).toBe('108.0 %');
    expect(found.severity).toBe('stop');
  });

  it('bus-load-250k: 20 extended frames each 10 ms are 128 % of 250 kbit/s and 64 % of 500 kbit/s', () => {
    const load = (bitRate: number) => {
      const { map, host, donor } = crowdedBus({
        own: 10,
        added: 10,
        cycleMs: 10,
        originalMs: 100,
        idFormat: 'extended',
        bus: { bitRate },
      });
      const alone = { ...map, transmits: map.transmits.filter(({ message }) => message !== 'host:ToCluster') };
      return valueOf(finding({ map: alone, host, donor }, 'bus/overloaded'), 'load, worst case');
    };
    expect([load(250_000), load(500_000)]).toEqual(['128.0 %', '64.0 %']);
  });

  it('termination-count: a third terminator makes 120/3 = 40 Ω, one alone is 120 Ω', () => {
    const three = copperCase({}, { map: { interfaceModules: [moduleWithPort({ terminationOhm: 120 })] } });
    expect(valueOf(finding(three, 'bus/termination-count'), 'across the pair')).toBe('40 Ω');
    const one = copperCase({ terminations: [{ at: 'body', ohm: 120 }] });
    expect(valueOf(finding(one, 'bus/termination-count'), 'across the pair')).toBe('120 Ω');
  });

  it('long-stub: 2.5 m behind the glove box, against at most 1.7 m at 500 kbit/s and 1 m at 250 kbit/s', () => {
    const stub = (bitRate: number) =>
      finding(
        copperCase({ bitRate }, { map: { interfaceModules: [moduleWithPort({ stubM: 2.5 })] } }),
        'bus/stub-too-long',
      );
    expect(valueOf(stub(500_000), 'most')).toBe(1.7);
    expect(valueOf(stub(250_000), 'most')).toBe(1);
  });

  it('counter-range: a sender that wraps after 14 and a reader that expects 15', () => {
    const found = finding(
      guardedCase({ transmit: { protection: { ...GUARD, counterModulo: 15 } } }),
      'guard/counter-range',
    );
    expect(found.message).toContain('wraps after 14');
    expect(found.message).toContain('expect 15');
  });

  it('p2-latency: two 20 ms hops and a module of 25 ms are 65 ms, due after 50', () => {
    const documents = diagnosticsCase();
    const slow = {
      ...documents,
      map: {
        ...documents.map,
        interfaceModules: documents.map.interfaceModules.map((owner) => ({ ...owner, periodMs: 15, latencyMs: 5 })),
      },
    };
    const { map, host, donor } = slow;
    const found = check(pair(map, host, donor)).findings.filter(({ rule }) => rule === 'bus/diagnostic-multiframe');
    expect(found.map((one) => [valueOf(one, 'answer after'), valueOf(one, 'due')])).toEqual([
      [65, 50],
      [65, 50],
    ]);
  });
});
