import { useId, useMemo, useState } from 'react';
import type { Pairing } from '../../../model/index.ts';
import {
  ASSUMED_AMBIENT_C,
  connectorFinder,
  fuseColour,
  FUSE_RATINGS,
  harnessSizes,
  reconsider,
  type Reconsidered,
  type SizeReason,
} from '../../../wiring/index.ts';
import { change } from '../../actions/change.ts';
import { useWorkbenchStore } from '../../state/store.ts';
import type { ShownConductor } from '../../worker/harness-protocol.ts';
import { applyTrial } from './circuit-edits.ts';
import { sizeText, voltText } from './circuit-columns.ts';
import { Gauge } from './Gauge.tsx';
import type { PlanIndex } from './plan-index.ts';
import { EMPTY_ENTRIES, readTrial, type TrialEntries } from './trial.ts';

const REASON_WORDS: Readonly<Record<SizeReason, string>> = {
  current: 'what it carries on and on, where it lies',
  fuse: 'the fuse in front, which it must bear',
  drop: 'the volts it may lose',
  terminal: 'the terminals, which accept nothing thinner',
  mechanical: 'handling: thinner breaks at crimps and clamps',
};

const LENGTH_WORDS = { segments: 'along the segments', measured: 'measured' } as const;
const CURRENT_WORDS = {
  stated: 'stated',
  pull: 'by the pull resistor',
  fuse: 'what its fuse lets through',
  assumed: 'assumed',
} as const;

const SIZES = [...harnessSizes('metric'), ...harnessSizes('awg')];

/** Size, length, current and ambient of one conductor to try: what follows from them is there at once; Apply writes it. */
export function Sizing({
  index,
  pairing,
  shown,
}: {
  readonly index: PlanIndex;
  readonly pairing: Pairing;
  readonly shown: ShownConductor;
}) {
  const store = useWorkbenchStore();
  const { conductor } = shown;
  const { circuit } = conductor;
  const [entries, setEntries] = useState<TrialEntries>(EMPTY_ENTRIES);
  // A plan that came after Apply or another edit holds what was tried: the fields show it.
  const [plannedFor, setPlannedFor] = useState(index.plan);
  if (plannedFor !== index.plan) {
    setPlannedFor(index.plan);
    setEntries(EMPTY_ENTRIES);
  }
  const around = useMemo(() => aroundOf(index, pairing, shown), [index, pairing, shown]);
  const { trial, faults } = useMemo(() => readTrial(entries, conductor), [entries, conductor]);
  const tried = useMemo(() => reconsider(conductor, trial, around), [conductor, trial, around]);
  const isTried = Object.keys(trial).length > 0;
  const application = useMemo(() => applyTrial(pairing.map, shown, trial), [pairing.map, shown, trial]);
  const set = (change: Partial<TrialEntries>): void => setEntries({ ...entries, ...change });
  const apply = (): void => {
    change(store, `size circuit ${circuit.id}: ${application.says.join(', ')}`, application.edits);
  };
  return (
    <section className="sizing" aria-label={`Size of circuit ${circuit.id}`}>
      <h3>Size, tried live</h3>
      <form
        className="sizing-fields"
        onSubmit={(event) => {
          event.preventDefault();
          if (application.edits.length > 0 && faults.size === 0) apply();
        }}
      >
        <SizeField
          value={entries.size ?? conductor.size.text}
          planned={conductor.size.text}
          by={conductor.sizeBy}
          onChange={(size) => set({ size: size === conductor.size.text ? null : size })}
        />
        <Field
          label="Length"
          unit="m"
          typed={entries.length}
          planned={conductor.lengthM === null ? '' : String(Number(conductor.lengthM.toFixed(3)))}
          says={conductor.lengthBy === null ? 'not known' : LENGTH_WORDS[conductor.lengthBy]}
          fault={faults.get('length')}
          onType={(length) => set({ length })}
        />
        <Field
          label="Current"
          unit="A"
          typed={entries.current}
          planned={String(Number(conductor.currentA.toPrecision(4)))}
          says={CURRENT_WORDS[conductor.currentBy]}
          fault={faults.get('current')}
          onType={(current) => set({ current })}
        />
        <Field
          label="Ambient"
          unit="°C"
          typed={entries.ambient}
          planned={String(conductor.ambientC)}
          says={
            conductor.ambientBy === 'segments'
              ? 'hottest segment'
              : `assumed: no segment states one (${ASSUMED_AMBIENT_C} °C)`
          }
          fault={faults.get('ambient')}
          onType={(ambient) => set({ ambient })}
        />
        <div className="sizing-field">
          <label htmlFor="trial-fuse">Fuse in line</label>
          <select
            id="trial-fuse"
            className="field"
            value={entries.fuse ?? ''}
            onChange={(event) => set({ fuse: event.target.value || null })}
          >
            <option value="">
              {circuit.fuse?.place === 'in-line' ? `${circuit.fuse.fuseA} A, as planned` : 'none added'}
            </option>
            {FUSE_RATINGS.map(({ ratingA, colour }) => (
              <option key={ratingA} value={ratingA}>
                {ratingA} A{colour === null ? '' : `, ${colour}`}
              </option>
            ))}
          </select>
          <span className="soft">{circuit.fuse?.place === 'feed' ? `${circuit.fuse.id} in front` : ''}</span>
        </div>
        <div className="sizing-actions">
          <button type="submit" className="button primary" disabled={application.edits.length === 0 || faults.size > 0}>
            Apply
          </button>
          <button
            type="button"
            className="button"
            disabled={entries === EMPTY_ENTRIES}
            onClick={() => setEntries(EMPTY_ENTRIES)}
          >
            As planned
          </button>
          <span className="soft">
            {application.says.length === 0
              ? 'Try a value: nothing is written before Apply.'
              : `Writes ${application.says.join('; ')}.`}
          </span>
        </div>
      </form>
      <Results tried={tried} planned={isTried ? reconsider(conductor, {}, around) : null} />
      <p className="soft sizing-source">
        {tried.size.text}: {Number((tried.size.ohmPerM20C * 1000).toPrecision(4))} mΩ/m at 20 °C,{' '}
        {tried.size.resistanceSource} ({tried.size.resistanceProvenance}); copper at {tried.ambientC} °C for the drop. A
        planning aid: the terminal’s and insulation’s own sheets, local codes and a qualified person decide.
      </p>
    </section>
  );
}

