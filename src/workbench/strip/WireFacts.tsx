import type { WireEntry } from '../../model/index.ts';
import { electricalFacts } from './wire-facts.ts';

/** The electrical character of one end of a conductor, in words and figures. */
export function WireFacts({ entry }: { readonly entry: WireEntry }) {
  return (
    <dl className="wire-facts">
      {electricalFacts(entry.wire.electrical).map(([name, value]) => (
        <div key={name} style={{ display: 'contents' }}>
          <dt>{name}</dt>
          <dd>{value}</dd>
        </div>
      ))}
    </dl>
  );
}
