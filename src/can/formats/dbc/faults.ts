/**
 * What can be wrong with a DBC file: one row a kind, with how grave it is, what is said and how it is mended.
 * An `error` means that something written in the file is not in the database as meant; a `warning` that all is there,
 * but is unusual, doubtful or not allowed by the format.
 */

export type DbcFaultSeverity = 'error' | 'warning';

export interface DbcFault {
  /** 1-based. */
  readonly line: number;
  /** 1-based, in UTF-16 code units. */
  readonly column: number;
  /** 0-based, in UTF-16 code units of the decoded text. */
  readonly offset: number;
  readonly severity: DbcFaultSeverity;
  readonly code: DbcFaultCode;
  readonly message: string;
  readonly mend: string;
}

interface FaultKind {
  readonly severity: DbcFaultSeverity;
  /** `{0}` and `{1}` stand for the details of the case. */
  readonly message: string;
  readonly mend: string;
}

const KINDS = {
  // The file as a whole
  'too-large': {
    severity: 'error',
    message: 'The file has {0} bytes; at most {1} are read.',
    mend: 'Raise the limit, or check that this is a DBC file.',
  },
  'too-many-parts': {
    severity: 'error',
    message:
      'The file holds more than {0} parts and faults; the rest from here on was not read. It is kept as remarks.',
    mend: 'Raise the limit, or check that this is a DBC file.',
  },
  cancelled: {
    severity: 'error',
    message: 'Reading was stopped; the rest from here on was not read. It is kept as remarks.',
    mend: 'Read the file again.',
  },
  'encoding-broken': {
    severity: 'warning',
    message: 'The file is marked as {0} but holds bytes that are not; each was read as \uFFFD.',
    mend: 'Save the file again with one encoding throughout.',
  },
  'more-faults': {
    severity: 'warning',
    message: '{0} more faults are not listed.',
    mend: 'Mend those listed first, or raise the limit.',
  },
  // Statements
  'text-unreadable': {
    severity: 'error',
    message: 'This is no statement: {0}.',
    mend: 'Remove it, or put // before it. It is kept as a remark.',
  },
  'statement-unreadable': { severity: 'error', message: '{0}.', mend: 'Write it as: {1}' },
  'string-not-closed': {
    severity: 'error',
    message: '{0}: the text that starts here has no closing quote.',
    mend: 'Close it with "; write a quote inside it as \\".',
  },
  'string-ends-in-backslash': {
    severity: 'warning',
    message: 'The text ends in a backslash, which hides its closing quote.',
    mend: 'Put a space between the backslash and the quote.',
  },
  'statement-not-closed': {
    severity: 'warning',
    message: '{0} is not closed with a semicolon.',
    mend: 'Put ; at its end.',
  },
  'keyword-unknown': {
    severity: 'warning',
    message: 'The statement {0} is not of this format; it is kept as it is.',
    mend: 'Check its spelling.',
  },
  'statement-repeated': {
    severity: 'warning',
    message: 'This was already said before: {0}. The last one counts.',
    mend: 'Remove one of the two.',
  },
  'signal-without-message': {
    severity: 'error',
    message: 'Signal {0} stands outside a message.',
    mend: 'Move it below the BO_ line of its message.',
  },
  'signal-apart': {
    severity: 'warning',
    message: 'Signal {0} stands apart from the lines of its message {1}, after other statements.',
    mend: 'Move it below the BO_ line of its message.',
  },
  'sender-missing': {
    severity: 'warning',
    message: 'Message {0} names no sender.',
    mend: 'Write the sender, or Vector__XXX for none.',
  },
  'unread-before': {
    severity: 'warning',
    message: 'An earlier reading could not read this line and kept it as a remark.',
    mend: 'Mend the line and remove //unread: before it.',
  },
  // References
  'message-unknown': {
    severity: 'warning',
    message: '{0} refers to message {1}, which the file does not define.',
    mend: 'Correct the id, or remove the statement. It is kept as it is.',
  },
  'signal-unknown': {
    severity: 'warning',
    message: '{0} refers to signal {1}, which its message does not define.',
    mend: 'Correct the name, or remove the statement. It is kept as it is.',
  },
  'node-unknown': {
    severity: 'warning',
    message: '{0} refers to node {1}, which BU_ does not list.',
    mend: 'Add the node to BU_, or correct the name.',
  },
  'environment-variable-unknown': {
    severity: 'warning',
    message: '{0} refers to environment variable {1}, which the file does not define.',
    mend: 'Correct the name, or remove the statement. It is kept as it is.',
  },
  'attribute-undefined': {
    severity: 'warning',
    message: 'Attribute {0} has a value but no definition for this kind of object.',
    mend: 'Add a BA_DEF_ statement for it.',
  },
  'attribute-default-unattached': {
    severity: 'warning',
    message: 'Attribute {0} has a default value but no definition.',
    mend: 'Add a BA_DEF_ statement for it. The default is kept as it is.',
  },
  // Identity
  'frame-id-repeated': {
    severity: 'error',
    message: 'Frame id {0} is used by {1} as well. Statements that refer to it are taken to mean that one.',
    mend: 'Give one of the two messages another id.',
  },
  'frame-id-out-of-range': {
    severity: 'error',
    message: 'Frame id {0} of message {1} is beyond 29 bits.',
    mend: 'Use at most 0x1FFFFFFF, plus 2147483648 to mark 29 bits.',
  },
  'frame-id-without-extended-bit': {
    severity: 'warning',
    message: 'Frame id {0} of message {1} does not fit 11 bits and is not marked as 29 bits. It is taken as 29 bits.',
    mend: 'Add 2147483648 to the id.',
  },
  'message-name-repeated': {
    severity: 'warning',
    message: 'Message name {0} is used twice.',
    mend: 'Rename one of the two messages.',
  },
  'signal-name-repeated': {
    severity: 'error',
    message: 'Signal name {0} is used twice in message {1}. Statements that refer to it are taken to mean the first.',
    mend: 'Rename one of the two signals.',
  },
  'node-repeated': { severity: 'warning', message: 'Node {0} is listed twice.', mend: 'Remove one of the two.' },
  'value-table-repeated': {
    severity: 'warning',
    message: 'Value table {0} is defined twice.',
    mend: 'Rename or remove one of the two.',
  },
  'environment-variable-repeated': {
    severity: 'warning',
    message: 'Environment variable {0} is defined twice.',
    mend: 'Rename or remove one of the two.',
  },
  'state-repeated': {
    severity: 'warning',
    message: 'Raw value {0} of {1} is given two texts. The last one counts.',
    mend: 'Remove one of the two.',
  },
  'name-unusual': {
    severity: 'warning',
    message: 'Name {0} is not made of letters, digits and underscore only, or starts with a digit.',
    mend: 'Rename it; other programs may refuse it.',
  },
  'long-name-repeated': {
    severity: 'warning',
    message: 'The long name {0} is already taken; {1} keeps its short name.',
    mend: 'Give one of the two another long name.',
  },
  // Numbers
  'number-not-finite': { severity: 'warning', message: '{0} is no finite number.', mend: 'Write a finite number.' },
  'factor-zero': {
    severity: 'error',
    message: 'Signal {0} has factor 0: its raw value says nothing.',
    mend: 'Correct the factor.',
  },
  'range-reversed': {
    severity: 'warning',
    message: 'Signal {0} has a minimum above its maximum.',
    mend: 'Swap the two.',
  },
  // Layout
  'frame-length': {
    severity: 'warning',
    message: 'Message {0} is {1} bytes long; a frame carries at most 64.',
    mend: 'Correct the length, unless a transport protocol carries it.',
  },
  'frame-length-not-fd': {
    severity: 'warning',
    message: 'Message {0} is {1} bytes long, which no CAN FD frame can be.',
    mend: 'Use 0 to 8, 12, 16, 20, 24, 32, 48 or 64.',
  },
  'signal-length': {
    severity: 'error',
    message: 'Signal {0} has {1} bits; 1 to 64 are possible.',
    mend: 'Correct the length.',
  },
  'signal-outside-frame': {
    severity: 'error',
    message: 'Signal {0} does not fit into the {1} bytes of its message.',
    mend: 'Correct its start bit or length, or the length of the message.',
  },
  'signals-overlap': {
    severity: 'error',
    message: 'Signals {0} and {1} share bits of the frame.',
    mend: 'Correct a start bit or length, or multiplex them.',
  },
  'overlap-not-checked': {
    severity: 'warning',
    message: 'Message {0} has so many multiplexed sets that not all were checked for overlap.',
    mend: 'Split the message to have it checked.',
  },
  'float-length': {
    severity: 'error',
    message: 'Signal {0} is a float but not {1} bits long.',
    mend: 'Correct its length or its SIG_VALTYPE_.',
  },
  // Multiplexing
  'multiplexer-missing': {
    severity: 'error',
    message: 'Signal {0} is multiplexed, but message {1} has no multiplexer signal. It is taken as always present.',
    mend: 'Mark the multiplexer with M, or remove the m of the signal.',
  },
  'multiplexer-ambiguous': {
    severity: 'warning',
    message: 'Message {1} has several multiplexers, and no SG_MUL_VAL_ says which selects {0}. The first is taken.',
    mend: 'Add a SG_MUL_VAL_ statement.',
  },
  'multiplexer-unknown': {
    severity: 'error',
    message: 'Signal {0} is multiplexed by {1}, which its message does not define. It is taken as always present.',
    mend: 'Correct the name of the multiplexer.',
  },
  'multiplexer-unusable': {
    severity: 'error',
    message: 'Signal {0} is multiplexed by {1}, which is a float or has no readable field.',
    mend: 'Multiplex by an integer signal.',
  },
  'multiplexer-cycle': {
    severity: 'error',
    message: 'Signal {0} is multiplexed, in the end, by itself. It is never present.',
    mend: 'Correct the SG_MUL_VAL_ statements.',
  },
  'multiplexer-range': {
    severity: 'error',
    message: 'Signal {0} is present for {1}, which its multiplexer cannot have.',
    mend: 'Correct the value, or the length of the multiplexer.',
  },
} as const satisfies Record<string, FaultKind>;

