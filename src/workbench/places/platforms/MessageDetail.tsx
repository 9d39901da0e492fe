import { FUNCTIONS, type Edit, type Message, type Signal, type SideName } from '../../../model/index.ts';
import { change } from '../../actions/change.ts';
import { select } from '../../actions/navigate.ts';
import { pairingOf } from '../../state/derived.ts';
import { useWorkbench, useWorkbenchStore } from '../../state/store.ts';
import { BitGrid } from './BitGrid.tsx';
import { signalShade } from './shade.ts';

interface MessageDetailProps {
  readonly side: SideName;
  readonly message: Message;
  readonly signalId: string | null;
}

function protectionWords({ protection }: Message): string {
  if (!protection) return 'none';
  return [
    protection.counter
      ? `counter ${protection.counter}${protection.counterModulo ? ` modulo ${protection.counterModulo}` : ''}`
      : null,
    protection.checksum
      ? `checksum ${protection.checksum} (${protection.algorithm ?? 'algorithm not stated'}${protection.dataId === undefined ? '' : `, data id ${protection.dataId}`})`
      : null,
  ]
    .filter(Boolean)
    .join(', ');
}

/** One message: its facts, its bit layout, its signals. */
export function MessageDetail({ side, message, signalId }: MessageDetailProps) {
  const store = useWorkbenchStore();
  const pairing = useWorkbench((state) => pairingOf(state.open!.history.documents));
  const setSignal = (
    signal: Signal,
    title: string,
    key: 'function' | 'need',
    value: string | boolean | undefined,
  ): void => {
    const path = ['messages', { id: message.id }, 'signals', { id: signal.id }, key];
    const edit: Edit =
      value === undefined ? { do: 'remove', in: side, path } : { do: 'set', in: side, path, to: value };
    if (value !== signal[key]) change(store, title, [edit]);
  };
  const facts: readonly (readonly [string, string])[] = [
    ['Bus', message.bus],
    [
      'Frame id',
      `${message.frameId}, ${message.idFormat === 'standard' ? '11 bits' : '29 bits'}${message.frameFormat === 'fd' ? ', FD' : ''}`,
    ],
    ['Length', `${message.length} bytes`],
    ['Sender', [message.sender ?? 'unknown', ...(message.otherSenders ?? [])].join(', ')],
    [
      'Cycle time',
      message.cycleMs === undefined ? 'not stated' : `${message.cycleMs} ms${message.send ? `, ${message.send}` : ''}`,
    ],
    ['Stale after', message.staleAfterMs === undefined ? 'not stated' : `${message.staleAfterMs} ms`],
    ['Protection', protectionWords(message)],
    ['Documents', message.documents?.join(', ') ?? 'none'],
  ];
  return (
    <section className="pane-detail" tabIndex={0} aria-label={`Message ${message.id}`}>
      <h2>
        {message.id} <span className="soft">{message.title ?? ''}</span>
      </h2>
      {message.comment ? <p className="soft">{message.comment}</p> : null}
      <dl className="facts">
        {facts.map(([name, value]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{value}</dd>
          </div>
        ))}
      </dl>
      {message.length > 0 ? (
        <BitGrid side={side} message={message} signalId={signalId} />
      ) : (
        <p className="soft">The frame has no data bytes.</p>
      )}
      <div className="table-scroll" tabIndex={0} role="region" aria-label="Signals">
        <table className="grid-table">
          <thead>
            <tr>
              <th scope="col">Signal</th>
              <th scope="col">Bits</th>
              <th scope="col">Number</th>
              <th scope="col" className="number">
                Factor
              </th>
              <th scope="col" className="number">
                Offset
              </th>
              <th scope="col">Unit</th>
              <th scope="col" className="number">
                Range
              </th>
              <th scope="col">States</th>
              <th scope="col">Readers</th>
              <th scope="col">Function</th>
              <th scope="col">Needed</th>
              <th scope="col">Routes</th>
            </tr>
          </thead>
          <tbody>
            {message.signals.map((signal, at) => {
              const ref = `${side}:${message.id}.${signal.id}`;
              const routes = [...(pairing.routesTo.get(ref) ?? []), ...(pairing.routesFrom.get(ref) ?? [])];
              return (
                <tr key={signal.id} data-current={signal.id === signalId} onClick={() => select(store, ref)}>
                  <th scope="row">
                    <span className="swatch" style={{ background: signalShade(at) }} aria-hidden="true">
                      {at + 1}
                    </span>{' '}
                    {signal.id}
                  </th>
                  <td className="mono">
                    {signal.bits.start}, {signal.bits.length}, {signal.bits.order}
                    {signal.multiplexed
                      ? `, by ${signal.multiplexed.by}=${signal.multiplexed.on.map((on) => (Array.isArray(on) ? on.join('…') : on)).join(',')}`
                      : ''}
                  </td>
                  <td>{signal.number}</td>
                  <td className="number">{String(signal.factor)}</td>
                  <td className="number">{String(signal.offset)}</td>
                  <td>{signal.unit}</td>
                  <td className="number">{signal.range ? `${signal.range[0]} … ${signal.range[1]}` : ''}</td>
                  <td
                    title={Object.entries(signal.states ?? {})
                      .map(([raw, label]) => `${raw} ${label}`)
                      .join('\n')}
                  >
                    {signal.states ? Object.keys(signal.states).length : ''}
                  </td>
                  <td className="mono">{signal.readers?.join(', ') ?? ''}</td>
                  <td>
                    <select
                      className="field narrow"
                      aria-label={`Function of ${signal.id}`}
                      value={signal.function ?? ''}
                      onChange={(event) =>
                        setSignal(signal, `give ${signal.id} its function`, 'function', event.target.value || undefined)
                      }
                    >
                      <option value="">–</option>
                      {[...FUNCTIONS.values()].map(({ id, title }) => (
                        <option key={id} value={id}>
                          {title}
                        </option>
                      ))}
                    </select>
                  </td>
                  <td>
                    <select
                      className="field"
                      aria-label={`Whether ${signal.id} is needed`}
                      value={signal.need === undefined ? '' : signal.need ? 'yes' : 'no'}
                      onChange={(event) =>
                        setSignal(
                          signal,
                          `say whether ${signal.id} is needed`,
                          'need',
                          event.target.value === '' ? undefined : event.target.value === 'yes',
                        )
                      }
                    >
                      <option value="">derived</option>
                      <option value="yes">yes</option>
                      <option value="no">no</option>
                    </select>
                  </td>
                  <td className="mono">{routes.map(({ id }) => id).join(', ')}</td>
                </tr>
              );
            })}
          </tbody>
        </table>
      </div>
    </section>
  );
}
