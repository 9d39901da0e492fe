import { BLANK, classOf, NAME, WORD } from '../../characters.ts';
import { quoted } from '../../faults.ts';
import { NO_ATTRIBUTES, type DbcNode, type Mutable } from '../../model.ts';
import { fail, report } from '../reading.ts';
import type { Outcome, Reading } from '../reading.ts';
import {
  COLON,
  COMMA,
  endOfLine,
  keywordAt,
  looksLikeStatement,
  skipBlank,
  startsLine,
  take,
  takeName,
} from '../scan.ts';

const SLASH = 0x2f;

/** `BU_: Node Node …`, over as many lines of names as there are, up to the next statement. */
export function readNodes(r: Reading): Outcome {
  if (!take(r, COLON)) return fail(r, r.pos, 'a colon');
  let lineEnd = endOfLine(r.text, r.pos);
  for (;;) {
    skipBlank(r);
    const at = r.pos;
    if ((classOf(r.text.charCodeAt(at)) & NAME) === 0) break;
    if (at > lineEnd) {
      lineEnd = endOfLine(r.text, at);
      if (!continuesList(r.text, at, lineEnd)) break;
    }
    if (keywordAt(r.text, at) !== '' && (startsLine(r.text, at) || r.text.charCodeAt(at) !== 0x46)) break; // F: FILTER
    const name = takeName(r);
    if (--r.partsLeft < 0) break;
    if (r.unusualName) report(r, 'name-unusual', at, quoted(name));
    addNode(r, name, at);
    take(r, COMMA); // a comma between names is no fault worth losing them for
  }
  return 'read';
}

function addNode(r: Reading, name: string, at: number): void {
  const node: Mutable<DbcNode> = { name, shortName: name, comment: null, attributes: NO_ATTRIBUTES };
  r.nodes.push(node);
  r.nodeOffsets.push(at);
  if (r.nodesByName.has(name)) report(r, 'node-repeated', at, quoted(name));
  else r.nodesByName.set(name, node);
}

/** A further line of the list holds plain names only, and does not begin like a statement. */
function continuesList(text: string, from: number, to: number): boolean {
  let firstWordEnd = -1;
  for (let pos = from; pos <= to; pos++) {
    const code = text.charCodeAt(pos);
    const flags = pos === to ? 0 : classOf(code);
    if ((flags & WORD) !== 0) continue;
    if (firstWordEnd < 0) firstWordEnd = pos;
    if (pos === to || (code === SLASH && text.charCodeAt(pos + 1) === SLASH)) break;
    if ((flags & BLANK) === 0 && code !== COMMA) return false;
  }
  return !looksLikeStatement(text.slice(from, firstWordEnd));
}