export type DbcFaultCode = keyof typeof KINDS;

/** Every kind of fault with its severity, wording and mend, for documentation and tests. */
export const DBC_FAULT_KINDS: Readonly<Record<DbcFaultCode, FaultKind>> = KINDS;

/** A fault before its line is known. */
export interface PendingFault {
  readonly code: DbcFaultCode;
  readonly offset: number;
  readonly details: readonly string[];
}

/** A word or line quoted in a message is cut at this many characters. */
const MAX_QUOTED = 60;

/** `text` in quotes, cut, on one line and without control characters. */
export function quoted(text: string): string {
  const cut = text.length > MAX_QUOTED ? `${text.slice(0, MAX_QUOTED)}…` : text;
  let shown = '';
  for (const character of cut) shown += character < ' ' || character === '\u007f' ? '·' : character;
  return `'${shown}'`;
}

function filled(template: string, details: readonly string[]): string {
  return template.replace(/\{([01])\}/g, (_, index: string) => details[Number(index)] ?? '');
}

/** Faults in the order of the text, each with its line and column: one pass over the text. */
export function locateFaults(text: string, pending: readonly PendingFault[]): DbcFault[] {
  const ordered = pending.map((fault, found) => ({ fault, found }));
  ordered.sort((a, b) => a.fault.offset - b.fault.offset || a.found - b.found);
  const locate = lineCounter(text);
  return ordered.map(({ fault }) => {
    const kind: FaultKind = KINDS[fault.code];
    return {
      ...locate(fault.offset),
      offset: fault.offset,
      severity: kind.severity,
      code: fault.code,
      message: filled(kind.message, fault.details),
      mend: filled(kind.mend, fault.details),
    };
  });
}

/** Line and column of offsets asked for in rising order. A line ends at LF, CR LF, or a CR alone. */
export function lineCounter(text: string): (offset: number) => { readonly line: number; readonly column: number } {
  let line = 1;
  let lineStart = 0;
  let at = 0;
  return (offset) => {
    const to = Math.min(offset, text.length);
    for (; at < to; at++) {
      const code = text.charCodeAt(at);
      if (code === 0x0a || (code === 0x0d && text.charCodeAt(at + 1) !== 0x0a)) {
        line++;
        lineStart = at + 1;
      }
    }
    return { line, column: to - lineStart + 1 };
  };
}
