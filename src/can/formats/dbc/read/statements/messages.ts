import { quoted } from '../../faults.ts';
import { INDEPENDENT_SIGNALS_ID, NO_NODE } from '../../keywords.ts';
import { NO_ATTRIBUTES, type DbcMessage } from '../../model.ts';
import { transmittersStatement } from '../../write/statement-text.ts';
import {
  close,
  COLON,
  COMMA,
  endsLine,
  isKeyword,
  looksLikeStatement,
  SEMICOLON,
  skipBlank,
  startsLine,
  take,
  takeName,
  takeWhole,
} from '../scan.ts';
import { fail, missing, report, supersede } from '../reading.ts';
import type { MessageEntry, Outcome, Reading } from '../reading.ts';

const EXTENDED_BIT = 0x80000000;
const MAX_STANDARD_ID = 0x7ff;
const MAX_EXTENDED_ID = 0x1fffffff;
const ID_LIMIT = 0x100000000;

/** Frame id on the bus and its kind, from the id as written: bit 31 marks 29 bits; so does not fitting into 11. */
export function frameIdOf(id: number): { readonly frameId: number; readonly extended: boolean } {
  if (id >= EXTENDED_BIT && id < ID_LIMIT) return { frameId: id - EXTENDED_BIT, extended: true };
  return { frameId: id, extended: id > MAX_STANDARD_ID };
}

/** `BO_ id Name: length Sender` */
export function readMessage(r: Reading): Outcome {
  r.current = null;
  const id = takeWhole(r);
  if (id < 0) return fail(r, r.pos, 'a frame id');
  const name = takeName(r);
  const at = r.pos - name.length;
  if (name === '') return fail(r, at, 'the name of the message');
  if (r.unusualName) report(r, 'name-unusual', at, quoted(name));
  if (!take(r, COLON)) return fail(r, r.pos, 'a colon');
  const lengthBytes = takeWhole(r);
  if (lengthBytes < 0) return fail(r, r.pos, 'the length in bytes');

  const { frameId, extended } = frameIdOf(id);
  const message: MessageEntry['message'] = {
    name,
    shortName: name,
    id,
    frameId,
    extended,
    lengthBytes,
    sender: takeSender(r, name),
    transmitters: [],
    signals: [],
    comment: null,
    attributes: NO_ATTRIBUTES,
    signalGroups: [],
    unread: '',
  };
  if (id !== INDEPENDENT_SIGNALS_ID) reportFrameId(r, message, at);
  addMessage(r, { message, offset: at, signalOffsets: [], byName: null });
  return 'read';
}

function addMessage(r: Reading, entry: MessageEntry): void {
  const { message, offset } = entry;
  r.partsLeft--;
  r.entries.push(entry);
  r.current = entry;
  const earlier = r.entriesById.get(message.id);
  if (earlier === undefined) r.entriesById.set(message.id, entry);
  else report(r, 'frame-id-repeated', offset, idText(message), earlier.message.name);
}

function takeSender(r: Reading, message: string): string | null {
  skipBlank(r);
  const at = r.pos;
  const name = takeName(r);
  if (
    name === '' ||
    isKeyword(name) ||
    (startsLine(r.text, at) && (looksLikeStatement(name) || !endsLine(r.text, r.pos)))
  ) {
    r.pos = at;
    report(r, 'sender-missing', at, quoted(message));
    return null;
  }
  if (name === NO_NODE) return null;
  noteNode(r, name, at, message);
  return name;
}

/** Remembers a reference to a node that BU_ has not listed so far; they are looked at again at the end. */
export function noteNode(r: Reading, name: string, at: number, by: string): void {
  if (!r.nodesByName.has(name) && !r.unknownNodes.has(name)) r.unknownNodes.set(name, { by, offset: at });
}

function reportFrameId(r: Reading, message: DbcMessage, at: number): void {
  if (message.id >= ID_LIMIT || message.frameId > MAX_EXTENDED_ID) {
    report(r, 'frame-id-out-of-range', at, idText(message), quoted(message.name));
  } else if (message.extended && message.id < EXTENDED_BIT) {
    report(r, 'frame-id-without-extended-bit', at, idText(message), quoted(message.name));
  }
}

function idText(message: DbcMessage): string {
  return `0x${message.frameId.toString(16).toUpperCase()}`;
}

/** `BO_TX_BU_ id : Node,Node;` */
export function readTransmitters(r: Reading): Outcome {
  skipBlank(r);
  const at = r.pos;
  const id = takeWhole(r);
  if (id < 0) return fail(r, at, 'a frame id');
  if (!take(r, COLON)) return fail(r, r.pos, 'a colon');
  const nodes: string[] = [];
  const offsets: number[] = [];
  while (!take(r, SEMICOLON)) {
    const name = takeName(r);
    if (name === '') {
      if (take(r, COMMA)) continue;
      if (close(r) === 'failed') return 'failed';
      break;
    }
    if (isKeyword(name) && startsLine(r.text, r.pos - name.length)) {
      r.pos -= name.length;
      if (close(r) === 'failed') return 'failed';
      break;
    }
    if (--r.partsLeft < 0) return 'read';
    nodes.push(name);
    offsets.push(r.pos - name.length);
  }
  const entry = r.entriesById.get(id);
  if (entry === undefined) return missing(r, 'message-unknown', String(id), at);
  if (nodes.length === 0) return 'read';
  const { message } = entry;
  if (message.transmitters.length > 0) {
    supersede(r, transmittersStatement(id, message.transmitters), at, `the senders of ${message.name}`);
  }
  message.transmitters = nodes;
  nodes.forEach((name, index) => {
    if (name !== NO_NODE) noteNode(r, name, offsets[index] as number, message.name);
  });
  return 'read';
}
