import type { Row, Section } from '../document/index.ts';
import { joined } from '../record/index.ts';
import type { Translation } from './translation.ts';

/** Signals and functions knowingly not carried, and needs that nothing meets yet. */
export function leftOutSection(translation: Translation): Section {
  const { pairing, context, scope } = translation;
  const rows = (pairing.map.leftOut ?? []).flatMap(({ signal, function: functionId, reason, when }): Row[] => {
    const mask = pairing.options.maskOf(when);
    if (!scope.holds(mask)) return [];
    return [{ cells: [signal ?? '–', functionId ?? '–', reason, ...(scope.several ? [scope.words(mask)] : [])] }];
  });
  const unmet = [...context.derivation.needs.values()].flatMap((need): Row[] => {
    const left =
      need.mask & scope.mask & ~context.maskWritten(need.ref) & ~context.maskLeftOut(need.ref, need.function);
    if (left === 0n) return [];
    return [
      {
        cells: [
          need.ref,
          need.function ?? '–',
          joined(need.modules),
          need.because,
          ...(scope.several ? [scope.words(left)] : []),
        ],
      },
    ];
  });
  const builds = scope.several ? [{ key: 'builds', title: 'Builds', kind: 'text', weight: 14 } as const] : [];
  return {
    id: 'left-out',
    title: 'Left out',
    blocks: [
      {
        kind: 'table',
        id: 'left-out-list',
        title: 'Left out knowingly',
        columns: [
          { key: 'signal', title: 'Signal', kind: 'code', weight: 34, role: 'key' },
          { key: 'function', title: 'Function', kind: 'code', weight: 28, role: 'key' },
          { key: 'reason', title: 'Reason', kind: 'text', weight: 70 },
          ...builds,
        ],
        rows,
        whenEmpty: 'The map leaves nothing out.',
      },
      {
        kind: 'table',
        id: 'unmet-needs',
        title: 'Needs that nothing meets yet',
        columns: [
          { key: 'need', title: 'Need', kind: 'code', weight: 34, role: 'key' },
          { key: 'function', title: 'Function', kind: 'code', weight: 26 },
          { key: 'readers', title: 'Readers', kind: 'text', weight: 24 },
          { key: 'because', title: 'Why it is one', kind: 'text', weight: 50 },
          ...builds,
        ],
        rows: unmet,
        whenEmpty: 'Every need is met by a route or left out with a reason.',
      },
    ],
  };
}
