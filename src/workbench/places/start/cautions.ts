/** What a person is to know before a pairing is begun. Each with its source; none is legal advice. */
export const CAUTIONS: readonly { readonly text: string; readonly source: string }[] = [
  {
    text: 'A business may not knowingly make inoperative a device fitted for a federal safety standard; owners are subject to state law.',
    source: '49 USC 30122; agency letter',
  },
  {
    text: 'Engine changes need a certified configuration of the same or newer year with all its emission controls, or a documented reasonable basis; California has its own rules.',
    source: 'EPA engine switching fact sheet and 2020 policy',
  },
  {
    text: 'Check law of the market, weight class, year, inspection and insurance rules.',
    source: 'UN R39/R121, FMVSS (common practice)',
  },
];
