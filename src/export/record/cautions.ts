/** Where a caution stands, by kind of document or row. */
export type CautionPlace =
  | 'every export'
  | 'safety rows'
  | 'start page'
  | 'vehicle-speed rows'
  | 'translation spec'
  | 'variants page'
  | 'wiring spec'
  | 'every row'
  | 'commissioning sheet';

export interface StandingCaution {
  readonly id: string;
  readonly text: string;
  readonly where: CautionPlace;
  readonly source: string;
}

/** The cautions that hand-over documents carry, each at its place. Sources as named; where it says so, common practice. */
export const CAUTIONS: readonly StandingCaution[] = [
  {
    id: 'planning-aid',
    text: 'Planning aid only. A qualified person must review, bench-test and road-test; nothing here certifies the vehicle. Local codes, the vehicle makers’ documents and licensed practice come first.',
    where: 'every export',
    source: 'common practice',
  },
  {
    id: 'no-bypass',
    text: 'Do not disable, bypass or imitate an interlock, airbag, brake, stability, immobilizer or emission function.',
    where: 'safety rows',
    source: '49 USC 30122(b); 42 USC 7522(a)(3); 49 CFR 571.114',
  },
  {
    id: 'make-inoperative',
    text: 'A business may not knowingly make inoperative a device fitted for a federal safety standard; owners are subject to state law.',
    where: 'start page',
    source: '49 USC 30122; agency letter',
  },
  {
    id: 'engine-change',
    text: 'Engine changes need a certified configuration of the same or newer year with all its emission controls, or a documented reasonable basis; California has its own rules.',
    where: 'start page',
    source: 'EPA engine switching fact sheet and 2020 policy',
  },
  {
    id: 'odometer',
    text: 'The odometer must register actual mileage; record the change on the door frame if it cannot.',
    where: 'vehicle-speed rows',
    source: '49 USC 32703, 32704',
  },
  {
    id: 'no-integrity-level',
    text: 'What the interface module sends is no evidence of functional safety; no automotive safety integrity level is claimed.',
    where: 'translation spec',
    source: 'ISO 26262; common practice',
  },
  {
    id: 'calibration',
    text: 'Nothing may depend on altered calibration in retained modules; an update restores factory software.',
    where: 'variants page',
    source: 'common practice',
  },
  {
    id: 'restraint',
    text: 'Airbag circuits: do not probe or splice.',
    where: 'wiring spec',
    source: 'common practice',
  },
  {
    id: 'battery',
    text: 'Disconnect the battery and isolate high-voltage systems before work; high voltage is out of scope.',
    where: 'wiring spec',
    source: 'common practice',
  },
  {
    id: 'assumed',
    text: 'Values marked as assumed or from memory must be verified on the vehicle.',
    where: 'every row',
    source: 'common practice',
  },
  {
    id: 'local-law',
    text: 'Check the law of the market, weight class and year, and the rules of inspection and insurance.',
    where: 'start page',
    source: 'UN R39, UN R121, FMVSS; common practice',
  },
  {
    id: 'first-start',
    text: 'First start: starter proved disabled in every drive range, fire extinguisher at hand, driven wheels off the ground, kill switch within reach.',
    where: 'commissioning sheet',
    source: 'common practice',
  },
];

/** The cautions of the given places, in the order of the places. */
export function cautionsAt(...places: readonly CautionPlace[]): readonly StandingCaution[] {
  return places.flatMap((place) => CAUTIONS.filter(({ where }) => where === place));
}

/** The text of one caution. */
export function cautionText(place: CautionPlace): string {
  return cautionsAt(place)
    .map(({ text }) => text)
    .join(' ');
}
