/** Colours of the printed and shown documents. Contrast is held by a test against WCAG 2.2, success criterion 1.4.3. */
export interface Palette {
  readonly ink: string;
  readonly muted: string;
  readonly rule: string;
  readonly paper: string;
  /** Behind table headers and code. */
  readonly shade: string;
  /** Behind every other row. */
  readonly stripe: string;
  readonly accent: string;
  readonly stop: string;
  readonly stopShade: string;
  readonly caution: string;
  readonly cautionShade: string;
  /** Text on `stop` as a ground. */
  readonly onStop: string;
}

export const LIGHT: Palette = {
  ink: '#16202b',
  muted: '#4d5b69',
  rule: '#b9c3cd',
  paper: '#ffffff',
  shade: '#e7edf2',
  stripe: '#f5f7f9',
  accent: '#0a5876',
  stop: '#a8161c',
  stopShade: '#fcebea',
  caution: '#7a4a00',
  cautionShade: '#fff3da',
  onStop: '#ffffff',
};

export const DARK: Palette = {
  ink: '#e6ebf0',
  muted: '#a9b5c1',
  rule: '#46525e',
  paper: '#12181e',
  shade: '#222c35',
  stripe: '#182028',
  accent: '#7cc7e6',
  stop: '#ff9a93',
  stopShade: '#3b1719',
  caution: '#f2c069',
  cautionShade: '#33270f',
  onStop: '#2a0506',
};