function aroundOf(index: PlanIndex, pairing: Pairing, { conductor }: ShownConductor) {
  const { circuit } = conductor;
  const group = circuit.twistGroup === null ? [] : (index.byTwist.get(circuit.twistGroup) ?? []);
  return {
    loop: conductor.loop.flatMap((id) => index.byId.get(id)?.conductor ?? []),
    twisted: group.filter((key) => key !== circuit.key).flatMap((key) => index.byKey.get(key)?.conductor ?? []),
    find: connectorFinder(pairing),
    settings: index.plan.settings,
  };
}

function SizeField({
  value,
  planned,
  by,
  onChange,
}: {
  readonly value: string;
  readonly planned: string;
  readonly by: string;
  readonly onChange: (size: string) => void;
}) {
  const known = SIZES.some(({ text }) => text === planned);
  return (
    <div className="sizing-field">
      <label htmlFor="trial-size">Size</label>
      <select
        id="trial-size"
        className="field"
        value={value}
        data-first-field
        onChange={(event) => onChange(event.target.value)}
      >
        {known ? null : <option value={planned}>{planned}</option>}
        {SIZES.map((size) => (
          <option key={size.text} value={size.text}>
            {sizeText(size)}
          </option>
        ))}
      </select>
      <span className="soft">
        {by === 'computed' ? 'computed' : by === 'assumed' ? 'assumed' : `given by the ${by}`}
      </span>
    </div>
  );
}

function Field({
  label,
  unit,
  typed,
  planned,
  says,
  fault,
  onType,
}: {
  readonly label: string;
  readonly unit: string;
  readonly typed: string | null;
  readonly planned: string;
  readonly says: string;
  readonly fault: string | undefined;
  readonly onType: (text: string | null) => void;
}) {
  const id = useId();
  return (
    <div className="sizing-field">
      <label htmlFor={id}>{label}</label>
      <span className="sizing-entry">
        <input
          id={id}
          className="field number"
          inputMode="decimal"
          value={typed ?? planned}
          aria-invalid={fault !== undefined || undefined}
          aria-describedby={`${id}-says`}
          onChange={(event) => onType(event.target.value)}
          onKeyDown={(event) => {
            if (event.key === 'Escape' && typed !== null) {
              event.stopPropagation();
              onType(null);
            }
          }}
        />
        <span>{unit}</span>
      </span>
      <span
        id={`${id}-says`}
        className={fault === undefined ? 'soft' : 'bad'}
        role={fault === undefined ? undefined : 'alert'}
      >
        {fault ?? (typed === null ? says : `planned ${planned || 'unknown'} ${unit}`)}
      </span>
    </div>
  );
}

