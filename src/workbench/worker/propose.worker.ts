import { acceptBest, propose } from '../../edit/index.ts';
import { indexSide, pair, type Side } from '../../model/index.ts';
import type { ProposeAnswer, ProposeRequest } from './propose-protocol.ts';

let host: Side | null = null;
let donor: Side | null = null;

function answer(message: ProposeAnswer): void {
  postMessage(message);
}

self.onmessage = ({ data }: MessageEvent<ProposeRequest>) => {
  const { version } = data;
  try {
    if (data.host) host = indexSide('host', data.host);
    if (data.donor) donor = indexSide('donor', data.donor);
    if (!host || !donor) throw new Error('the platforms were not sent');
    const pairing = pair(data.map, host, donor);
    const needs = propose(pairing);
    if (data.kind === 'propose') {
      answer({ kind: 'proposed', version, needs });
      return;
    }
    const wanted = new Set(data.needs);
    const acceptance = acceptBest(
      pairing,
      needs.filter(({ need }) => wanted.has(need.ref)),
      data.least,
      (fraction) => answer({ kind: 'progress', version, fraction }),
    );
    answer({ kind: 'accepted', version, acceptance });
  } catch (error) {
    answer({ kind: 'failed', version, message: error instanceof Error ? error.message : String(error) });
  }
};
