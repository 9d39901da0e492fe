import {
  signalKind,
  sideRef,
  type Endpoint,
  type Pairing,
  type Route,
  type VehicleFunction,
} from '../../model/index.ts';
import { formatDecimal, type Rational } from '../../number/index.ts';
import { lossWords, type Clip, type CompileResult, type RouteAnalysis } from '../../translate/index.ts';
import { frameIdText, unitCode } from '../record/index.ts';
import { rawText } from './fields.ts';

const short = (value: Rational): string => formatDecimal(value, { maxSignificant: 9 });

/** Where a value stands: the field of its frame, or the wire. */
export function endpointText(pairing: Pairing, ref: string): string {
  const entry = pairing.find(ref);
  return entry === null ? `${ref}, which neither platform has` : placeOf(entry);
}

function placeOf(entry: Endpoint): string {
  switch (entry.kind) {
    case 'signal': {
      const { message, signal } = entry;
      const bits = `start bit ${signal.bits.start}, ${signal.bits.length} bits, ${signal.bits.order}, ${signal.number}`;
      const scale =
        signalKind(signal) === 'number'
          ? `; ${signal.factor} · raw ${String(signal.offset).startsWith('-') ? '−' : '+'} ${String(signal.offset).replace('-', '')}, ${unitCode(signal.unit)}`
          : '';
      return `${entry.ref}: frame ${frameIdText(message.frameId, message.idFormat)} on ${sideRef(entry.side, message.bus)}, ${bits}${scale}`;
    }
    case 'message':
      return `${entry.ref}: frame ${frameIdText(entry.message.frameId, entry.message.idFormat)} on ${sideRef(entry.side, entry.message.bus)}, ${entry.message.length} bytes, whole`;
    case 'wire': {
      const { wire } = entry;
      return `${entry.ref}: ${wire.title}, ${wire.electrical.class}${wire.at === undefined ? '' : `, cavity ${wire.at.connector}-${wire.at.cavity}`}`;
    }
  }
}

/** What the reader is given before the first good sample. */
export function startWords(route: Route, analysis: RouteAnalysis, compiled: CompileResult | null): string | null {
  switch (route.atStart) {
    case 'not-available':
      return 'not available';
    case 'loss-behaviour':
      return `as on loss: ${lossText(analysis, compiled)}`;
    case 'stop-sending':
      return 'nothing is sent';
    case undefined:
      return null;
  }
}

/** What the arithmetic does to the ends and to the steps of the target, in words; one entry a fact. */
export function rangeWords(analysis: RouteAnalysis): readonly string[] {
  const { worstError, clips, statesWithoutImage, statesMerged, targetStatesNeverProduced, signLost, route, faults } =
    analysis;
  const words: string[] = [];
  if (worstError !== null)
    words.push(
      `rounding changes a value by at most ${short(worstError.physical)} ${unitCode(worstError.unit)} (${short(worstError.targetSteps)} of a target step)`,
    );
  for (const clip of clips) words.push(clipWords(clip));
  if (signLost) words.push('values below zero arrive and the target has none');
  if (statesWithoutImage.length > 0)
    words.push(
      `without an image: ${statesWithoutImage.map(({ state, source }) => (route.from.length > 1 ? `“${state}” of source ${source + 1}` : `“${state}”`)).join(', ')}`,
    );
  for (const { into, from } of statesMerged)
    words.push(`${from.map((state) => `“${state}”`).join(', ')} become “${into}”`);
  if (targetStatesNeverProduced.length > 0)
    words.push(`never produced: ${targetStatesNeverProduced.map((state) => `“${state}”`).join(', ')}`);
  for (const { message } of faults) words.push(`fault of the map: ${message}`);
  return words;
}

function clipWords({ from, to, unit, of, targetEnd, targetUnit }: Clip): string {
  const span = `${short(from)} … ${short(to)} ${unitCode(unit)}`;
  return `${of === 'source' ? 'of the source' : 'of what the steps deliver'} ${span} arrives as ${short(targetEnd)} ${unitCode(targetUnit)}, the end of the target`;
}

/** Title of a route for headings. */
export function routeTitle(route: Route, entry: VehicleFunction | null): string {
  return route.title ?? entry?.title ?? 'no function of the catalogue';
}

/** `starting-security` → `Starting security`. */
export function groupTitle(group: string): string {
  const words = group.replaceAll('-', ' ');
  return words === '' ? words : words[0]!.toUpperCase() + words.slice(1);
}

/** What the reader gets while the source is lost: the clause, with the raw value that is written where there is one. */
export function lossText({ route, target }: RouteAnalysis, compiled: CompileResult | null): string {
  const words = lossWords(route, target);
  if (compiled?.kind !== 'values' || compiled.program.output.kind !== 'field') return words;
  const { onLoss } = compiled.loss;
  return onLoss.kind === 'write' && typeof onLoss.raw === 'bigint' ? `${words}: raw ${rawText(onLoss.raw)}` : words;
}
