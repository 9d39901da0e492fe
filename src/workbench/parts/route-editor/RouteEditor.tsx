import { useDeferredValue, useMemo } from 'react';
import { Conductor, findFunction, type Carrier, type Pairing, type Route } from '../../../model/index.ts';
import { analyseRoute, routeSentence } from '../../../translate/index.ts';
import { change } from '../../actions/change.ts';
import { select } from '../../actions/navigate.ts';
import '../place.css';
import { useWorkbenchStore } from '../../state/store.ts';
import { choicesOfEnds, choicesOfFunctions, pinsOf } from './choices.ts';
import { Combo } from './Combo.tsx';
import { changedRoute, deleteEdits, duplicateEdits, routeEdits, type RouteChange } from './edits.ts';
import { EntryField } from './EntryField.tsx';
import { routeFault, type Entry } from './entry.ts';
import { LossFields } from './LossFields.tsx';
import { PathList } from './PathList.tsx';
import './route-editor.css';
import { RouteFindings } from './RouteFindings.tsx';
import { StepsEditor } from './StepsEditor.tsx';
import { WhenFields } from './WhenFields.tsx';

const CARRIERS: readonly (readonly [Carrier, string])[] = [
  ['hard-wire', 'hard wire'],
  ['interface', 'interface'],
  ['bus', 'bus'],
];

const anyText = (text: string): Entry<string> => ({ ok: true, value: text });

/** All of one route, to read and to change. Every entry is one change that can be undone; only what the schema takes is taken. */
export function RouteEditor({ pairing, route }: { readonly pairing: Pairing; readonly route: Route }) {
  const store = useWorkbenchStore();
  const analysis = useMemo(() => analyseRoute(pairing, route), [pairing, route]);
  // The lower half is drawn a moment later, so that selecting a route never holds up a frame.
  const isWhole = useDeferredValue(true, false);
  const apply = (title: string, keys: RouteChange): string | null => {
    const fault = routeFault(changedRoute(route, keys));
    if (fault !== null) return fault;
    const edits = routeEdits(route, keys);
    if (edits.length > 0) change(store, `${title} (${route.id})`, edits);
    return null;
  };
  const duplicate = (): void => {
    const { id, edits } = duplicateEdits(pairing, route);
    if (change(store, `duplicate ${route.id}`, edits)) select(store, `route:${id}`);
  };
  const remove = (): void => {
    if (change(store, `delete ${route.id}`, deleteEdits(pairing, route))) select(store, route.to);
  };
  return (
    <article className="detail route-editor" aria-label={`Route ${route.id}`}>
      <header>
        <h2 className="mono">{route.id}</h2>
        <EntryField
          label="Title"
          isFirstField
          isOptional
          text={route.title ?? ''}
          placeholder={findFunction(route.function)?.title ?? route.id}
          read={anyText}
          onEntry={(title) => apply('change the title', { title })}
        />
        <p className="route-sentence">{routeSentence(analysis)}</p>
      </header>
      <RouteFindings route={route} />
      <section className="ends-section">
        <span className="entry">
          <span className="entry-label">function</span>
          <Combo
            label="Function"
            value={route.function ?? ''}
            choices={choicesOfFunctions()}
            isOptional
            onChoose={(value) => apply('change the function', { function: value ?? undefined })}
          />
        </span>
        <Ends pairing={pairing} route={route} onChange={apply} />
        <Way pairing={pairing} route={route} onChange={apply} />
      </section>
      <StepsEditor route={route} analysis={analysis} onSteps={(title, steps) => apply(title, { steps: [...steps] })} />
      {isWhole ? (
        <>
          <LossFields route={route} target={analysis.target} onChange={apply} />
          <WhenFields pairing={pairing} when={route.when} onWhen={(when) => apply('change the builds', { when })} />
          <ConductorFields route={route} onChange={apply} />
          <section>
            <label className="tick">
              <input
                type="checkbox"
                checked={route.verifySource === true}
                onChange={() => apply('change verification', { verifySource: route.verifySource ? undefined : true })}
              />
              verify counter and checksum of the source
            </label>
            <EntryField
              label="note"
              isLong
              isOptional
              text={route.note ?? ''}
              read={anyText}
              onEntry={(note) => apply('change the note', { note })}
            />
          </section>
          <PathList pairing={pairing} route={route} />
          <div className="actions">
            <button type="button" className="button" onClick={duplicate}>
              Duplicate
            </button>
            <button type="button" className="button danger" onClick={remove}>
              Delete the route
            </button>
          </div>
        </>
      ) : null}
    </article>
  );
}

interface PartProps {
  readonly pairing: Pairing;
  readonly route: Route;
  readonly onChange: (title: string, change: RouteChange) => string | null;
}

