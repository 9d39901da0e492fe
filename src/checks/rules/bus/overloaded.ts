import type { Edit, Pairing } from '../../../model/index.ts';
import { casesAsBuilt, loadOf, segmentOf } from '../../bus-segments.ts';
import type { BusCase } from '../../bus-types.ts';
import type { CheckContext } from '../../context.ts';
import { setTransmit } from '../../mends.ts';
import { commonPractice, named, read, type Draft, type Mend, type Rule } from '../../rule.ts';
import { crowdedBus } from '../../examples/bus-case.ts';

/** Shares of the bus, worst case. */
const WARNS = 0.5;
const STOPS = 0.7;

export const rule: Rule = {
  id: 'bus/overloaded',
  severity: 'stop',
  title: 'Bus carries more than it should in the worst case',
  why: `What the interface module adds takes bus time from everybody. Frame times are those with as many stuff bits as a frame can have: (55 + 10·s) bits for s bytes and an 11-bit identifier, (80 + 10·s) for 29 bits. Above ${WARNS * 100} % slow frames wait long, above ${STOPS * 100} % they are at the mercy of chance, above 100 % the last ones never get through.`,
  sources: [
    read(
      'Frame length: Davis, Burns, Bril, Lukkien, Controller Area Network schedulability analysis, Real-Time Systems 35 (2007), equations 1–3',
    ),
    read('An engine maker’s installation manual: average load of a 250 kbit/s network not above 40 %'),
    commonPractice(
      `plan for ${WARNS * 100} % in the worst case, never above ${STOPS * 100} %; no standard sets a limit`,
    ),
  ],
  check: {
    bus(context, { side, bus }) {
      const ref = `${side}:${bus.id}`;
      const segment = segmentOf(context, ref);
      if (!segment) return null;
      const drafts: Draft[] = [];
      let told = false;
      if (loadOf(segment.together.frames) > WARNS) {
        for (const one of segment.cases()) {
          const load = loadOf(one.frames);
          if (load <= WARNS || !one.refs.every((other) => ref <= other)) continue;
          told = true;
          drafts.push(overloaded(context, one, load));
        }
      }
      if (!told && segment.lacks.length > 0 && segment.refs.every((other) => ref <= other)) {
        const sends = segment.together.frames.some(({ transmit }) => transmit !== null);
        if (sends) drafts.push(unknown(segment.refs, segment.lacks, loadOf(segment.together.frames)));
      }
      return drafts;
    },
  },
  examples: {
    failing: () => ({
      says: 'A retained module sends 15 frames of 8 bytes every 10 ms, the interface module 13 more: 28 · 135 bits · 100 / 500,000 = 75.6 %.',
      documents: crowdedBus({ own: 15, added: 13, cycleMs: 10, originalMs: 100 }),
      expect: ['bus:host:body-can'],
    }),
    passing: () => ({
      says: 'The interface module sends them every 100 ms, as the removed module did: 44 %.',
      documents: crowdedBus({ own: 15, added: 13, cycleMs: 10, originalMs: 100, addedMs: 100 }),
      expect: [],
    }),
  },
};

function overloaded({ pairing }: CheckContext, one: BusCase, load: number): Draft {
  const before = Math.max(...casesAsBuilt(pairing, one).map(({ frames }) => loadOf(frames)));
  const worse = load > before + 1e-9;
  const added = one.frames.filter(({ transmit }) => transmit !== null);
  return {
    severity: !worse ? 'look' : load > STOPS ? 'stop' : 'fix',
    message: `${one.refs.join(' with ')}: ${percent(load)} of the bus is in use in the worst case${worse ? `, ${percent(before)} as built` : `, and was as the vehicle was built (${percent(before)})`}`,
    mask: one.mask,
    values: [
      named('load, worst case', percent(load)),
      named('as built', percent(before)),
      named('by interface modules', percent(loadOf(added))),
      named('frames', one.frames.length),
      named('bit rate', one.rates.bitRate / 1000, 'kbit/s'),
      named('limit', percent(load > STOPS ? STOPS : WARNS)),
    ],
    mend: sendSlower(pairing, one),
  };
}

/** Sends as often as the original did what is now sent oftener. */
function sendSlower(pairing: Pairing, { frames }: BusCase): Mend | null {
  const edits = frames.flatMap(({ ref, entry, transmit }): readonly Edit[] => {
    const original = entry.message.cycleMs;
    if (transmit?.cycleMs === undefined || original === undefined || transmit.cycleMs >= original) return [];
    if ((pairing.transmitsOf.get(ref) ?? []).length !== 1) return [];
    return setTransmit(transmit, ['cycleMs'], original, '').edits;
  });
  if (edits.length === 0) return null;
  return {
    title: `send ${edits.length} ${edits.length === 1 ? 'message' : 'messages'} as seldom as the original did`,
    edits,
  };
}

function unknown(refs: readonly string[], lacks: readonly string[], load: number): Draft {
  return {
    severity: 'look',
    message: `${refs.join(' with ')}: the load, ${percent(load)} of what is known, cannot be told without the ${lacks.slice(0, 3).join(', the ')}${lacks.length > 3 ? ` and ${lacks.length - 3} more` : ''}`,
    values: [
      named('load of what is known', percent(load)),
      ...lacks.slice(0, 20).map((what) => named('not known', what)),
    ],
  };
}

function percent(share: number): string {
  return `${(share * 100).toFixed(1)} %`;
}
