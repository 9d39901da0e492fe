import type { Pairing } from '../../../model/index.ts';
import { change } from '../../actions/change.ts';
import { select } from '../../actions/navigate.ts';
import { EntryField } from '../../parts/route-editor/EntryField.tsx';
import type { Entry } from '../../parts/route-editor/entry.ts';
import { useWorkbenchStore } from '../../state/store.ts';
import { FindingList, NO_BADGES } from './Badge.tsx';
import { colourOf, purposeOf, sizeText } from './circuit-columns.ts';
import type { FindingsInPlace } from './findings-in-place.ts';
import type { PlanIndex } from './plan-index.ts';
import { editNode, editSegment, nodeOf, segmentOf } from './segment-edits.ts';
import { circuitSubject, nodeSubject } from './selected.ts';
import { Swatch } from './Swatch.tsx';

interface PartDetailProps {
  readonly index: PlanIndex;
  readonly pairing: Pairing;
  readonly findings: FindingsInPlace;
  readonly id: string;
}

/** A figure above zero; the unit only says what is asked for. */
function readAbove(unit: string): (text: string) => Entry<number> {
  return (text) => {
    const value = Number(text.trim().replace(',', '.'));
    return text.trim() !== '' && Number.isFinite(value) && value > 0
      ? { ok: true, value }
      : { ok: false, reason: `write ${unit} above zero, such as 0.5` };
  };
}

function readNumber(text: string): Entry<number> {
  const value = Number(text.trim().replace('−', '-').replace(',', '.'));
  return text.trim() !== '' && Number.isFinite(value)
    ? { ok: true, value }
    : { ok: false, reason: 'write a number, such as 85' };
}

function readWords(most: number): (text: string) => Entry<string> {
  return (text) =>
    text.trim() !== '' && text.trim().length <= most
      ? { ok: true, value: text.trim() }
      : { ok: false, reason: `write 1 to ${most} letters` };
}

const COVERINGS = ['convoluted tube', 'heat-resistant sleeve', 'cloth tape', 'tape', 'braid', 'sleeve', 'conduit'];

/** One segment: its length, covering and zone to be changed in place, its bundle, and what runs in it. */
export function SegmentDetail({ index, pairing, findings, id }: PartDetailProps) {
  const store = useWorkbenchStore();
  const segment = segmentOf(pairing.map, id);
  const row = index.plan.segments.find((one) => one.segment === id);
  if (!segment || !row) return null;
  const write = (field: Parameters<typeof editSegment>[2], words: string) => (value: number | string | undefined) => {
    change(store, `${words} of segment ${id}`, editSegment(pairing.map, id, field, value));
  };
  return (
    <article className="detail" aria-label={`Segment ${id}`}>
      <header>
        <h2>Segment {id}</h2>
        <p>
          {[segment.from, segment.to].map((node, at) => (
            <span key={node}>
              {at === 0 ? 'from ' : ' to '}
              <button type="button" className="link-button" onClick={() => select(store, nodeSubject(node))}>
                {node}
              </button>
            </span>
          ))}
        </p>
      </header>
      <FindingList findings={findings.segments.get(id) ?? NO_BADGES} />
      <div className="part-fields">
        <EntryField
          label="Length"
          text={String(segment.lengthM)}
          suffix="m"
          isNumber
          isFirstField
          read={readAbove('metres')}
          onEntry={write('lengthM', 'length')}
        />
        <EntryField
          label="Covering"
          text={segment.covering ?? ''}
          placeholder="none stated"
          isOptional
          suggestions={COVERINGS}
          read={readWords(64)}
          onEntry={write('covering', 'covering')}
        />
        <EntryField
          label="Hottest there"
          text={segment.maxC === undefined ? '' : String(segment.maxC)}
          placeholder={`assumed ${index.plan.settings.ambientC}`}
          suffix="°C"
          isNumber
          isOptional
          read={readNumber}
          onEntry={write('maxC', 'zone temperature')}
        />
        <EntryField
          label="Clamp every"
          text={segment.clampEveryM === undefined ? '' : String(segment.clampEveryM)}
          placeholder="not stated"
          suffix="m"
          isNumber
          isOptional
          read={readAbove('metres')}
          onEntry={write('clampEveryM', 'clamps')}
        />
      </div>
      <dl className="facts">
        <dt>Bundle</dt>
        <dd>
          {row.bundleMm.toFixed(1)} mm, {row.coveredMm.toFixed(1)} mm with its covering
        </dd>
        <dt>Passes</dt>
        <dd>
          {row.holeMm === null ? (
            'no hole at its ends'
          ) : row.passes === false ? (
            <span className="bad">does not pass the hole of {row.holeMm} mm</span>
          ) : (
            `the hole of ${row.holeMm} mm`
          )}
        </dd>
        <dt>Bend radius</dt>
        <dd>at least {row.bendRadiusMm.toFixed(0)} mm</dd>
        <dt>Weight</dt>
        <dd>{row.weightG.toFixed(0)} g</dd>
      </dl>
      <CircuitList title="Runs in it" index={index} keys={index.bySegment.get(id) ?? []} />
    </article>
  );
}