function Ends({ pairing, route, onChange }: PartProps) {
  return (
    <>
      <span className="entry">
        <span className="entry-label">from</span>
        <ul className="sources">
          {route.from.map((ref, at) => (
            <li key={ref}>
              <span className="mono" title={ref}>
                {ref}
              </span>
              <button
                type="button"
                className="button quiet small"
                aria-label={`Take out source ${ref}`}
                onClick={() => onChange('take out a source', { from: route.from.filter((_, index) => index !== at) })}
              >
                ×
              </button>
            </li>
          ))}
          <li>
            <Combo
              label="Add a source"
              value=""
              placeholder="Add a source…"
              clearsOnChoose
              choices={choicesOfEnds(pairing, 'from')}
              onChoose={(ref) => {
                if (ref === null) return null;
                return route.from.includes(ref)
                  ? 'it is a source already'
                  : onChange('add a source', { from: [...route.from, ref] });
              }}
            />
          </li>
        </ul>
      </span>
      <span className="entry">
        <span className="entry-label">to</span>
        <Combo
          label="To"
          value={route.to}
          choices={choicesOfEnds(pairing, 'to')}
          onChoose={(to) => (to === null ? 'a route has a target' : onChange('change the target', { to }))}
        />
      </span>
    </>
  );
}

function Way({ pairing, route, onChange }: PartProps) {
  const owner = route.by === undefined ? undefined : pairing.interfaceModules.get(route.by);
  const wireSources = route.from.filter((ref) => pairing.find(ref)?.kind === 'wire');
  const parts = pairing.map.harness?.parts ?? [];
  const setCarrier = (carrier: Carrier): string | null =>
    carrier === 'interface'
      ? onChange('change the carrier', { carrier, by: route.by ?? pairing.map.interfaceModules[0]?.id })
      : onChange('change the carrier', { carrier, by: undefined, enters: undefined, leaves: undefined });
  return (
    <>
      <div className="entry" role="group" aria-label="Carrier">
        <span className="entry-label">carrier</span>
        <span className="segments">
          {CARRIERS.map(([carrier, words]) => (
            <button
              key={carrier}
              type="button"
              aria-pressed={route.carrier === carrier}
              onClick={() => setCarrier(carrier)}
            >
              {words}
            </button>
          ))}
        </span>
      </div>
      {route.carrier === 'interface' ? (
        <div className="field-pair">
          <Select
            label="by"
            value={route.by ?? ''}
            choices={[...pairing.interfaceModules.keys()]}
            onChoose={(by) => onChange('change the interface module', { by, enters: undefined, leaves: undefined })}
          />
          {wireSources.map((ref, at) => (
            <Select
              key={ref}
              label={wireSources.length === 1 ? 'enters at' : `enters at (${ref})`}
              value={route.enters?.[at] ?? ''}
              choices={pinsOf(owner, 'in')}
              onChoose={(pin) => {
                const enters = wireSources.map((_, index) => (index === at ? pin : route.enters?.[index]));
                const given = enters.filter((each) => each !== undefined);
                return onChange('change the pin', { enters: given.length === 0 ? undefined : given });
              }}
            />
          ))}
          {pairing.find(route.to)?.kind === 'wire' ? (
            <Select
              label="leaves at"
              value={route.leaves ?? ''}
              choices={pinsOf(owner, 'out')}
              onChoose={(leaves) => onChange('change the pin', { leaves })}
            />
          ) : null}
        </div>
      ) : null}
      {route.carrier === 'hard-wire' && parts.length > 0 ? (
        <fieldset className="when-axis">
          <legend>through the parts</legend>
          {parts.map(({ id, title }) => {
            const isOn = route.via?.includes(id) === true;
            return (
              <label key={id} className="tick" title={title}>
                <input
                  type="checkbox"
                  checked={isOn}
                  onChange={() => {
                    const via = isOn ? route.via!.filter((each) => each !== id) : [...(route.via ?? []), id];
                    onChange('change the parts on the way', { via: via.length === 0 ? undefined : via });
                  }}
                />
                {id}
              </label>
            );
          })}
        </fieldset>
      ) : null}
    </>
  );
}

function Select({
  label,
  value,
  choices,
  onChoose,
}: {
  readonly label: string;
  readonly value: string;
  readonly choices: readonly string[];
  readonly onChoose: (value: string | undefined) => string | null;
}) {
  return (
    <span className="entry">
      <label>
        {label}
        <select
          className="field"
          value={value}
          onChange={(event) => onChoose(event.target.value === '' ? undefined : event.target.value)}
        >
          <option value="">not said</option>
          {choices.map((choice) => (
            <option key={choice} value={choice}>
              {choice}
            </option>
          ))}
        </select>
      </label>
    </span>
  );
}

const CONDUCTOR_TEXTS = [
  ['size', 'size'],
  ['colour', 'colour'],
  ['insulation', 'insulation'],
] as const;

function ConductorFields({ route, onChange }: Omit<PartProps, 'pairing'>) {
  if (route.carrier !== 'hard-wire' && route.conductor === undefined) return null;
  const { conductor } = route;
  return (
    <section>
      <h3>Conductor</h3>
      <div className="field-pair">
        {CONDUCTOR_TEXTS.map(([key, label]) => (
          <EntryField
            key={key}
            label={label}
            isOptional
            text={conductor?.[key] ?? ''}
            read={(text): Entry<string> => {
              const result = Conductor.safeParse({ [key]: text.trim() });
              return result.success
                ? { ok: true, value: text.trim() }
                : { ok: false, reason: result.error.issues[0]!.message };
            }}
            onEntry={(value) => {
              const { [key]: _old, ...rest } = conductor ?? {};
              const next = value === undefined ? rest : { ...rest, [key]: value };
              return onChange('change the conductor', { conductor: Object.keys(next).length === 0 ? undefined : next });
            }}
          />
        ))}
      </div>
    </section>
  );
}
