import { useMemo, useState } from 'react';
import type { Pairing, Route } from '../../model/index.ts';
import {
  analyseRoute,
  evaluateRoute,
  type LiveValue,
  type RouteAnalysis,
  type SourceInput,
} from '../../translate/index.ts';
import { ReviewNotes } from '../parts/ReviewNotes.tsx';
import { isAboutRoute } from '../parts/subject.ts';
import { useSettled } from '../parts/use-settled.ts';
import { pairingOf } from '../state/derived.ts';
import { useWorkbench } from '../state/store.ts';
import { formulaOfStages, valueText } from './format.ts';
import { firstInputs } from './inputs.ts';
import { RangeBar } from './RangeBar.tsx';
import { SourceCard } from './SourceCard.tsx';
import { StageCard } from './StageCard.tsx';
import './strip.css';
import { TargetCard } from './TargetCard.tsx';
import { WireWay } from './WireWay.tsx';

/** The route a selection stands for: itself, or the one that writes or reads what is selected. */
export function routeOfSelection(pairing: Pairing, selection: string | null): Route | null {
  if (selection === null) return null;
  if (selection.startsWith('route:')) return pairing.routes.get(selection.slice(6)) ?? null;
  return pairing.routesTo.get(selection)?.[0] ?? pairing.routesFrom.get(selection)?.[0] ?? null;
}

/** The selected route as one line of stages from source to reader, with live values both ways. */
export function Strip() {
  const documents = useWorkbench((state) => state.open!.history.documents);
  const selection = useSettled(useWorkbench((state) => state.selection));
  const pairing = pairingOf(documents);
  const route = routeOfSelection(pairing, selection);
  return (
    <section className="strip" aria-label="The strip: the selected route with values" tabIndex={0}>
      {route ? (
        <Stages key={route.id} pairing={pairing} route={route} />
      ) : (
        <p className="strip-hint">
          Select a strand: here it is drawn out from the bits of its source to the bits its reader gets, with values to
          try.
        </p>
      )}
    </section>
  );
}

function Stages({ pairing, route }: { readonly pairing: Pairing; readonly route: Route }) {
  const analysis = useMemo(() => analyseRoute(pairing, route), [pairing, route]);
  const formulas = useMemo(() => formulaOfStages(analysis), [analysis]);
  const [given, setGiven] = useState<readonly (SourceInput | null)[] | null>(null);
  // What was tried stays while the steps are edited; other sources begin anew.
  const inputs = given?.length === route.from.length ? given : firstInputs(analysis);
  const evaluation = useMemo(() => evaluateRoute(analysis, inputs), [analysis, inputs]);
  const clips = analysis.clips.filter((clip) => clip.of === 'source');
  return (
    <>
      <ReviewNotes isAbout={(subject) => isAboutRoute(subject, route)} />
      <div className="strip-sources" data-many={route.from.length > 1 || undefined}>
        {route.from.map((ref, at) => (
          <SourceCard
            key={`${ref} ${at}`}
            reference={ref}
            endpoint={pairing.find(ref)}
            domain={analysis.sources[at] ?? null}
            reading={evaluation.sources[at]!}
            clips={at === 0 ? clips : []}
            onInput={(input) => setGiven(inputs.map((old, index) => (index === at ? input : old)))}
          />
        ))}
      </div>
      {route.carrier === 'hard-wire' ? <WireWay pairing={pairing} route={route} /> : null}
      {analysis.stages.map((stage, at) => (
        <StageCard key={at} stage={stage} evaluation={evaluation.stages[at]!} formula={formulas[at] ?? []} />
      ))}
      <Delivered analysis={analysis} delivered={evaluation.delivered} />
      <TargetCard
        analysis={analysis}
        endpoint={pairing.find(route.to)}
        delivered={evaluation.delivered}
        writing={evaluation.target}
        onInputs={setGiven}
      />
    </>
  );
}

/** What comes out of the last step, before it is written into the target. */
function Delivered({ analysis, delivered }: { readonly analysis: RouteAnalysis; readonly delivered: LiveValue }) {
  const { delivered: domain, clips } = analysis;
  if (domain === null || domain.kind === 'frame' || analysis.route.carrier === 'hard-wire') return null;
  const unit = domain.kind === 'number' ? domain.unitText : '';
  const lost = clips.filter((clip) => clip.of === 'delivered');
  return (
    <section className="stage step-stage" aria-label="Delivered">
      <header className="stage-head">
        <span>delivered</span>
      </header>
      <div className="stage-values">
        <p className="stage-value" data-none={delivered.kind === 'none' || undefined}>
          {valueText(delivered, unit)}
        </p>
        {domain.kind === 'number' && domain.interval !== null ? (
          <RangeBar
            interval={domain.interval}
            value={delivered.kind === 'number' ? delivered.value : null}
            lost={lost}
            unit={unit}
          />
        ) : null}
      </div>
    </section>
  );
}
