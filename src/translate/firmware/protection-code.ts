import { crcCodeOf, firstCount } from '../../can/index.ts';
import type { ChecksumPlan, PlannedTransmit, VerifyPlan } from '../plan/types.ts';
import { crcName } from './c/crc.ts';
import { readBits, wordType, writeBits } from './field-code.ts';

/** The table of the bytes a checksum covers, by name. */
export function coveredTable(name: string, { input }: ChecksumPlan): string[] {
  const rows = input.map((part) =>
    'fixed' in part ? `{0u, 0u, ${part.fixed}u}` : `{${part.byte}u, ${part.mask}u, 0u}`,
  );
  return [`static const xlc_covered ${name}[] = {${rows.length === 0 ? '{0u, 0u, 0u}' : rows.join(', ')}};`];
}

/** The checksum of `data`, cut to its field, as a uint32_t expression. */
export function checksumExpression({ algorithm, field, input }: ChecksumPlan, table: string, data: string): string {
  const rest = `${data}, ${table}, ${input.length}u)`;
  const sum = (): string => {
    switch (algorithm) {
      case 'xor8':
        return `xlc_xor8(${rest}`;
      case 'sum8':
        return `xlc_sum8(${rest}`;
      case 'nibble-sum':
        return `xlc_nibble_sum(${rest}`;
      default:
        return `xlc_crc(&${crcName(algorithm)}, ${rest}`;
    }
  };
  const width = crcCodeOf(algorithm)?.width ?? 8;
  return field.length < width ? `(${sum()} & ${2 ** field.length - 1}u)` : sum();
}

/** Statements that return false for a frame that is corrupted or frozen; `state` names the members that keep the last count. */
export function verifyCode(
  { counter, checksum }: VerifyPlan,
  table: string,
  state: { readonly count: string; readonly counted: string },
): string[] {
  const lines: string[] = [];
  if (checksum !== null) {
    lines.push(
      `if (${checksumExpression(checksum, table, 'data')} != (${readBits(checksum.field, 'data')})) {`,
      '    return false;',
      '}',
    );
  }
  if (counter !== null) {
    const { modulo, skips = [] } = counter.spec;
    const wrong = [`count >= ${modulo}u`, ...skips.map((value) => `count == ${value}u`)].join(' || ');
    lines.push(
      `const ${wordType(counter.bits)} count = ${readBits(counter.bits, 'data')};`,
      `if (${wrong} || (${state.counted} && count == ${state.count})) {`,
      '    return false;',
      '}',
      `${state.count} = (uint32_t)count;`,
      `${state.counted} = true;`,
    );
  }
  return lines;
}

/** Statements that put the next count and then the checksum into `sending`; `count` names the member that keeps the next count. */
export function protectCode({ counter, checksum }: PlannedTransmit, table: string, count: string): string[] {
  const lines: string[] = [];
  if (counter !== null) {
    const { modulo, skips = [] } = counter.spec;
    lines.push(...writeBits(counter.bits, 'sending', `(uint64_t)${count}`));
    const next = `${count} = ${count} + 1u >= ${modulo}u ? 0u : ${count} + 1u;`;
    if (skips.length === 0) lines.push(next);
    else
      lines.push(
        'do {',
        `    ${next}`,
        `} while (${[...new Set(skips)].map((value) => `${count} == ${value}u`).join(' || ')});`,
      );
  }
  if (checksum !== null) {
    lines.push(
      `raw = ${checksumExpression(checksum, table, 'sending')};`,
      ...writeBits(checksum.field, 'sending', 'raw'),
    );
  }
  return lines;
}

/** The count that is sent first. */
export function firstCountOf({ counter }: PlannedTransmit): number {
  return counter === null ? 0 : firstCount(counter.spec);
}
