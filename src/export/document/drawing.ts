/**
 * A small vector drawing: enough for a connector face, a bit layout, a drawn harness. One model, so that the window,
 * the page and the paper show the same lines. Units are the drawing's own; x to the right, y down, from the top left.
 */

/** A named colour follows the page (light, dark, paper); a `#rrggbb` stays, for the colour of a conductor. */
export type Paint = 'ink' | 'muted' | 'rule' | 'paper' | 'shade' | 'accent' | 'stop' | 'caution' | `#${string}`;

/** How an outline is drawn. `width` in drawing units; `dash` lengths of line and gap in turn. */
export interface Stroke {
  readonly paint: Paint;
  readonly width: number;
  readonly dash?: readonly number[];
}

/** A step of a path, absolute coordinates: move, line, quadratic, cubic, elliptic arc, close. */
export type PathStep =
  | readonly ['M', number, number]
  | readonly ['L', number, number]
  | readonly ['Q', number, number, number, number]
  | readonly ['C', number, number, number, number, number, number]
  | readonly ['A', number, number, number, 0 | 1, 0 | 1, number, number]
  | readonly ['Z'];

export type Shape =
  | { readonly kind: 'line'; readonly from: Point; readonly to: Point; readonly stroke: Stroke }
  | {
      readonly kind: 'polyline';
      readonly points: readonly Point[];
      readonly closed?: boolean;
      readonly stroke?: Stroke;
      readonly fill?: Paint;
    }
  | {
      readonly kind: 'rect';
      readonly x: number;
      readonly y: number;
      readonly width: number;
      readonly height: number;
      readonly radius?: number;
      readonly stroke?: Stroke;
      readonly fill?: Paint;
    }
  | {
      readonly kind: 'circle';
      readonly centre: Point;
      readonly radius: number;
      readonly stroke?: Stroke;
      readonly fill?: Paint;
    }
  | { readonly kind: 'path'; readonly steps: readonly PathStep[]; readonly stroke?: Stroke; readonly fill?: Paint }
  | {
      readonly kind: 'text';
      /** Where the baseline starts, has its middle or ends, by `anchor`. */
      readonly at: Point;
      readonly text: string;
      /** Height of the type in drawing units. */
      readonly size: number;
      readonly anchor?: 'start' | 'middle' | 'end';
      /** `middle` puts the middle of the capitals on `at`, as the label of a box wants it. */
      readonly baseline?: 'alphabetic' | 'middle';
      readonly face?: 'sans' | 'mono';
      readonly weight?: 'regular' | 'bold';
      readonly paint?: Paint;
      /** Clockwise, around `at`. */
      readonly turnDegrees?: number;
    }
  | { readonly kind: 'group'; readonly shift: Point; readonly shapes: readonly Shape[] };

export interface Point {
  readonly x: number;
  readonly y: number;
}

export interface Drawing {
  readonly width: number;
  readonly height: number;
  /** Size of one unit on paper at full size; a drawing larger than the page is shrunk to it, never cut. */
  readonly unitMm: number;
  /** What the drawing shows, in words, for who cannot see it. */
  readonly description: string;
  readonly shapes: readonly Shape[];
}
