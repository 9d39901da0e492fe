import { useState } from 'react';
import {
  contentOfDbc,
  mergeImport,
  readDbc,
  type DbcFault,
  type ImportChange,
  type MergedImport,
} from '../../../can/index.ts';
import { sha256Hex, type Edit, type Platform, type SideName } from '../../../model/index.ts';
import { chooseFile } from '../../actions/ask.ts';
import { change } from '../../actions/change.ts';
import { attempt } from '../../actions/notices.ts';
import { useWorkbench, useWorkbenchStore } from '../../state/store.ts';

interface Preview {
  readonly file: string;
  readonly bus: string;
  readonly base: Platform;
  readonly merged: MergedImport;
  readonly faults: readonly DbcFault[];
  readonly moreFaults: number;
}

const LISTED = 200;

/** The parts of a platform that an import changes, as edits. */
function editsOf(side: SideName, before: Platform, after: Platform): Edit[] {
  return (['imports', 'buses', 'modules', 'messages'] as const).flatMap((key) =>
    before[key] === after[key] ? [] : [{ do: 'set', in: side, path: [key], to: after[key] as never } satisfies Edit],
  );
}

/** A DBC file into a bus of this side: first a preview of what changes, then the change itself, which can be undone. */
export function ImportDbc({ side }: { readonly side: SideName }) {
  const store = useWorkbenchStore();
  const platform = useWorkbench((state) => state.open!.history.documents[side]);
  const today = useWorkbench((state) => state.session!.today);
  const [bus, setBus] = useState(platform.buses[0]?.id ?? 'can');
  const [bitRate, setBitRate] = useState('500000');
  const [removeGone, setRemoveGone] = useState(false);
  const [preview, setPreview] = useState<Preview | null>(null);
  const isNew = !platform.buses.some(({ id }) => id === bus);

  const look = async (): Promise<void> => {
    const path = await chooseFile(store, 'open-dbc');
    if (path === null) return;
    const file = await store.getState().host.call('readBytes', { path });
    const bytes = Uint8Array.from(atob(file.base64), (letter) => letter.charCodeAt(0));
    const { database, faults, moreFaults } = readDbc(bytes);
    const base: Platform = isNew
      ? { ...platform, buses: [...platform.buses, { id: bus, kind: 'can', bitRate: Number(bitRate) }] }
      : platform;
    const name = path.split(/[\\/]/).at(-1)!;
    const record = { bus, file: name, sha256: sha256Hex(bytes), on: today };
    const merged = mergeImport(base, contentOfDbc(database, bus), { record, gone: removeGone ? 'remove' : 'keep' });
    setPreview({ file: name, bus, base: platform, merged, faults, moreFaults });
  };

  const accept = (): void => {
    if (!preview) return;
    if (change(store, `import ${preview.file} into ${preview.bus}`, editsOf(side, platform, preview.merged.platform)))
      setPreview(null);
  };

  return (
    <div className="stack import">
      <form
        className="pane-bar"
        onSubmit={(event) => {
          event.preventDefault();
          void attempt(store, 'The file was not read', look);
        }}
      >
        <label>
          Into the bus{' '}
          <input
            className="field"
            list="import-buses"
            value={bus}
            pattern="[A-Za-z0-9_][A-Za-z0-9_+\/\-]*"
            required
            onChange={(event) => setBus(event.target.value)}
          />
          <datalist id="import-buses">
            {platform.buses.map(({ id }) => (
              <option key={id} value={id} />
            ))}
          </datalist>
        </label>
        {isNew ? (
          <label>
            a new bus of{' '}
            <input
              className="field number"
              type="number"
              min={1000}
              max={20000000}
              value={bitRate}
              onChange={(event) => setBitRate(event.target.value)}
            />{' '}
            bit/s
          </label>
        ) : null}
        <label>
          <input type="checkbox" checked={removeGone} onChange={(event) => setRemoveGone(event.target.checked)} /> take
          out messages the file no longer has
        </label>
        <button type="submit" className="button primary">
          Choose a DBC file…
        </button>
      </form>
      <p className="soft pane-text">
        A file read again is merged by meaning: messages are known by frame id, signals by name or place; functions,
        corrected units, documents and notes that people added stay.
      </p>
      {platform.imports && platform.imports.length > 0 ? (
        <p className="soft pane-text">
          Read so far: {platform.imports.map(({ file, bus: into, on }) => `${file} into ${into} on ${on}`).join('; ')}.
        </p>
      ) : null}
      {preview ? (
        <PreviewView
          preview={preview}
          stale={preview.base !== platform}
          onAccept={accept}
          onDrop={() => setPreview(null)}
        />
      ) : null}
    </div>
  );
}

function PreviewView({
  preview,
  stale,
  onAccept,
  onDrop,
}: {
  readonly preview: Preview;
  readonly stale: boolean;
  readonly onAccept: () => void;
  readonly onDrop: () => void;
}) {
  const { merged, faults, moreFaults } = preview;
  const of = (kind: ImportChange['kind']): number => merged.changes.filter((entry) => entry.kind === kind).length;
  return (
    <section className="pane-detail" aria-label="What the import changes">
      <h2>
        {preview.file} into {preview.bus}
      </h2>
      <p>
        {of('added')} added, {of('changed')} changed, {of('renamed')} renamed, {of('gone')} gone;{' '}
        {faults.length + moreFaults} faults in the file; {merged.notes.length} notes
      </p>
      <div className="sheet-actions">
        <button
          type="button"
          className="button primary"
          disabled={stale || merged.changes.length === 0}
          onClick={onAccept}
        >
          Take it over
        </button>
        <button type="button" className="button" onClick={onDrop}>
          Leave it
        </button>
      </div>
      {stale ? <p className="bad">The platform changed meanwhile: choose the file again.</p> : null}
      {merged.changes.length === 0 ? <p>The file says nothing new.</p> : null}
      <ChangeTable
        title="Changes"
        rows={merged.changes.map(({ kind, subject, what }) => [kind, subject, what.join('; ')])}
        heads={['What', 'Subject', 'How']}
      />
      <ChangeTable
        title="Faults of the file"
        rows={faults.map(({ line, column, severity, message, mend }) => [
          `${line}:${column}`,
          severity,
          `${message} ${mend}`,
        ])}
        heads={['Line', 'Severity', 'Fault']}
      />
      <ChangeTable title="Notes" rows={merged.notes.map((note) => [note])} heads={['Note']} />
    </section>
  );
}

function ChangeTable({
  title,
  heads,
  rows,
}: {
  readonly title: string;
  readonly heads: readonly string[];
  readonly rows: readonly (readonly string[])[];
}) {
  if (rows.length === 0) return null;
  return (
    <table className="grid-table">
      <caption>{title}</caption>
      <thead>
        <tr>
          {heads.map((head) => (
            <th key={head} scope="col">
              {head}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {rows.slice(0, LISTED).map((cells, at) => (
          <tr key={at}>
            {cells.map((cell, index) => (
              <td key={index}>{cell}</td>
            ))}
          </tr>
        ))}
        {rows.length > LISTED ? (
          <tr>
            <td colSpan={heads.length}>and {rows.length - LISTED} more</td>
          </tr>
        ) : null}
      </tbody>
    </table>
  );
}
