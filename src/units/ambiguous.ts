/**
 * Texts that vehicle files use for two different things. They are never codes of ours and never resolve: a person chooses among
 * the candidates once, and the document then holds a code that reads one way only.
 */
export interface AmbiguousUnit {
  readonly text: string;
  readonly candidates: readonly string[];
  readonly why: string;
}

export const AMBIGUOUS: readonly AmbiguousUnit[] = [
  {
    text: 'C',
    candidates: ['Cel', 'A.s'],
    why: 'C is degree Celsius in most vehicle files and coulomb in the SI and UCUM',
  },
  {
    text: 'F',
    candidates: ['[degF]'],
    why: 'F is degree Fahrenheit in some vehicle files and farad in the SI and UCUM',
  },
  { text: 'g', candidates: ['[g]', 'g{mass}'], why: 'g is free fall for accelerations and gram for masses' },
  { text: 'S', candidates: ['s', 'mS'], why: 'S is siemens in the SI and often stands for second in upper-case files' },
  { text: 'H', candidates: ['h', 'mH'], why: 'H is henry in the SI and often stands for hour in upper-case files' },
  { text: 'T', candidates: ['t', 'mT'], why: 'T is tesla in the SI and often stands for tonne in upper-case files' },
  { text: 'M', candidates: ['m', 'min'], why: 'M is no unit; it may stand for metre, minute or month' },
  { text: 'k', candidates: ['K', 'kOhm'], why: 'k is no unit; it may stand for kelvin, kilohm or a thousand' },
  {
    text: 'nm',
    candidates: ['N.m', '[nmi_i]'],
    why: 'nm is nanometre in the SI and may stand for newton metre or nautical mile',
  },
  { text: 'NM', candidates: ['N.m', '[nmi_i]'], why: 'NM may stand for newton metre or nautical mile' },
  { text: 'ton', candidates: ['t', '[ston_av]', '[lton_av]'], why: 'a ton is 1000 kg, 2000 lb or 2240 lb' },
  { text: 'tons', candidates: ['t', '[ston_av]', '[lton_av]'], why: 'a ton is 1000 kg, 2000 lb or 2240 lb' },
  { text: 'B', candidates: ['By', 'dB'], why: 'B is byte in computing and bel in the SI' },
  { text: '\uFFFDF', candidates: ['[degF]', 'uF'], why: 'the first character was lost: it may have been ° or µ' },
];
