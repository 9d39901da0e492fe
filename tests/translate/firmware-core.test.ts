import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { CORE_HEADER } from '../../src/translate/firmware/c/core-header.ts';
import { CORE_SOURCE } from '../../src/translate/firmware/c/core-source.ts';
import { WIDE_HEADER, WIDE_SOURCE } from '../../src/translate/firmware/c/wide.ts';
import { commentText, constantNames, prefixOf, stringLiteral } from '../../src/translate/firmware/names.ts';
import { findSanitizers } from './c-compilers.mjs';
import { SANITIZED, STRICT, call, scratch } from './firmware-rig.ts';

const compilers = findSanitizers();

/** Runs a program around the core; gives what it prints. */
function runC(main: string, input = ''): string {
  const folder = scratch();
  const files = {
    'xlc_core.h': CORE_HEADER,
    'xlc_core.c': CORE_SOURCE,
    'xlc_wide.h': WIDE_HEADER,
    'xlc_wide.c': WIDE_SOURCE,
    'main.c': main,
  };
  for (const [name, text] of Object.entries(files)) writeFileSync(join(folder, name), text);
  call(compilers[0]!, [...STRICT, ...SANITIZED, '-o', 'run', 'main.c', 'xlc_core.c', 'xlc_wide.c'], folder);
  return call(join(folder, 'run'), [], folder, input);
}

describe.skipIf(compilers.length === 0)('the core', () => {
  it('gives the check values of the codes over "123456789"', () => {
    // G. Cook, Catalogue of parametrised CRC algorithms; AUTOSAR CP SWS CRC Library (R22-11), 7.2.
    const checks = {
      crc8_sae_j1850: 0x4b,
      crc8_gsm_a: 0x37,
      crc8_autosar_h2f: 0xdf,
      crc16_ccitt_false: 0x29b1,
      crc16_arc: 0xbb3d,
      crc32_iso_hdlc: 0xcbf43926,
      crc32_autosar_p4: 0x1697d06a,
    };
    const rows = Array.from({ length: 9 }, (_, at) => `{${at}u, 255u, 0u}`);
    const out = runC(`#include "xlc_core.h"
#include <inttypes.h>
#include <stdio.h>
int main(void)
{
    static const xlc_covered all[] = {${rows.join(', ')}};
    const uint8_t text[] = {49u, 50u, 51u, 52u, 53u, 54u, 55u, 56u, 57u};
${Object.keys(checks)
  .map((name) => `    (void)printf("${name} %" PRIu32 "\\n", xlc_crc(&xlc_${name}, text, all, 9u));`)
  .join('\n')}
    (void)printf("xor %" PRIu32 " sum %" PRIu32 " nibbles %" PRIu32 "\\n", xlc_xor8(text, all, 9u),
                 xlc_sum8(text, all, 9u), xlc_nibble_sum(text, all, 9u));
    return 0;
}
`);
    // Exclusive or of 0x31 … 0x39 is 0x31; their sum is 477, modulo 256 221; nibbles: 9 × 3 + 45 = 72. Worked by hand.
    expect(out.trim().split('\n')).toEqual([
      ...Object.entries(checks).map(([name, value]) => `${name} ${value}`),
      'xor 49 sum 221 nibbles 72',
    ]);
  });

  it('divides integers of 128 bits as unbounded integers are divided', () => {
    const signed = fc.bigInt({ min: -(2n ** 120n), max: 2n ** 120n });
    const small = fc.bigInt({ min: -(2n ** 62n), max: 2n ** 62n });
    const cases = fc.sample(
      fc.record({
        a: fc.oneof(small, fc.constantFrom(0n, 1n, -1n)),
        b: fc.oneof(signed, small),
        d: fc.oneof(fc.bigInt({ min: 1n, max: 2n ** 100n }), fc.bigInt({ min: 1n, max: 7n })),
        x: fc.bigInt({ min: -(2n ** 57n), max: 2n ** 57n }),
      }),
      { numRuns: 3000, seed: 7 },
    );
    const words = (n: bigint): string => {
      const bits = BigInt.asUintN(128, n);
      return `${bits >> 64n} ${BigInt.asUintN(64, bits)}`;
    };
    const out = runC(
      `#include "xlc_wide.h"
#include <inttypes.h>
#include <stdio.h>
int main(void)
{
    xlc_wide a, b, d, x, y;
    while (scanf("%" SCNu64 "%" SCNu64 "%" SCNu64 "%" SCNu64 "%" SCNu64 "%" SCNu64 "%" SCNu64 "%" SCNu64, &a.high, &a.low,
                 &b.high, &b.low, &d.high, &d.low, &x.high, &x.low) == 8) {
        y = xlc_wide_divide(xlc_wide_add(xlc_wide_multiply(a, x), b), d);
        (void)printf("%" PRIu64 " %" PRIu64 " %d\\n", y.high, y.low, xlc_wide_at_most(b, x) ? 1 : 0);
    }
    return 0;
}
`,
      cases.map(({ a, b, d, x }) => [a, b, d, x].map(words).join(' ')).join('\n'),
    );
    const wanted = cases.map(({ a, b, d, x }) => {
      const n = a * x + b;
      // Nearest, halves away from zero, from the definition: sign · ⌊|n|/d + ½⌋.
      const size = ((n < 0n ? -n : n) * 2n + d) / (2n * d);
      return `${words(n < 0n ? -size : size)} ${b <= x ? 1 : 0}`;
    });
    expect(out.trim().split('\n')).toEqual(wanted);
  });
});

describe('names and texts of strangers', () => {
  const anything = fc.oneof(
    fc.string({ unit: 'binary', maxLength: 80 }),
    fc.string({ unit: fc.constantFrom('*', '/', '\\', '?', '\n', 'a', '"', '%', 'é', '_', '9'), maxLength: 60 }),
  );

  it('stay one comment: C99 6.4.9, 5.1.1.2 (joined lines), 5.2.1.1 (trigraphs)', () => {
    fc.assert(
      fc.property(anything, (text) => {
        const plain = commentText(text);
        expect(plain).not.toMatch(/\*\/|\/\*|\\|\?\?|[^\x20-\x7e]/);
      }),
    );
  });

  it('become identifiers: C99 6.4.2.1, first 31 letters of outer names', () => {
    fc.assert(
      fc.property(anything, (text) => {
        expect(prefixOf(text)).toMatch(/^[a-z][a-z0-9_]{0,13}$/);
        expect(prefixOf(text)).not.toMatch(/^xlc(_|$)/);
      }),
    );
    const name = constantNames();
    const made = ['a-b', 'a_b', 'A B', '', '…'].map((text) => name('X', text));
    expect(new Set(made).size).toBe(made.length);
    for (const constant of made) expect(constant).toMatch(/^[A-Z][A-Z0-9_]*$/);
  });

  it('stay one string that reads back as it was', () => {
    fc.assert(
      fc.property(anything, (text) => {
        const literal = stringLiteral(text);
        expect(literal).toMatch(/^"([A-Za-z0-9 _:+/.,=#()-]|\\[0-7]{3})*"$/);
        const bytes = [...literal.slice(1, -1).matchAll(/\\([0-7]{3})|(.)/g)].map(([, octal, letter]) =>
          octal === undefined ? letter!.charCodeAt(0) : Number.parseInt(octal, 8),
        );
        expect(Uint8Array.from(bytes)).toEqual(new TextEncoder().encode(text));
      }),
    );
  });
});
