import type { WireInput } from '../../examples/documents.ts';
import { donorPlatform, exampleMap, hostPlatform, interfaceModule, type RouteInput } from '../../examples/documents.ts';
import type { PairingDocuments } from '../../../model/index.ts';

export interface PedalCase {
  readonly throughInterface?: boolean;
  readonly tracks?: readonly (1 | 2)[];
  readonly second?: Partial<WireInput>;
  readonly routes?: readonly RouteInput[];
  /** Both readers hang on the first track. */
  readonly joined?: boolean;
}

/** The pedal of the chassis and both inputs of the engine controller. */
export function pedalCase({
  throughInterface,
  tracks = [1, 2],
  second,
  joined,
  routes = [],
}: PedalCase): PairingDocuments {
  const track = (n: 1 | 2): WireInput => ({
    id: `pedal-${n}`,
    title: `Pedal track ${n}`,
    module: 'pedal',
    direction: 'out',
    electrical: {
      class: 'ratiometric-5v',
      supply: `V${n}`,
      supplyAt: { connector: `C${n}`, cavity: '1' },
      returnAt: { connector: `C${n}`, cavity: '3' },
    },
    meaning: { scale: { of: 'V', factor: n === 1 ? 25 : 50, offset: -12.5, range: [0, 100] }, unit: '%' },
    at: { connector: `C${n}`, cavity: '2' },
    function: `accelerator-pedal-position-${n}`,
    documents: ['sheet-1'],
    ...(n === 2 ? second : {}),
  });
  const input = (n: 1 | 2): WireInput => ({
    ...track(n),
    id: `pedal-in-${n}`,
    title: `Pedal input ${n}`,
    module: 'engine',
    direction: 'in',
    driver: 'old-pedal',
    electrical: { class: 'input-analogue' },
    at: { connector: 'E1', cavity: `${n}` },
  });
  return {
    host: hostPlatform({
      modules: [{ id: 'pedal', title: 'Accelerator pedal', kind: 'sensor' }],
      wires: [track(1), track(2)],
      feeds: [
        { id: 'V1', kind: 'switched', fuseA: null },
        { id: 'V2', kind: 'switched', fuseA: null },
      ],
    }),
    donor: donorPlatform({
      modules: [{ id: 'old-pedal', title: 'Old pedal', kind: 'sensor' }],
      wires: [input(1), input(2)],
    }),
    map: exampleMap({
      fates: { 'donor:old-pedal': 'removed' },
      interfaceModules: [
        interfaceModule({
          pins: [
            { id: 'in1', electrical: { class: 'input-analogue' }, at: { connector: 'X1', cavity: '1' } },
            {
              id: 'out1',
              electrical: { class: 'absolute-voltage', minV: 0, maxV: 5 },
              at: { connector: 'X1', cavity: '2' },
            },
          ],
        }),
      ],
      routes: [
        ...tracks.map((n): RouteInput => {
          const ends = {
            id: `track-${n}`,
            from: [`host:pedal-${joined ? 1 : n}`],
            to: `donor:pedal-in-${n}`,
            measured: true,
          };
          return throughInterface && n === 1
            ? {
                ...ends,
                carrier: 'interface',
                by: 'xm',
                enters: ['in1'],
                leaves: 'out1',
                staleAfterMs: 50,
                onLoss: { do: 'substitute', value: 0 },
                atStart: 'loss-behaviour',
              }
            : { ...ends, carrier: 'hard-wire' };
        }),
        ...routes,
      ],
    }),
  };
}
