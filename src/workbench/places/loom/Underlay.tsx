import { memo } from 'react';
import type { Flow } from './flow.ts';
import type { Columns } from './geometry.ts';

/** What lies behind the strands: the bands of the interface modules, the rails that lead down to the bus bar. */
export const Underlay = memo(function Underlay({ flow, columns }: { readonly flow: Flow; readonly columns: Columns }) {
  const from = new Map<string, number>();
  for (const row of flow.rows) {
    if (row.kind !== 'row' || row.row.kind !== 'strand' || row.row.carrier !== 'bus') continue;
    for (const { bus } of [...row.row.left, ...row.row.right])
      if (bus !== null && !from.has(bus)) from.set(bus, row.y + row.height - 1);
  }
  return (
    <div aria-hidden="true">
      {[...columns.bands].map(([id, [left, right]]) => (
        <div key={id} className="band" style={{ left, width: right - left }} />
      ))}
      {[...columns.rails].map(([bus, x]) =>
        from.has(bus) ? <div key={bus} className="rail" style={{ left: x - 1, top: from.get(bus) }} /> : null,
      )}
    </div>
  );
});
