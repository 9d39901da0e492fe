import { quoted } from '../../faults.ts';
import { close, skipBlank, takeName, takeText, takeWhole } from '../scan.ts';
import { fail, findSignal, report } from '../reading.ts';
import type { Outcome, Reading } from '../reading.ts';
import { noteUndefined, takeAttributeValue } from './attributes.ts';
import { noteNode } from './messages.ts';

/** `BA_REL_ "Name" BU_SG_REL_ Node SG_ id Signal value;`, `… BU_BO_REL_ Node id value;`, `… BU_EV_REL_ Node Name value;` */
export function readRelationAttribute(r: Reading): Outcome {
  const name = takeText(r);
  if (name === null) return 'failed';
  skipBlank(r);
  const at = r.pos;
  const relation = takeName(r);
  const node = takeName(r);
  const nodeAt = r.pos - node.length;
  if (node === '') return fail(r, nodeAt, 'the name of a node');
  switch (relation) {
    case 'BU_SG_REL_':
      return readNodeSignal(r, name, node, nodeAt);
    case 'BU_BO_REL_':
      return readNodeMessage(r, name, node, nodeAt);
    case 'BU_EV_REL_':
      return readNodeEnvironmentVariable(r, name, node, nodeAt);
    default:
      return fail(r, at, 'BU_SG_REL_, BU_BO_REL_ or BU_EV_REL_');
  }
}

function readNodeSignal(r: Reading, name: string, node: string, nodeAt: number): Outcome {
  const wordAt = r.pos;
  if (takeName(r) !== 'SG_') return fail(r, wordAt, 'SG_');
  const messageId = takeWhole(r);
  if (messageId < 0) return fail(r, r.pos, 'a frame id');
  const signal = takeName(r);
  const signalAt = r.pos - signal.length;
  if (signal === '') return fail(r, signalAt, 'the name of a signal');
  const value = takeAttributeValue(r);
  if (value === null || close(r) === 'failed') return 'failed';
  const entry = r.entriesById.get(messageId);
  if (entry === undefined) report(r, 'message-unknown', signalAt, 'BA_REL_', String(messageId));
  else if (findSignal(entry, signal) === undefined) report(r, 'signal-unknown', signalAt, 'BA_REL_', quoted(signal));
  noteRelation(r, 'node-signal', name, node, nodeAt);
  r.relationAttributes.push({ object: 'node-signal', name, node, messageId, signal, value });
  return 'read';
}

function readNodeMessage(r: Reading, name: string, node: string, nodeAt: number): Outcome {
  const messageId = takeWhole(r);
  if (messageId < 0) return fail(r, r.pos, 'a frame id');
  const at = r.pos;
  const value = takeAttributeValue(r);
  if (value === null || close(r) === 'failed') return 'failed';
  if (!r.entriesById.has(messageId)) report(r, 'message-unknown', at, 'BA_REL_', String(messageId));
  noteRelation(r, 'node-message', name, node, nodeAt);
  r.relationAttributes.push({ object: 'node-message', name, node, messageId, value });
  return 'read';
}

function readNodeEnvironmentVariable(r: Reading, name: string, node: string, nodeAt: number): Outcome {
  const environmentVariable = takeName(r);
  const at = r.pos - environmentVariable.length;
  if (environmentVariable === '') return fail(r, at, 'the name of an environment variable');
  const value = takeAttributeValue(r);
  if (value === null || close(r) === 'failed') return 'failed';
  if (!r.environmentByName.has(environmentVariable)) {
    report(r, 'environment-variable-unknown', at, 'BA_REL_', quoted(environmentVariable));
  }
  noteRelation(r, 'node-environment-variable', name, node, nodeAt);
  r.relationAttributes.push({ object: 'node-environment-variable', name, node, environmentVariable, value });
  return 'read';
}

function noteRelation(
  r: Reading,
  object: 'node-signal' | 'node-message' | 'node-environment-variable',
  name: string,
  node: string,
  nodeAt: number,
): void {
  r.partsLeft--;
  noteNode(r, node, nodeAt, `attribute ${quoted(name)}`);
  noteUndefined(r, object, name, nodeAt);
}
