import { indexSide, pair, type Side } from '../../model/index.ts';
import { buildHarness, type HarnessPlan } from '../../wiring/index.ts';
import type { PlanAnswer, PlanFrame, PlanRequest, ShownConductor } from './harness-protocol.ts';

/** Conductors, and connectors, in one message: few enough to be taken in well within a frame. */
const CONDUCTORS_PART = 200;
const CONNECTORS_PART = 20;

let host: Side | null = null;
let donor: Side | null = null;

function answer(message: PlanAnswer): void {
  postMessage(message);
}

self.onmessage = ({ data }: MessageEvent<PlanRequest>) => {
  const { version } = data;
  const started = performance.now();
  try {
    if (data.host) host = indexSide('host', data.host);
    if (data.donor) donor = indexSide('donor', data.donor);
    if (!host || !donor) throw new Error('the platforms were not sent');
    const plan = buildHarness(pair(data.map, host, donor), { mask: data.mask });
    const conductors = shownConductors(plan);
    for (let from = 0; from < conductors.length; from += CONDUCTORS_PART)
      answer({ kind: 'conductors', version, conductors: conductors.slice(from, from + CONDUCTORS_PART) });
    const { connectors } = plan;
    for (let from = 0; from < connectors.length; from += CONNECTORS_PART)
      answer({ kind: 'connectors', version, connectors: connectors.slice(from, from + CONNECTORS_PART) });
    answer({ kind: 'planned', version, frame: frameOf(plan), elapsedMs: performance.now() - started });
  } catch (error) {
    answer({ kind: 'failed', version, message: error instanceof Error ? error.message : String(error) });
  }
};

function shownConductors({ conductors, fromTo }: HarnessPlan): readonly ShownConductor[] {
  return fromTo.map((row, at) => {
    const { key, functions, signals, role, from, to, options, coverings, toleranceMm, conditioning } = row;
    return {
      conductor: conductors[at]!,
      facts: { key, functions, signals, role, from, to, options, coverings, toleranceMm, conditioning },
    };
  });
}

function frameOf(plan: HarnessPlan): PlanFrame {
  const { settings, options, splices, segments, problems, open, totals } = plan;
  const { shapes: _, ...drawing } = plan.drawing;
  return { settings, options, splices, segments, problems, open, totals, drawing };
}
