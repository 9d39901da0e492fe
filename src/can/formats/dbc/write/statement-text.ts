/** The canonical text of each statement that a signal, message, node or the database carries as one line. */
import { endsInBackslash } from '../read/scan.ts';
import { isNumberText } from '../numbers.ts';
import { isReadableName } from '../characters.ts';
import type {
  DbcAttributeDefinition,
  DbcAttributeObject,
  DbcAttributeValue,
  DbcExtendedMultiplexing,
  DbcNumber,
  DbcState,
} from '../model.ts';

/** `text` between quotes: quotes escaped, line ends as `\n`, and a space between a final backslash and the quote. */
export function quotedText(text: string): string {
  let written = text;
  if (written.includes('\r')) written = written.replace(/\r\n?/g, '\n');
  const ending = endsInBackslash(written) ? ' ' : '';
  if (written.includes('"')) written = written.replaceAll('"', '\\"');
  return `"${written}${ending}"`;
}

/** The number as it was written; its double, when the text is no number. Throws RangeError when neither is a number. */
export function numberText(number: DbcNumber): string {
  if (isNumberText(number.text)) return number.text;
  if (!Number.isFinite(number.value))
    throw new RangeError(`A DBC file cannot hold the number ${JSON.stringify(number.text)}.`);
  return String(number.value);
}

/** As {@link numberText}, but a minimum or maximum may be a word such as `1.#INF`, as it may be read. */
export function limitText(number: DbcNumber): string {
  const word = !isNumberText(number.text) && isReadableName(number.text) && number.text.length <= 24;
  return word ? number.text : numberText(number);
}

/** A whole number ≥ 0. Throws RangeError for anything else. */
export function wholeText(value: number, what: string): string {
  if (!Number.isSafeInteger(value) || value < 0) throw new RangeError(`${what} must be a whole number, not ${value}.`);
  return String(value);
}

export function attributeValueText(value: DbcAttributeValue): string {
  return typeof value === 'string' ? quotedText(value) : numberText(value);
}

/** `target` is empty for the database, else e.g. `BO_ 5` or `SG_ 5 Speed`. */
export function commentStatement(target: string, comment: string): string {
  return `CM_ ${target === '' ? '' : `${target} `}${quotedText(comment)};`;
}

export function attributeStatement(name: string, target: string, value: DbcAttributeValue): string {
  return `BA_ ${quotedText(name)} ${target === '' ? '' : `${target} `}${attributeValueText(value)};`;
}

/** `target` is `5 Speed` for a signal or the name of an environment variable. */
export function statesStatement(target: string, states: readonly DbcState[]): string {
  return `VAL_ ${target} ${statesText(states)};`;
}

export function statesText(states: readonly DbcState[]): string {
  let text = '';
  for (const state of states) text += `${state.raw} ${quotedText(state.text)} `;
  return text;
}

export function transmittersStatement(id: number, nodes: readonly string[]): string {
  return `BO_TX_BU_ ${id} : ${nodes.join(',')};`;
}

export function valueTypeStatement(id: number, signal: string, number: 'integer' | 'float32' | 'float64'): string {
  const code = number === 'float32' ? 1 : number === 'float64' ? 2 : 0;
  return `SIG_VALTYPE_ ${id} ${signal} : ${code};`;
}

export function multiplexingStatement(id: number, signal: string, extended: DbcExtendedMultiplexing): string {
  const ranges = extended.ranges.map((range) => `${range.from}-${range.to}`).join(', ');
  return `SG_MUL_VAL_ ${id} ${signal} ${extended.selector} ${ranges};`;
}

export function environmentSizeStatement(name: string, sizeBytes: number): string {
  return `ENVVAR_DATA_ ${name}: ${wholeText(sizeBytes, 'The size of an environment variable')};`;
}

/** Keyword in front of the name of an attribute definition, by what it belongs to. */
export const OBJECT_KEYWORDS: Readonly<Record<DbcAttributeObject, string>> = {
  database: '',
  node: 'BU_',
  message: 'BO_',
  signal: 'SG_',
  'environment-variable': 'EV_',
  'node-signal': 'BU_SG_REL_',
  'node-message': 'BU_BO_REL_',
  'node-environment-variable': 'BU_EV_REL_',
};

export function isRelation(object: DbcAttributeObject): boolean {
  return object === 'node-signal' || object === 'node-message' || object === 'node-environment-variable';
}

export function definitionStatement(definition: DbcAttributeDefinition): string {
  const statement = isRelation(definition.object) ? 'BA_DEF_REL_' : 'BA_DEF_';
  const object = OBJECT_KEYWORDS[definition.object];
  return `${statement} ${object === '' ? '' : `${object} `}${quotedText(definition.name)} ${typeText(definition)};`;
}

function typeText({ type }: DbcAttributeDefinition): string {
  switch (type.kind) {
    case 'text':
      return 'STRING ';
    case 'enumeration':
      return `ENUM ${type.choices.map(quotedText).join(',')}`;
    case 'integer':
    case 'hex':
    case 'float': {
      const keyword = { integer: 'INT', hex: 'HEX', float: 'FLOAT' }[type.kind];
      const limits = [type.min, type.max].filter((limit) => limit !== null);
      return [keyword, ...limits.map(limitText)].join(' ');
    }
  }
}

/** `keyword` is `BA_DEF_DEF_`, or `BA_DEF_DEF_REL_` for a relation. */
export function defaultStatement(keyword: string, name: string, value: DbcAttributeValue): string {
  return `${keyword} ${quotedText(name)} ${attributeValueText(value)};`;
}
