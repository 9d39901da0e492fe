/** What the Start place shows. */
export interface StartView {
  readonly shows: 'home' | 'new-pairing';
}

export const FIRST_VIEW: StartView = { shows: 'home' };
