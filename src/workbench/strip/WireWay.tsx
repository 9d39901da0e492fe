import { useMemo } from 'react';
import { pathsOf, type Pairing, type Route } from '../../model/index.ts';

/** The way of a hard wire: every element between source and reader on one unbroken line. */
export function WireWay({ pairing, route }: { readonly pairing: Pairing; readonly route: Route }) {
  const { elements, isHard } = useMemo(() => {
    const paths = pathsOf(pairing, route);
    const carried = paths.flatMap((path) => path.elements.filter(({ role }) => role === 'carries'));
    return {
      elements: [...new Map(carried.map((element) => [element.ref, element])).values()],
      isHard: paths.length > 0 && paths.every(({ hard }) => hard),
    };
  }, [pairing, route]);
  const { conductor } = route;
  return (
    <section className="stage wire-way" aria-label="The conductor">
      <header className="stage-head">
        {isHard ? (
          <span>one conductor, no firmware in series</span>
        ) : (
          <span className="bad">declared a hard wire, but something programmable is in series</span>
        )}
        <span className="soft">
          {[conductor?.size, conductor?.colour, conductor?.insulation].filter(Boolean).join(' · ')}
        </span>
      </header>
      <ol>
        {elements.map(({ ref, kind, why, programmable }) => (
          <li key={ref} title={why} data-programmable={programmable || undefined}>
            <span className="mono">{ref}</span>
            <span className="soft">{kind}</span>
          </li>
        ))}
      </ol>
    </section>
  );
}
