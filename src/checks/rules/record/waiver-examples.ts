import { findingDigest } from '../../finding.ts';
import { numberCase, type FrameCase } from '../../examples/frame-case.ts';
import { exampleMap, type PairingDocuments } from '../../examples/documents.ts';

/** A finding and the waiver that answers it, as the check would digest it. */
export function waivedCase(
  of: 'look' | 'stop',
  { secondBy, lapsed = false }: { readonly secondBy?: string; readonly lapsed?: boolean },
): PairingDocuments {
  const change: FrameCase =
    of === 'stop'
      ? { source: { unit: '[degF]', offset: 0, range: [0, 250] } }
      : { route: { staleAfterMs: lapsed ? 20000 : 60000 } };
  const documents = numberCase(change);
  const answered =
    of === 'stop'
      ? {
          rule: 'unit/not-converted',
          subject: 'route:the-route',
          values: [
            { name: 'from unit', value: '[degF]', unit: '' },
            { name: 'to unit', value: 'Cel', unit: '' },
            { name: 'conversion', value: '0.555555556·x − 17.7777778', unit: '' },
          ],
          options: [],
        }
      : {
          rule: 'time/timeout-too-long',
          subject: 'route:the-route',
          values: [
            { name: 'staleness limit', value: 60000, unit: 'ms' },
            { name: 'tolerable age', value: 5000, unit: 'ms' },
          ],
          options: [],
        };
  return {
    ...documents,
    map: exampleMap({
      ...documents.map,
      waivers: [
        {
          rule: answered.rule,
          subject: answered.subject,
          answers: findingDigest(answered),
          reason: 'bench set-up only',
          by: 'First Person',
          ...(secondBy === undefined ? {} : { secondBy }),
          on: '2026-01-31',
        },
      ],
    }),
  };
}
