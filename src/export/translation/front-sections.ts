import type { Block, Section } from '../document/index.ts';
import { strong } from '../document/index.ts';
import { buildBlocks, cautionTable, cautionsAt } from '../record/index.ts';
import type { Translation } from './translation.ts';

/** Conventions: bits, numbers, rounding, what a route is, what an open item looks like. */
export function howToRead(translation: Translation): Section {
  const caution: readonly Block[] = cautionsAt('every row').map(({ text }) => ({
    kind: 'caution',
    tone: 'note',
    text,
  }));
  return {
    id: 'how-to-read',
    title: 'How to read this',
    startsPage: true,
    intro:
      'This spec says what the firmware of the interface modules receives, what it makes of it and what it sends. Everything in it is computed from the map and both platforms; what they do not say reads “to be decided” and stands under Open items.',
    blocks: [
      {
        kind: 'list',
        style: 'bullet',
        entries: [
          [
            strong('Bits. '),
            'Bit 8 · byte + n has the weight 2ⁿ in its byte; byte 0 is sent first. The start bit of a little-endian field is its least significant bit, of a big-endian field its most significant bit. Every figure marks the most significant bit M and the least L.',
          ],
          [
            strong('Numbers. '),
            'physical = factor · raw + offset. Signed fields are two’s complement. Factors and offsets stand as exact decimals or fractions.',
          ],
          [
            strong('Rounding. '),
            'physical → raw is round(x): to the nearest whole number, halves away from zero; then kept within the usable raw values. A value never lands on a raw value that means not available or error.',
          ],
          [
            strong('As integers. '),
            '(A · s1 + B) div C is integer arithmetic on raw values; div rounds to the nearest integer, halves away from zero. Both forms write the same raw value.',
          ],
          [
            strong('Order. '),
            'The lines of a formula are done from top to bottom, multiplication before addition. Steps act on exact values: nothing is rounded between them.',
          ],
          [
            strong('Units. '),
            'Tables give UCUM codes, sentences their symbols. Times are milliseconds unless another unit stands beside them.',
          ],
          [
            strong('Special raw values. '),
            'Not available: the sender has no value. Error: it knows that its value is wrong. Neither is ever converted as a number.',
          ],
          [
            strong('Loss. '),
            'A source is lost when its message has not arrived for the stale limit, or when it fails its counter or checksum where the route verifies them. Recovery needs the stated count of good samples in a row.',
          ],
          [
            strong('Carriers. '),
            'Hard wire: a conductor end to end; the firmware has no part in it and must not try to. Bus: the frame is relayed as it is. Interface: through this firmware.',
          ],
          ...(translation.scope.several
            ? [
                [
                  strong('Builds. '),
                  'Where a table has a column “Builds”, a row is there in those builds only; all means in every build covered.',
                ],
              ]
            : []),
        ],
      },
      ...caution,
      cautionTable(),
    ],
  };
}

export function buildsSection({ pairing, scope }: Translation): Section {
  return { id: 'builds', title: 'Builds and calibration', startsPage: true, blocks: buildBlocks(pairing, scope) };
}