function Results({ tried, planned }: { readonly tried: Reconsidered; readonly planned: Reconsidered | null }) {
  const { minimum, sizeFaults, loopDropV, limitV, accepts, size } = tried;
  const was = (before: string, now: string): string => (planned === null || before === now ? '' : `was ${before}`);
  const drop = loopDropV === null ? 'unknown: a length is missing' : `${voltText(loopDropV)} V`;
  const accepted = accepts === null || (size.areaMm2 >= accepts.minMm2 - 1e-9 && size.areaMm2 <= accepts.maxMm2 + 1e-9);
  return (
    <dl className="sizing-results" aria-live="polite">
      <Gauge
        id="drop"
        title="Drop"
        value={drop}
        of={limitV === null ? 'a bus pair: not judged' : `of ${Number(limitV.toFixed(3))} V, with stub and return`}
        share={loopDropV === null || limitV === null ? null : loopDropV / limitV}
        was={was(voltWords(planned?.loopDropV ?? null), drop)}
        isOver={sizeFaults.includes('drop')}
      />
      <Gauge
        id="temperature"
        title="Temperature"
        value={`${tried.temperatureC.toFixed(1)} °C`}
        of={`of ${tried.insulationC} °C, ${tried.insulation}`}
        share={tried.temperatureC / tried.insulationC}
        was={was(`${planned?.temperatureC.toFixed(1)} °C`, `${tried.temperatureC.toFixed(1)} °C`)}
        isOver={tried.temperatureC > tried.insulationC + 1e-9}
      />
      <Gauge
        id="current"
        title="Current"
        value={`${Number(tried.currentA.toPrecision(3))} A`}
        of={`of ${tried.ampacityA.toFixed(1)} A it bears among ${tried.carrying} carrying`}
        share={tried.ampacityA === 0 ? Infinity : tried.currentA / tried.ampacityA}
        was={was(`of ${planned?.ampacityA.toFixed(1)} A`, `of ${tried.ampacityA.toFixed(1)} A`)}
        isOver={sizeFaults.includes('current')}
      />
      <div className="sizing-line" data-result="minimum">
        <dt>Smallest</dt>
        <dd>
          <strong>{minimum.size === null ? 'none of the series' : sizeText(minimum.size)}</strong>
          <span className="soft"> by {REASON_WORDS[minimum.reason]}</span>
          {sizeFaults.length === 0 ? null : (
            <span className="bad"> This size falls short by: {sizeFaults.join(', ')}.</span>
          )}
          {accepted ? null : (
            <span className="bad">
              {' '}
              The terminals accept {accepts.minMm2}–{accepts.maxMm2} mm².
            </span>
          )}
        </dd>
      </div>
      <div className="sizing-line" data-result="fuse">
        <dt>Fuse</dt>
        <dd>
          <FuseWords tried={tried} />
        </dd>
      </div>
      <div className="sizing-line" data-result="cut">
        <dt>Cut length</dt>
        <dd>
          <strong>{tried.cutLengthMm === null ? 'unknown' : `${tried.cutLengthMm} mm`}</strong>{' '}
          <span className="soft">{was(cutWords(planned?.cutLengthMm ?? null), cutWords(tried.cutLengthMm))}</span>
        </dd>
      </div>
    </dl>
  );
}

function voltWords(volt: number | null): string {
  return volt === null ? '' : `${voltText(volt)} V`;
}

function cutWords(lengthMm: number | null): string {
  return lengthMm === null ? '' : `${lengthMm} mm`;
}

function ratingText(ratingA: number): string {
  const colour = fuseColour(ratingA);
  return colour === null ? `${ratingA} A` : `${ratingA} A (${colour})`;
}

function FuseWords({ tried: { fuse, ampacityA, currentA } }: { readonly tried: Reconsidered }) {
  const { inFront, adviseA, smallestA, largestA, verdict } = fuse;
  const advice =
    adviseA !== null
      ? `${ratingText(adviseA)} holds ${Number(currentA.toPrecision(3))} A and protects the conductor`
      : smallestA === null
        ? 'no rating made holds this load'
        : `no rating does both: the load asks for ${ratingText(smallestA)}, the conductor bears ${largestA === null ? 'none' : `at most ${ratingText(largestA)}`}`;
  const front =
    inFront === null
      ? 'None in front is known.'
      : verdict === 'too-large'
        ? `${inFront.id}, ${inFront.fuseA} A, is more than the ${ampacityA.toFixed(1)} A it bears here.`
        : verdict === 'too-small'
          ? `${inFront.id}, ${inFront.fuseA} A, is loaded over 80 %.`
          : inFront.fuseA === null
            ? `${inFront.id} in front has no rating stated.`
            : `${inFront.id}, ${inFront.fuseA} A, in front: the conductor bears it.`;
  return (
    <>
      <span className={verdict === 'too-large' || verdict === 'too-small' ? 'bad' : undefined}>{front}</span>{' '}
      <span className="soft">For this conductor alone: {advice}.</span>
    </>
  );
}
