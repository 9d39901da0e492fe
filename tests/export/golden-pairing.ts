import type { Pairing } from '../../src/model/index.ts';
import { donorParts, mapParts, smallPairing } from '../wiring/small-pairing.ts';

/** A small pairing with a harness of known lengths, one frame in and one protected frame out: what the golden files show. */
export function goldenPairing(): Pairing {
  return smallPairing(
    {
      transmits: [
        {
          message: 'host:EngineStatus',
          by: 'xm',
          port: 'A',
          send: 'cyclic',
          cycleMs: 20,
          unusedBits: '0',
          fill: { Spare: 3 },
        },
      ],
      routes: [
        (mapParts['routes'] as unknown[])[0],
        {
          id: 'coolant',
          function: 'coolant-temperature',
          from: ['donor:EngineTemps.Coolant'],
          to: 'host:EngineStatus.CoolantTemp',
          carrier: 'interface',
          by: 'xm',
          steps: [{ do: 'convert' }],
          staleAfterMs: 1000,
          recoverAfter: 3,
          onLoss: { do: 'substitute', notAvailable: true },
          atStart: 'not-available',
          measured: true,
        },
      ],
      leftOut: [{ signal: 'host:EngineStatus.Spare', reason: 'nobody reads it here' }],
      harness: {
        ...(mapParts['harness'] as object),
        parts: [],
        nodes: [
          { id: 'n1', kind: 'connector', connector: 'donor:D2' },
          { id: 'n2', kind: 'connector', connector: 'host:C9' },
          { id: 'n3', kind: 'connector', connector: 'X1' },
          { id: 'n4', kind: 'connector', connector: 'host:C1' },
          { id: 'n5', kind: 'connector', connector: 'donor:D1' },
          { id: 'n6', kind: 'stud', ground: 'host:G101' },
          { id: 'b', kind: 'branch' },
        ],
        segments: ['n1', 'n2', 'n3', 'n4', 'n5', 'n6'].map((from, at) => ({
          id: `s${at + 1}`,
          from,
          to: 'b',
          lengthM: 0.5 + at / 10,
          covering: 'tape',
          maxC: 85,
          clampEveryM: 0.3,
        })),
      },
    },
    {
      messages: [
        {
          id: 'EngineStatus',
          bus: 'chassis-can',
          frameId: '0x1C0',
          idFormat: 'standard',
          length: 8,
          sender: 'ecm',
          cycleMs: 20,
          protection: {
            counter: 'Counter',
            counterModulo: 15,
            checksum: 'Crc',
            algorithm: 'crc8-sae-j1850',
            dataId: 449,
            evidence: 'specified',
          },
          signals: [
            {
              id: 'Crc',
              bits: { start: 7, length: 8, order: 'big' },
              number: 'unsigned',
              factor: 1,
              offset: 0,
              unit: '1',
            },
            {
              id: 'Counter',
              bits: { start: 15, length: 4, order: 'big' },
              number: 'unsigned',
              factor: 1,
              offset: 0,
              unit: '1',
            },
            {
              id: 'Spare',
              bits: { start: 11, length: 4, order: 'big' },
              number: 'unsigned',
              factor: 1,
              offset: 0,
              unit: '1',
            },
            {
              id: 'CoolantTemp',
              bits: { start: 23, length: 10, order: 'big' },
              number: 'unsigned',
              factor: 0.5,
              offset: -40,
              unit: '[degF]',
              range: [-40, 302],
              notAvailable: [1023],
              readers: ['cluster'],
            },
          ],
        },
      ],
    },
    {
      modules: [
        ...(donorParts['modules'] as object[]),
        { id: 'ecu', title: 'Engine control unit', buses: ['powertrain-can'] },
      ],
      messages: [
        {
          id: 'EngineTemps',
          bus: 'powertrain-can',
          frameId: '0x18FEEE00',
          idFormat: 'extended',
          length: 8,
          sender: 'ecu',
          cycleMs: 100,
          signals: [
            {
              id: 'Coolant',
              bits: { start: 0, length: 8, order: 'little' },
              number: 'unsigned',
              factor: 1,
              offset: -40,
              unit: 'Cel',
              range: [-40, 150],
              notAvailable: [255],
              error: [254],
            },
          ],
        },
      ],
    },
  );
}
