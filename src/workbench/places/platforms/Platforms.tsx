import { useState } from 'react';
import { parseRef, type SideName } from '../../../model/index.ts';
import { useWorkbench } from '../../state/store.ts';
import { Connectors } from './Connectors.tsx';
import { ImportDbc } from './ImportDbc.tsx';
import { Messages } from './Messages.tsx';
import { Modules } from './Modules.tsx';
import { Supplies } from './Supplies.tsx';
import { Wires } from './Wires.tsx';
import '../../parts/grid-table.css';
import './platforms.css';

const SECTIONS = ['Modules', 'Messages', 'Wires', 'Connectors', 'Feeds and grounds', 'Import'] as const;
type SectionName = (typeof SECTIONS)[number];

/** Side and section that show a subject. */
function placeOfSubject(subject: string | null): { side: SideName; section: SectionName } | null {
  if (subject === null) return null;
  const [kind, rest] = [subject.slice(0, subject.indexOf(':')), subject.slice(subject.indexOf(':') + 1)];
  const ref = parseRef(subject) ?? parseRef(rest);
  if (!ref) return null;
  switch (kind) {
    case 'module':
    case 'bus':
      return { side: ref.side, section: kind === 'module' ? 'Modules' : 'Messages' };
    case 'connector':
      return { side: ref.side, section: 'Connectors' };
    case 'feed':
    case 'ground':
      return { side: ref.side, section: 'Feeds and grounds' };
    default:
      return { side: ref.side, section: ref.signal === null ? 'Wires' : 'Messages' };
  }
}

/** What each side has: modules and their fates, messages with bit layout, wires, connectors, feeds; DBC import. */
export default function Platforms() {
  const documents = useWorkbench((state) => state.open!.history.documents);
  const selection = useWorkbench((state) => state.selection);
  const shown = placeOfSubject(selection);
  const isWire =
    shown?.section === 'Wires' && !documents[shown.side].wires.some(({ id }) => `${shown.side}:${id}` === selection);
  const [side, setSide] = useState<SideName>(shown?.side ?? 'host');
  const [section, setSection] = useState<SectionName>(shown ? (isWire ? 'Messages' : shown.section) : 'Modules');
  const platform = documents[side];
  const counts: Readonly<Record<SectionName, number | null>> = {
    Modules: platform.modules.length,
    Messages: platform.messages.length,
    Wires: platform.wires.length,
    Connectors: platform.connectors.length,
    'Feeds and grounds': platform.feeds.length + platform.grounds.length,
    Import: null,
  };
  return (
    <div className="platforms">
      <header className="platforms-bar">
        <div role="radiogroup" aria-label="Side" className="side-switch">
          {(['host', 'donor'] as const).map((name) => (
            <label key={name} data-side={name} data-on={side === name}>
              <input type="radio" name="side" value={name} checked={side === name} onChange={() => setSide(name)} />
              {name === 'host' ? 'Host' : 'Donor'}: {documents[name].title}
            </label>
          ))}
        </div>
        <div role="tablist" aria-label="Part of the platform" className="section-tabs">
          {SECTIONS.map((name, at) => (
            <button
              key={name}
              type="button"
              role="tab"
              id={`platform-tab-${at}`}
              aria-selected={section === name}
              aria-controls="platform-panel"
              tabIndex={section === name ? 0 : -1}
              onClick={() => setSection(name)}
              onKeyDown={(event) => {
                const step = event.key === 'ArrowRight' ? 1 : event.key === 'ArrowLeft' ? -1 : 0;
                if (step === 0) return;
                const next = (at + step + SECTIONS.length) % SECTIONS.length;
                setSection(SECTIONS[next]!);
                document.getElementById(`platform-tab-${next}`)?.focus();
              }}
            >
              {name}
              {counts[name] === null ? '' : ` ${counts[name]}`}
            </button>
          ))}
        </div>
      </header>
      <div
        id="platform-panel"
        className="platforms-panel"
        role="tabpanel"
        aria-labelledby={`platform-tab-${SECTIONS.indexOf(section)}`}
        tabIndex={0}
      >
        {section === 'Modules' ? <Modules key={side} side={side} /> : null}
        {section === 'Messages' ? <Messages key={side} side={side} /> : null}
        {section === 'Wires' ? <Wires key={side} side={side} /> : null}
        {section === 'Connectors' ? <Connectors key={side} side={side} /> : null}
        {section === 'Feeds and grounds' ? <Supplies key={side} side={side} /> : null}
        {section === 'Import' ? <ImportDbc key={side} side={side} /> : null}
      </div>
    </div>
  );
}
