import type { Step } from '../../../model/index.ts';
import { caseText, readCase, type Case } from './case-text.ts';
import { EntryField } from './EntryField.tsx';
import { readExact, readMs, readState, readUnit } from './entry.ts';
import { ListGrid, MapGrid, PointsGrid } from './grids.tsx';
import type { StepField, StepSurroundings } from './step-fields.ts';

interface StepFieldViewProps {
  readonly field: StepField;
  readonly step: Step;
  readonly around: StepSurroundings;
  readonly sources: readonly string[];
  readonly suffix: string;
  readonly onValue: (key: string, value: unknown) => string | null;
}

type Exact = number | string;

/** One field of a step, drawn by its kind. */
export function StepFieldView({ field, step, around, sources, suffix, onValue }: StepFieldViewProps) {
  const value = (step as unknown as Readonly<Record<string, unknown>>)[field.key];
  const set = (next: unknown): string | null => onValue(field.key, next);
  const text = value === undefined ? '' : String(value);
  const base = { label: field.label, text, isOptional: field.optional };
  switch (field.kind) {
    case 'unit':
      return (
        <EntryField {...base} placeholder={field.optional ? 'that of the target' : '1'} read={readUnit} onEntry={set} />
      );
    case 'number':
      return <EntryField {...base} isNumber suffix={suffix} read={readExact} onEntry={set} />;
    case 'ms':
      return <EntryField {...base} isNumber suffix="ms" read={(typed) => readMs(typed, 'above-zero')} onEntry={set} />;
    case 'ms-or-zero':
      return <EntryField {...base} isNumber suffix="ms" read={(typed) => readMs(typed, 'zero')} onEntry={set} />;
    case 'state':
      return <EntryField {...base} suggestions={around.targetStates} read={readState} onEntry={set} />;
    case 'source':
      if (field.optional && sources.length < 2 && value === undefined) return null;
      return (
        <span className="entry">
          <label>
            {field.label}
            <select
              className="field"
              value={text}
              onChange={(event) => set(event.target.value === '' ? undefined : Number(event.target.value))}
            >
              {field.optional ? <option value="">every source</option> : null}
              {sources.map((ref, index) => (
                <option key={index} value={index}>
                  {index + 1}: {ref}
                </option>
              ))}
            </select>
          </label>
        </span>
      );
    case 'outside':
      return (
        <span className="entry">
          <label>
            {field.label}
            <select className="field" value={text} onChange={(event) => set(event.target.value)}>
              <option value="clamp">keep the end value</option>
              <option value="refuse">no value</option>
            </select>
          </label>
        </span>
      );
    case 'numbers':
      return (
        <GridField label={field.label}>
          <ListGrid
            label={field.label}
            list={value as readonly Exact[]}
            least={1}
            suggestions={[]}
            isNumber
            read={readExact}
            fresh={Number((value as readonly Exact[]).at(-1)) + 1}
            onList={set}
          />
        </GridField>
      );
    case 'states':
      return (
        <GridField label={field.label}>
          <ListGrid
            label={field.label}
            list={value as readonly string[]}
            least={step.do === 'bands' ? 2 : 1}
            suggestions={step.do === 'bands' ? around.targetStates : around.states}
            isNumber={false}
            read={readState}
            fresh={(step.do === 'bands' ? around.targetStates : around.states)[0] ?? 'state'}
            onList={set}
          />
        </GridField>
      );
    case 'swap':
      return (
        <GridField label={field.label}>
          {[0, 1].map((at) => (
            <EntryField
              key={at}
              label={at === 0 ? 'this' : 'and this'}
              isLabelHidden
              text={(value as readonly string[])[at]!}
              suggestions={around.states}
              read={readState}
              onEntry={(next) => set((value as readonly string[]).map((old, index) => (index === at ? next : old)))}
            />
          ))}
        </GridField>
      );
    case 'state-map':
      return (
        <GridField label={field.label}>
          <MapGrid
            label={field.label}
            map={value as Readonly<Record<string, string>>}
            keyNames={around.states}
            valueNames={around.targetStates}
            read={readState}
            fresh={around.targetStates[0] ?? 'state'}
            onMap={set}
          />
        </GridField>
      );
    case 'number-map':
      return (
        <GridField label={field.label}>
          <MapGrid<Exact>
            label={field.label}
            map={value as Readonly<Record<string, Exact>>}
            keyNames={around.states}
            valueNames={[]}
            read={readExact}
            fresh={0}
            isNumber
            onMap={set}
          />
        </GridField>
      );
    case 'points':
      return (
        <GridField label={field.label}>
          <PointsGrid
            label={field.label}
            points={value as readonly (readonly [Exact, Exact])[]}
            units={step.do === 'curve' ? [step.from, step.unit] : ['', '']}
            onPoints={set}
          />
        </GridField>
      );
    case 'cases': {
      const cases = value as Readonly<Record<string, Case>>;
      return (
        <GridField label={field.label}>
          <MapGrid
            label={field.label}
            map={Object.fromEntries(Object.entries(cases).map(([key, given]) => [key, caseText(given)]))}
            keyNames={around.states}
            valueNames={[...sources.map((_, index) => `source ${index + 1}`), ...around.targetStates]}
            read={(typed) => {
              const entry = readCase(typed);
              return entry.ok ? { ok: true, value: caseText(entry.value) } : entry;
            }}
            fresh="source 1"
            onMap={(map) =>
              set(
                Object.fromEntries(
                  Object.entries(map).map(([key, typed]) => {
                    const entry = readCase(typed);
                    return [key, entry.ok ? entry.value : { state: typed }];
                  }),
                ),
              )
            }
          />
        </GridField>
      );
    }
    case 'case':
      return (
        <EntryField
          {...base}
          text={value === undefined ? '' : caseText(value as Case)}
          suggestions={[...sources.map((_, index) => `source ${index + 1}`), ...around.targetStates]}
          read={readCase}
          onEntry={set}
        />
      );
  }
}

function GridField({ label, children }: { readonly label: string; readonly children: React.ReactNode }) {
  return (
    <div className="entry wide">
      <span className="entry-label">{label}</span>
      {children}
    </div>
  );
}
