import { classOf, NAME } from '../../characters.ts';
import { NO_ATTRIBUTES, type DbcNode, type Mutable } from '../../model.ts';
import { quoted } from '../../faults.ts';
import { COLON, keywordAt, skipBlank, startsLine, take, takeName } from '../scan.ts';
import { fail, report } from '../reading.ts';
import type { Outcome, Reading } from '../reading.ts';

/** `BU_: Node Node …`, over as many lines as it takes, up to the next statement. */
export function readNodes(r: Reading): Outcome {
  if (!take(r, COLON)) return fail(r, r.pos, 'a colon');
  for (;;) {
    skipBlank(r);
    const at = r.pos;
    if ((classOf(r.text.charCodeAt(at)) & NAME) === 0) break;
    if (keywordAt(r.text, at) !== '' && (startsLine(r.text, at) || r.text.charCodeAt(at) !== 0x46)) break; // not FILTER
    const name = takeName(r);
    if (--r.partsLeft < 0) break;
    if (r.unusualName) report(r, 'name-unusual', at, quoted(name));
    const node: Mutable<DbcNode> = { name, shortName: name, comment: null, attributes: NO_ATTRIBUTES };
    r.nodes.push(node);
    r.nodeOffsets.push(at);
    if (r.nodesByName.has(name)) report(r, 'node-repeated', at, quoted(name));
    else r.nodesByName.set(name, node);
    if (r.text.charCodeAt(r.pos) === 0x2c) r.pos++; // a comma between names is no fault worth losing them for
  }
  return 'read';
}