const KIND_WORDS = {
  connector: 'connector',
  splice: 'place of a splice',
  branch: 'branch',
  stud: 'stud',
  part: 'part',
  'pass-through': 'pass-through',
} as const;

/** One node: what it holds, its hole, its place on the drawing, and what runs through it. */
export function NodeDetail({ index, pairing, findings, id }: PartDetailProps) {
  const store = useWorkbenchStore();
  const node = nodeOf(pairing.map, id);
  if (!node) return null;
  const write = (field: Parameters<typeof editNode>[2], words: string) => (value: number | string | undefined) => {
    change(store, `${words} of node ${id}`, editNode(pairing.map, id, field, value));
  };
  const splices = index.plan.splices.filter((splice) => splice.node === id);
  return (
    <article className="detail" aria-label={`Node ${id}`}>
      <header>
        <h2>
          {id} <span className="soft">{KIND_WORDS[node.kind]}</span>
        </h2>
        <p>{[node.connector, node.ground, node.part].filter(Boolean).join(' · ')}</p>
      </header>
      <FindingList findings={findings.nodes.get(id) ?? NO_BADGES} />
      <div className="part-fields">
        <EntryField
          label="Title"
          text={node.title ?? ''}
          isOptional
          isFirstField
          read={readWords(500)}
          onEntry={write('title', 'title')}
        />
        {node.kind === 'pass-through' ? (
          <EntryField
            label="Hole"
            text={node.holeMm === undefined ? '' : String(node.holeMm)}
            placeholder="not stated"
            suffix="mm"
            isNumber
            isOptional
            read={readAbove('millimetres')}
            onEntry={write('holeMm', 'hole')}
          />
        ) : null}
        <EntryField
          label="Zone"
          text={node.zone ?? ''}
          placeholder="not stated"
          isOptional
          read={readWords(64)}
          onEntry={write('zone', 'zone')}
        />
        {(['x', 'y'] as const).map((axis) => (
          <EntryField
            key={axis}
            label={axis === 'x' ? 'Drawn across' : 'Drawn down'}
            text={node[axis] === undefined ? '' : String(node[axis])}
            placeholder="by the tool"
            isNumber
            isOptional
            read={readNumber}
            onEntry={write(axis, 'place')}
          />
        ))}
      </div>
      {splices.length === 0 ? null : (
        <section aria-label="Splices here">
          <h3>Splices here</h3>
          <ul className="bullets">
            {splices.map(({ splice, conductors }) => (
              <li key={splice}>
                {splice}: {conductors.map(({ circuit }) => circuit).join(', ')}
              </li>
            ))}
          </ul>
        </section>
      )}
      <CircuitList title="Runs through it" index={index} keys={index.byNode.get(id) ?? []} />
    </article>
  );
}

/** Circuits to choose from. */
export function CircuitList({
  title,
  index,
  keys,
}: {
  readonly title: string;
  readonly index: PlanIndex;
  readonly keys: readonly string[];
}) {
  const store = useWorkbenchStore();
  return (
    <section aria-label={title}>
      <h3>
        {title}: {keys.length} {keys.length === 1 ? 'circuit' : 'circuits'}
      </h3>
      <ul className="circuit-list">
        {keys.slice(0, LISTED).map((key) => {
          const shown = index.byKey.get(key)!;
          const { circuit, size } = shown.conductor;
          return (
            <li key={key}>
              <button type="button" data-circuit={circuit.id} onClick={() => select(store, circuitSubject(circuit.id))}>
                <span className="mono">{circuit.id}</span>
                <span className="circuit-purpose">{purposeOf(shown)}</span>
                <Swatch colour={colourOf(shown)} />
                <span className="number">{sizeText(size)}</span>
              </button>
            </li>
          );
        })}
      </ul>
      {keys.length > LISTED ? <p className="soft">and {keys.length - LISTED} more: filter the table.</p> : null}
    </section>
  );
}

/** More than this in one list nobody reads. */
const LISTED = 200;
