import type { Derivation, Fate, Platform, SideName } from '../../../../model/index.ts';
import { moduleCounts, type ModuleCounts } from './fate-counts.ts';

const FATES: readonly Fate[] = ['retained', 'removed', 'added'];

function effect(fate: Fate, { lacks, missed }: ModuleCounts): string {
  if (fate === 'removed') return missed === 0 ? '' : `leaves ${missed}`;
  return lacks === 0 ? '' : `lacks ${lacks}`;
}

/** The modules of one side with their fates; what each fate brings about stands beside it. */
export function FateTable({
  side,
  platform,
  derivation,
  fates,
  onFates,
}: {
  readonly side: SideName;
  readonly platform: Platform;
  readonly derivation: Derivation | null;
  readonly fates: Readonly<Record<string, Fate>>;
  readonly onFates: (change: Readonly<Record<string, Fate>>) => void;
}) {
  const counts = moduleCounts(side, platform, derivation);
  const setAll = (fate: Fate): void =>
    onFates(Object.fromEntries(platform.modules.map(({ id }) => [`${side}:${id}`, fate])));
  return (
    <section className="fates" aria-labelledby={`fates-${side}`}>
      <div className="fates-head">
        <h3 id={`fates-${side}`}>Modules of the {side}</h3>
        <button type="button" className="button small" onClick={() => setAll('retained')}>
          All retained
        </button>
        <button type="button" className="button small" onClick={() => setAll('removed')}>
          All removed
        </button>
      </div>
      <table>
        <thead>
          <tr>
            <th scope="col">Module</th>
            <th scope="col">Fate</th>
            <th scope="col" className="number">
              Needs
            </th>
          </tr>
        </thead>
        <tbody>
          {platform.modules.map(({ id, title }) => {
            const ref = `${side}:${id}`;
            const fate = fates[ref] ?? 'retained';
            const own = counts.get(id)!;
            return (
              <tr key={id} data-fate={fate}>
                <th scope="row">
                  <span className="module-title">{title}</span>
                  <span className="soft module-counts">
                    {title === id ? null : <span className="mono">{id} </span>}
                    sends {own.sends}, reads {own.reads}
                  </span>
                </th>
                <td>
                  <div className="fate-choice" role="radiogroup" aria-label={`Fate of ${title}`}>
                    {FATES.map((each) => (
                      <label key={each} data-chosen={each === fate || undefined}>
                        <input
                          type="radio"
                          name={`fate-${ref}`}
                          checked={each === fate}
                          onChange={() => onFates({ [ref]: each })}
                        />
                        {each}
                      </label>
                    ))}
                  </div>
                </td>
                <td className="number soft">{effect(fate, own)}</td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </section>
  );
}
