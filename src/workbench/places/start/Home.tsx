import { runCommand } from '../../actions/commands.ts';
import { goTo } from '../../actions/navigate.ts';
import { openMap } from '../../actions/open.ts';
import { keysText } from '../../shell/keys.ts';
import { derivationOf, pairingOf } from '../../state/derived.ts';
import { progressOf } from '../../state/progress.ts';
import { useWorkbench, useWorkbenchStore, type OpenPairing } from '../../state/store.ts';
import { CAUTIONS } from './cautions.ts';

function when(ms: number): string {
  return new Date(ms).toLocaleString(undefined, { dateStyle: 'medium', timeStyle: 'short' });
}

function Begin() {
  const store = useWorkbenchStore();
  const sample = useWorkbench((state) => state.session?.sample ?? null);
  return (
    <section aria-labelledby="begin" className="start-part">
      <h2 id="begin">Begin</h2>
      <ul className="begin-list">
        <li>
          <button type="button" className="begin-button" onClick={() => void runCommand(store, 'new-pairing')}>
            <strong>New pairing</strong>
            <span className="soft">
              Choose or import the host and the donor platform, mark what is removed, and see what is needed.
            </span>
          </button>
        </li>
        <li>
          <button type="button" className="begin-button" onClick={() => void runCommand(store, 'open')}>
            <strong>
              Open a map… <kbd>{keysText('Mod+O')}</kbd>
            </strong>
            <span className="soft">
              A *.map.json file with its two platforms; it can also be dropped on this window.
            </span>
          </button>
        </li>
        {sample === null ? null : (
          <li>
            <button type="button" className="begin-button" onClick={() => void runCommand(store, 'open-sample')}>
              <strong>Open the sample</strong>
              <span className="soft">An invented six-cylinder powertrain in an invented light-truck chassis.</span>
            </button>
          </li>
        )}
      </ul>
    </section>
  );
}

function Recent() {
  const store = useWorkbenchStore();
  const recent = useWorkbench((state) => state.session?.recent);
  const openPath = useWorkbench((state) => state.open?.mapPath ?? null);
  return (
    <section aria-labelledby="recent" className="start-part">
      <h2 id="recent">Recent</h2>
      {recent === undefined || recent.length === 0 ? (
        <p className="soft">Maps that were opened are listed here. Begin with a new pairing, or look at the sample.</p>
      ) : (
        <ul className="recent-list">
          {recent.map(({ path, title, openedMs }) => (
            <li key={path}>
              <button
                type="button"
                className="recent-button"
                onClick={() => (path === openPath ? goTo(store, 'loom') : void openMap(store, path))}
              >
                <strong>{title}</strong>
                <span className="soft number">{path === openPath ? 'open now' : when(openedMs)}</span>
                <span className="mono soft recent-path">{path}</span>
              </button>
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}

/** What is open, and what to do next in it. */
function OpenNow({ open }: { readonly open: OpenPairing }) {
  const store = useWorkbenchStore();
  const counts = useWorkbench((state) => state.checked?.counts ?? null);
  const { documents } = open.history;
  const pairing = pairingOf(documents);
  const { needs, met } = progressOf(pairing, derivationOf(pairing));
  const findings = counts === null ? null : counts.stop + counts.fix + counts.look;
  return (
    <section aria-labelledby="open-now" className="start-part">
      <h2 id="open-now">Open now</h2>
      <dl className="facts">
        <dt>Map</dt>
        <dd>
          {documents.map.title} <span className="soft">revision {documents.map.revision}</span>
        </dd>
        <dt>Host</dt>
        <dd>{documents.host.title}</dd>
        <dt>Donor</dt>
        <dd>{documents.donor.title}</dd>
        <dt>Needs</dt>
        <dd>
          {met} of {needs} met{' '}
          {met < needs ? (
            <button type="button" className="link" onClick={() => goTo(store, 'worklist')}>
              see the {needs - met} that are open
            </button>
          ) : null}
        </dd>
        <dt>Findings</dt>
        <dd>
          {findings === null ? 'checking …' : `${findings} open`}{' '}
          {findings !== null && findings > 0 ? (
            <button type="button" className="link" onClick={() => goTo(store, 'findings')}>
              see them
            </button>
          ) : null}
        </dd>
      </dl>
    </section>
  );
}

/** Open, recent, sample, new pairing; what to know before. */
export function Home() {
  const open = useWorkbench((state) => state.open);
  return (
    <div className="start">
      <div className="start-main">
        <Begin />
        {open ? <OpenNow open={open} /> : null}
        <Recent />
      </div>
      <aside className="cautions" aria-labelledby="cautions">
        <h2 id="cautions">Before you begin</h2>
        <ul>
          {CAUTIONS.map(({ text, source }) => (
            <li key={source}>
              <p>{text}</p>
              <p className="soft">{source}</p>
            </li>
          ))}
        </ul>
        <p>
          Crossloom shows what it checked and by which rule. What is built from it is for people with the licence and
          the makers’ documents to judge.
        </p>
      </aside>
    </div>
  );
}
