import { pathText, type DocumentFault } from '../../model/index.ts';

/** Input which cannot be worked with: one line for people and, for documents, every fault with its place. */
export class UnusableInput extends Error {
  readonly faults: readonly string[];
  constructor(message: string, faults: readonly string[] = []) {
    super(message);
    this.name = 'UnusableInput';
    this.faults = faults;
  }
}

/** `file:12:5: buses[0].bitRate: a number is expected here (write a number)`. */
export function faultLine(file: string, fault: DocumentFault): string {
  const where = fault.path.length > 0 ? `${pathText(fault.path)}: ` : '';
  const mend = fault.mend === null ? '' : ` (${fault.mend})`;
  return `${file}:${fault.line}:${fault.column}: ${where}${fault.message}${mend}`;
}
