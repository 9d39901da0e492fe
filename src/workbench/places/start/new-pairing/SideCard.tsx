import type { SideName } from '../../../../model/index.ts';
import { useWorkbenchStore } from '../../../state/store.ts';
import { changeSide, chooseDbcFor, choosePlatformFor } from './adding.ts';
import type { SideContent, SideDraft } from './draft.ts';
import { SourceRow } from './SourceRow.tsx';

const ROLES: Readonly<Record<SideName, { readonly title: string; readonly says: string }>> = {
  host: { title: 'Host', says: 'the chassis that stays' },
  donor: { title: 'Donor', says: 'where the powertrain comes from' },
};

function counted(count: number, one: string, many: string): string {
  return `${count} ${count === 1 ? one : many}`;
}

function Counts({ content }: { readonly content: SideContent }) {
  const { buses, modules, messages, wires } = content.platform;
  const signals = messages.reduce((sum, message) => sum + message.signals.length, 0);
  return (
    <p className="soft number-line">
      {[
        counted(buses.length, 'bus', 'buses'),
        counted(modules.length, 'module', 'modules'),
        counted(messages.length, 'message', 'messages'),
        counted(signals, 'signal', 'signals'),
        counted(wires.length, 'wire', 'wires'),
      ].join(' · ')}
    </p>
  );
}

/** What one side is made of: a platform file, DBC files, what was read of them. */
export function SideCard({
  side,
  draft,
  content,
}: {
  readonly side: SideName;
  readonly draft: SideDraft;
  readonly content: SideContent | null;
}) {
  const store = useWorkbenchStore();
  const { title, says } = ROLES[side];
  return (
    <section className="side-card" data-side={side} data-drop-side={side} aria-labelledby={`side-${side}`}>
      <h2 id={`side-${side}`}>
        <span className="side-mark" data-side={side}>
          {side}
        </span>{' '}
        {title} <span className="soft">{says}</span>
      </h2>
      {draft.file ? (
        <div className="side-file">
          <div>
            <strong>{draft.file.platform.title}</strong>
            <p className="mono soft">{draft.file.path}</p>
          </div>
          <button
            type="button"
            className="button small"
            aria-label={`Take the ${side} platform file away`}
            onClick={() => changeSide(store, side, { file: null })}
          >
            Take away
          </button>
        </div>
      ) : null}
      {draft.file === null && draft.sources.length > 0 ? (
        <label className="labelled">
          Title of the new platform
          <input
            className="field"
            value={draft.title}
            placeholder={`${title} platform`}
            onChange={(event) => changeSide(store, side, { title: event.target.value })}
          />
        </label>
      ) : null}
      {draft.sources.length > 0 ? (
        <ul className="source-list" aria-label={`DBC files of the ${side}`}>
          {draft.sources.map((source) => (
            <SourceRow
              key={source.key}
              source={source}
              onChange={(change) =>
                changeSide(store, side, {
                  sources: draft.sources.map((each) => (each.key === source.key ? { ...each, ...change } : each)),
                })
              }
              onRemove={() =>
                changeSide(store, side, { sources: draft.sources.filter(({ key }) => key !== source.key) })
              }
            />
          ))}
        </ul>
      ) : null}
      {content ? (
        <Counts content={content} />
      ) : (
        <p className="soft">
          Choose a platform that is described already, or read the DBC files of its buses. Files can be dropped here.
        </p>
      )}
      {content && content.notes.length > 0 ? (
        <details>
          <summary>
            {content.notes.length} {content.notes.length === 1 ? 'note' : 'notes'} on what was taken over
          </summary>
          <ul className="bullets">
            {content.notes.slice(0, 100).map((note, index) => (
              <li key={index}>{note}</li>
            ))}
          </ul>
        </details>
      ) : null}
      <div className="actions">
        <button type="button" className="button" onClick={() => void choosePlatformFor(store, side)}>
          {draft.file ? 'Another platform…' : 'Choose a platform…'}
        </button>
        <button type="button" className="button" onClick={() => void chooseDbcFor(store, side)}>
          {draft.sources.length > 0 ? 'Another DBC file…' : 'Read a DBC file…'}
        </button>
      </div>
    </section>
  );
}
