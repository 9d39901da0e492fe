import { pathsOf, type Route } from '../../model/index.ts';
import type { RouteAnalysis } from '../analysis/route-analysis.ts';
import type { ValueDomain } from '../domain/value-domain.ts';
import { stepPhrase } from './step-phrase.ts';
import { endName, givenText, listText, quoted, symbolOf, timeText } from './words.ts';

/**
 * A route as one sentence in plain English: what the target is, what each step does to the sources, what carries it, and what the
 * reader gets when the source is lost.
 */
export function routeSentence(analysis: RouteAnalysis): string {
  const { pairing, route, stages } = analysis;
  const names = route.from.map((ref) => symbolOf(pairing, ref));
  const phrases = stages.map((stage) => stepPhrase(stage, names));
  const what =
    route.from.length === 0 ? 'has no source' : `is ${listText(route.from.map((ref) => endName(pairing, ref)))}`;
  const how = phrases.length > 0 ? `, ${phrases.join(', then ')}` : route.from.length > 0 ? ', unchanged' : '';
  return `${capital(endName(pairing, route.to))} ${what}${how}, ${carrierPhrase(analysis)}${lossPhrase(analysis)}.`;
}

function capital(text: string): string {
  return text.startsWith('the ') || text.startsWith('wire ') ? text[0]!.toUpperCase() + text.slice(1) : text;
}

function carrierPhrase({ pairing, route }: RouteAnalysis): string {
  const { carrier, by } = route;
  switch (carrier) {
    case 'hard-wire':
      return pathsOf(pairing, route).every(({ hard }) => hard)
        ? 'over a conductor from end to end'
        : 'over what is called a hard wire, though something programmable is in series';
    case 'bus':
      return 'in the frame as the source sends it';
    case 'interface':
      return by === undefined ? 'through an interface module that is not named' : `through the interface module ${by}`;
  }
}

/** "; when …" for a route through firmware; a conductor and a relayed frame have no loss behaviour of their own. */
function lossPhrase({ route, target }: RouteAnalysis): string {
  if (route.carrier !== 'interface') return '';
  if (route.staleAfterMs === undefined) return '; nothing is said about when its source counts as lost';
  const when = `; when ${timeText(route.staleAfterMs)} have passed without ${route.from.length > 1 ? 'a source that it needs' : 'the source'}`;
  return `${when}, ${lossWords(route, target)}${recovery(route)}`;
}

/** What the reader gets on loss, as a clause: "0 km/h is given instead". */
export function lossWords({ onLoss }: Route, target: ValueDomain | null): string {
  if (onLoss === undefined) return 'nothing is said about what the reader gets, so the last value stays';
  switch (onLoss.do) {
    case 'hold': {
      const then = onLoss.then === undefined ? '' : `, then ${AFTER_HOLD[onLoss.then]}`;
      return onLoss.forMs === undefined
        ? 'the last value stays without end'
        : `the last value stays for ${timeText(onLoss.forMs)}${then}`;
    }
    case 'substitute':
      if (onLoss.state !== undefined) return `${quoted(onLoss.state)} is given instead`;
      if (onLoss.value !== undefined) {
        return `${givenText(onLoss.value, target?.kind === 'number' ? target.unitText : '')} is given instead`;
      }
      return 'the reader is told that no value is available';
    case 'stop-sending':
      return 'sending stops';
    case 'open-output':
      return 'the output opens';
  }
}

const AFTER_HOLD = {
  'not-available': 'the reader is told that no value is available',
  'stop-sending': 'sending stops',
  'open-output': 'the output opens',
} as const;

function recovery({ recoverAfter }: Route): string {
  return recoverAfter === undefined || recoverAfter === 1 ? '' : `, until ${recoverAfter} good samples have come`;
}
