import { check, type Run } from '../../checks/index.ts';
import { comparePairings, reviewWalk } from '../../compare/index.ts';
import { indexSide, pair, type Side } from '../../model/index.ts';
import type { ReviewAnswerMessage, ReviewRequest } from './review-protocol.ts';

let host: Side | null = null;
let donor: Side | null = null;
let base: Run | null = null;

function answer(message: ReviewAnswerMessage): void {
  postMessage(message);
}

self.onmessage = ({ data }: MessageEvent<ReviewRequest>) => {
  const { version } = data;
  try {
    if (data.host) host = indexSide('host', data.host);
    if (data.donor) donor = indexSide('donor', data.donor);
    if (!host || !donor) throw new Error('the platforms were not sent');
    if (data.base === null) base = null;
    else if (data.base !== undefined) base = check(pair(data.base.map, data.base.host, data.base.donor));
    const pairing = pair(data.map, host, donor);
    const { findings } = data;
    const compared = base ? comparePairings(base.pairing, pairing, base) : undefined;
    const { steps } = reviewWalk(pairing, findings, compared);
    answer({
      kind: 'walked',
      version,
      steps,
      comparison: compared === undefined ? null : withoutPairings(compared),
      baseFindings: base?.findings ?? [],
    });
  } catch (error) {
    answer({ kind: 'failed', version, message: error instanceof Error ? error.message : String(error) });
  }
};

function withoutPairings({ before: _before, after: _after, ...outcome }: ReturnType<typeof comparePairings>) {
  return outcome;
}
