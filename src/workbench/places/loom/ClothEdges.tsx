import type { Pairing } from '../../../model/index.ts';
import type { Columns } from './geometry.ts';

/** The head of the cloth: whose ends hang at which edge, and the interface modules over their bands. */
export function ClothHead({
  columns,
  pairing,
  named,
}: {
  readonly columns: Columns;
  readonly pairing: Pairing;
  readonly named: boolean;
}) {
  return (
    <div className="cloth-head">
      <p className="side-title" data-side="host" style={{ maxWidth: columns.bandsFrom - 24 }}>
        <span className="side-word">host</span> {pairing.host.platform.title}
      </p>
      {[...columns.bands].map(([id, [left, right]]) => (
        <p
          key={id}
          className="band-title"
          style={{ left, width: right - left }}
          title={pairing.interfaceModules.get(id)?.title}
        >
          <strong>{id}</strong> {named ? 'interface' : ''}
        </p>
      ))}
      <p className="side-title" data-side="donor" style={{ maxWidth: columns.width - columns.bandsTo - 24 }}>
        {pairing.donor.platform.title} <span className="side-word">donor</span>
      </p>
    </div>
  );
}

/** The bus bar at the foot, with the buses that strands run along. */
export function ClothFoot({
  columns,
  pairing,
  buses,
}: {
  readonly columns: Columns;
  readonly pairing: Pairing;
  readonly buses: readonly string[];
}) {
  return (
    <div className="cloth-foot" aria-label="The bus bar" role="group">
      <div className="bus-bar" />
      {buses.map((ref) => {
        const [side, id] = ref.split(':') as ['host' | 'donor', string];
        const x = columns.rails.get(ref) ?? 0;
        const title = pairing.side(side).buses.get(id)?.title ?? id;
        return (
          <span key={ref}>
            <span className="rail-end" style={{ left: x - 1 }} />
            <span
              className="bus-name"
              data-side={side}
              style={side === 'host' ? { right: columns.width - x + 8 } : { left: x + 8 }}
            >
              {title} <span className="mono soft">{id}</span>
            </span>
          </span>
        );
      })}
      {buses.length === 0 ? <span className="bus-name idle">bus bar: no strand runs along a bus</span> : null}
    </div>
  );
}
