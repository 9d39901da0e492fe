import type { Derivation, Pairing, Supply } from '../../../../model/index.ts';
import { titleOfEndpoint } from '../../../parts/subject.ts';

/** So many needs of one reader are listed; the others are counted. */
const LISTED = 40;

function byReader(needs: Iterable<Supply>): readonly (readonly [string, readonly Supply[]])[] {
  const readers = new Map<string, Supply[]>();
  for (const need of needs) {
    for (const module of need.modules) {
      const ref = `${need.side}:${module}`;
      const known = readers.get(ref);
      if (known) known.push(need);
      else readers.set(ref, [need]);
    }
  }
  return [...readers].sort(([, a], [, b]) => b.length - a.length);
}

/** What the fates make needed, live, by the module that lacks it. */
export function NeedsColumn({
  pairing,
  derivation,
}: {
  readonly pairing: Pairing | null;
  readonly derivation: Derivation | null;
}) {
  const needs = derivation ? [...derivation.needs.values()] : [];
  const offers = derivation ? [...derivation.offers.values()] : [];
  const of = (list: readonly Supply[], side: string): number => list.filter((each) => each.side === side).length;
  return (
    <section className="needs-column" aria-labelledby="needs-head" tabIndex={0}>
      <h2 id="needs-head">What will be needed</h2>
      <p role="status" className="needs-count">
        <strong className="number">{needs.length}</strong> {needs.length === 1 ? 'need' : 'needs'}
        <span className="soft">
          {' '}
          host {of(needs, 'host')}, donor {of(needs, 'donor')} · {offers.length} offers
        </span>
      </p>
      {pairing === null || derivation === null ? (
        <p className="soft">Choose both platforms. Needs appear here as fates are marked.</p>
      ) : needs.length === 0 ? (
        <p className="soft">
          Nothing is needed while every sender is retained. Mark the modules that do not come along as removed.
        </p>
      ) : (
        byReader(needs).map(([reader, own]) => (
          <details key={reader}>
            <summary>
              {moduleTitle(pairing, reader)} <span className="mono soft">{reader}</span>{' '}
              <span className="count">{own.length}</span>
            </summary>
            <ul className="need-names">
              {own.slice(0, LISTED).map((need) => {
                const endpoint = pairing.find(need.ref);
                return (
                  <li key={need.ref}>
                    {endpoint ? titleOfEndpoint(endpoint) : need.ref}{' '}
                    <span className="mono soft">{need.ref.slice(need.ref.indexOf(':') + 1)}</span>
                  </li>
                );
              })}
              {own.length > LISTED ? <li className="soft">and {own.length - LISTED} more</li> : null}
            </ul>
          </details>
        ))
      )}
    </section>
  );
}

function moduleTitle(pairing: Pairing, ref: string): string {
  const cut = ref.indexOf(':');
  const id = ref.slice(cut + 1);
  return pairing.side(ref.slice(0, cut) === 'host' ? 'host' : 'donor').modules.get(id)?.title ?? id;
}
