import { escapeXml, LIGHT } from '../../document/index.ts';

/** How a cell looks. Equal looks share one style of the workbook. */
export interface CellLook {
  readonly font: 'body' | 'bold' | 'title' | 'muted' | 'mono' | 'monoBold' | 'link' | 'mark';
  readonly fill?: 'shade' | 'mark' | 'stop' | 'caution';
  readonly align?: 'left' | 'right' | 'center';
  /** Digits after the decimal point of a number; left out for text. */
  readonly decimals?: number;
  readonly border?: 'header' | 'row';
  /** `over` lets a text run on over the empty cells beside it; left out, it wraps in its own. */
  readonly flow?: 'over';
}

const argb = (colour: string): string => `FF${colour.slice(1).toUpperCase()}`;

const SANS = 'Arial';
const MONO = 'Courier New';

interface Font {
  readonly name: string;
  readonly size: number;
  readonly colour: string;
  readonly weight?: 'bold';
  readonly line?: 'under';
}

const FONTS: Readonly<Record<CellLook['font'], Font>> = {
  body: { name: SANS, size: 9, colour: LIGHT.ink },
  bold: { name: SANS, size: 9, colour: LIGHT.ink, weight: 'bold' },
  title: { name: SANS, size: 14, colour: LIGHT.ink, weight: 'bold' },
  muted: { name: SANS, size: 9, colour: LIGHT.muted },
  mono: { name: MONO, size: 9, colour: LIGHT.ink },
  monoBold: { name: MONO, size: 9, colour: LIGHT.ink, weight: 'bold' },
  link: { name: SANS, size: 9, colour: LIGHT.accent, line: 'under' },
  mark: { name: SANS, size: 12, colour: LIGHT.onStop, weight: 'bold' },
};
const FONT_KEYS = Object.keys(FONTS) as readonly CellLook['font'][];

const FILLS: Readonly<Record<NonNullable<CellLook['fill']>, string>> = {
  shade: LIGHT.shade,
  mark: LIGHT.stop,
  stop: LIGHT.stopShade,
  caution: LIGHT.cautionShade,
};
const FILL_KEYS = Object.keys(FILLS) as readonly NonNullable<CellLook['fill']>[];

const BORDERS = ['header', 'row'] as const;
/** Number formats below 164 are built in (ECMA-376 part 1, 18.8.30). */
const FIRST_OWN_FORMAT = 164;

function fontXml(font: Font): string {
  return (
    `<font>${font.weight === 'bold' ? '<b/>' : ''}${font.line === 'under' ? '<u/>' : ''}<sz val="${font.size}"/>` +
    `<color rgb="${argb(font.colour)}"/><name val="${escapeXml(font.name)}"/><family val="${font.name === MONO ? 3 : 2}"/></font>`
  );
}

function fillXml(colour: string): string {
  return `<fill><patternFill patternType="solid"><fgColor rgb="${argb(colour)}"/><bgColor indexed="64"/></patternFill></fill>`;
}

function borderXml(kind: (typeof BORDERS)[number]): string {
  const style = kind === 'header' ? 'medium' : 'thin';
  const colour = kind === 'header' ? LIGHT.ink : LIGHT.rule;
  return `<border><left/><right/><top/><bottom style="${style}"><color rgb="${argb(colour)}"/></bottom><diagonal/></border>`;
}

/** Gathers the looks of a workbook: `style` gives the number of a look, `xml` the part xl/styles.xml. */
export interface StyleBook {
  readonly style: (look: CellLook) => number;
  readonly xml: () => string;
}

/** A fresh style book; style 0 is plain body text. Element order after ECMA-376 part 1, 18.8.39. */
export function styleBook(): StyleBook {
  const numbers = new Map<string, number>();
  const looks: CellLook[] = [];
  const decimals: number[] = [];
  const style = (look: CellLook): number => {
    const key = JSON.stringify([look.font, look.fill, look.align, look.decimals, look.border, look.flow]);
    const known = numbers.get(key);
    if (known !== undefined) return known;
    if (look.decimals !== undefined && !decimals.includes(look.decimals)) decimals.push(look.decimals);
    looks.push(look);
    numbers.set(key, looks.length - 1);
    return looks.length - 1;
  };
  style({ font: 'body' });

  const formatOf = (look: CellLook): number => {
    if (look.decimals === undefined) return 0;
    return FIRST_OWN_FORMAT + decimals.indexOf(look.decimals);
  };
  const lookXml = (look: CellLook): string => {
    const fill = look.fill === undefined ? 0 : 2 + FILL_KEYS.indexOf(look.fill);
    const border = look.border === undefined ? 0 : 1 + BORDERS.indexOf(look.border);
    const wrap = look.decimals === undefined && look.flow === undefined ? ' wrapText="1"' : '';
    const align = look.align === undefined ? '' : ` horizontal="${look.align}"`;
    return (
      `<xf numFmtId="${formatOf(look)}" fontId="${FONT_KEYS.indexOf(look.font)}" fillId="${fill}" borderId="${border}" xfId="0"` +
      ` applyNumberFormat="1" applyFont="1" applyFill="1" applyBorder="1" applyAlignment="1">` +
      `<alignment${align} vertical="top"${wrap}/></xf>`
    );
  };
  const list = (tag: string, parts: readonly string[]): string =>
    `<${tag} count="${parts.length}">${parts.join('')}</${tag}>`;
  return {
    style,
    xml: () =>
      '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n' +
      '<styleSheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">' +
      (decimals.length === 0
        ? ''
        : list(
            'numFmts',
            decimals.map((digits, at) => {
              const code = digits === 0 ? '0' : `0.${'0'.repeat(digits)}`;
              return `<numFmt numFmtId="${FIRST_OWN_FORMAT + at}" formatCode="${code}"/>`;
            }),
          )) +
      list(
        'fonts',
        FONT_KEYS.map((key) => fontXml(FONTS[key])),
      ) +
      list('fills', [
        '<fill><patternFill patternType="none"/></fill>',
        '<fill><patternFill patternType="gray125"/></fill>',
        ...FILL_KEYS.map((key) => fillXml(FILLS[key])),
      ]) +
      list('borders', ['<border><left/><right/><top/><bottom/><diagonal/></border>', ...BORDERS.map(borderXml)]) +
      '<cellStyleXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0"/></cellStyleXfs>' +
      list('cellXfs', looks.map(lookXml)) +
      '<cellStyles count="1"><cellStyle name="Normal" xfId="0" builtinId="0"/></cellStyles>' +
      '</styleSheet>',
  };
}
