import { KEY_STATES, type Feed, type SideName } from '../../../model/index.ts';
import { select } from '../../actions/navigate.ts';
import { useWorkbench, useWorkbenchStore } from '../../state/store.ts';

/** Key states a feed is live in by its kind, where it does not say (common practice). */
const USUAL: Readonly<Record<Feed['kind'], readonly string[]>> = {
  battery: ['off', 'accessory', 'run', 'start'],
  accessory: ['accessory', 'run'],
  ignition: ['run', 'start'],
  start: ['start'],
  switched: [],
};

/** Feeds with their fuses and the key states they are live in; ground points. */
export function Supplies({ side }: { readonly side: SideName }) {
  const store = useWorkbenchStore();
  const platform = useWorkbench((state) => state.open!.history.documents[side]);
  const selection = useWorkbench((state) => state.selection);
  return (
    <div className="stack">
      <table className="grid-table">
        <caption>Feeds</caption>
        <thead>
          <tr>
            <th scope="col">Feed</th>
            <th scope="col">Title</th>
            <th scope="col">Kind</th>
            {KEY_STATES.map((state) => (
              <th key={state} scope="col">
                {state}
              </th>
            ))}
            <th scope="col" className="number">
              Fuse, A
            </th>
            <th scope="col" className="number">
              Load, A
            </th>
            <th scope="col">From</th>
            <th scope="col">Cavity</th>
            <th scope="col">Conductor</th>
          </tr>
        </thead>
        <tbody>
          {platform.feeds.map((feed) => {
            const subject = `feed:${side}:${feed.id}`;
            const live: readonly string[] = feed.liveIn ?? USUAL[feed.kind];
            return (
              <tr key={feed.id} data-current={selection === subject} onClick={() => select(store, subject)}>
                <th scope="row" className="mono">
                  {feed.id}
                </th>
                <td>{feed.title ?? ''}</td>
                <td>
                  {feed.kind}
                  {feed.liveIn ? '' : ' (states assumed from the kind)'}
                </td>
                {KEY_STATES.map((state) => (
                  <td key={state}>{live.includes(state) ? 'live' : '–'}</td>
                ))}
                <td className="number">{feed.fuseA ?? 'none'}</td>
                <td className="number">{feed.loadA ?? ''}</td>
                <td className="mono">{feed.from ?? ''}</td>
                <td className="mono">{feed.at ? `${feed.at.connector}/${feed.at.cavity}` : ''}</td>
                <td className="mono">{[feed.conductor?.size, feed.conductor?.colour].filter(Boolean).join(' ')}</td>
              </tr>
            );
          })}
        </tbody>
      </table>
      <table className="grid-table">
        <caption>Grounds</caption>
        <thead>
          <tr>
            {['Ground', 'Title', 'Kind', 'Of', 'Stud', 'Torque, N·m', 'Cavity'].map((title) => (
              <th key={title} scope="col">
                {title}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {platform.grounds.map((ground) => {
            const subject = `ground:${side}:${ground.id}`;
            return (
              <tr key={ground.id} data-current={selection === subject} onClick={() => select(store, subject)}>
                <th scope="row" className="mono">
                  {ground.id}
                </th>
                <td>{ground.title ?? ''}</td>
                <td>{ground.kind ?? ''}</td>
                <td className="mono">{ground.of ?? ''}</td>
                <td>
                  {[ground.stud, ground.studMm === undefined ? null : `M${ground.studMm}`].filter(Boolean).join(', ')}
                </td>
                <td className="number">{ground.torqueNm ?? ''}</td>
                <td className="mono">{ground.at ? `${ground.at.connector}/${ground.at.cavity}` : ''}</td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </div>
  );
}
