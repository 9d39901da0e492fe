/** Units of vehicle databases: the table, the spellings, exact conversion. Imports ../number only. */
export { type Dimension, dimensionOf, dimensionText, sameDimension } from './dimension.ts';
export { type Quantity, type QuantityName, QUANTITIES, RECIPROCAL_QUANTITIES } from './quantity.ts';
export { type Unit, UNITS, unitByCode, unitSymbol } from './table/index.ts';
export { type FoundUnit, ambiguousUnit, findUnit } from './find.ts';
export { type AmbiguousUnit, AMBIGUOUS } from './ambiguous.ts';
export { type Conversion, type NoConversion, conversionBetween, convertExact } from './conversion.ts';
export { likelySlip } from './likely-slip.ts';
