/** A point of a drawing in mm; x to the right, y down. */
export interface DrawnPoint {
  readonly x: number;
  readonly y: number;
}

export type DrawnPaint = 'ink' | 'muted' | 'rule' | 'paper' | 'shade' | 'accent';

export interface DrawnStroke {
  readonly paint: DrawnPaint;
  readonly width: number;
  readonly dash?: readonly number[];
}

/** What a shape stands for, so that a window can select it. */
export interface ShapeSubject {
  readonly kind: 'node' | 'segment' | 'scale';
  readonly id: string;
}

/** Plain shapes in mm on paper; any page or window can draw them. */
export type DrawnShape = { readonly about: ShapeSubject } & (
  | { readonly kind: 'line'; readonly from: DrawnPoint; readonly to: DrawnPoint; readonly stroke: DrawnStroke }
  | {
      readonly kind: 'polyline';
      readonly points: readonly DrawnPoint[];
      readonly closed?: boolean;
      readonly stroke?: DrawnStroke;
      readonly fill?: DrawnPaint;
    }
  | {
      readonly kind: 'rect';
      readonly x: number;
      readonly y: number;
      readonly width: number;
      readonly height: number;
      readonly radius?: number;
      readonly stroke?: DrawnStroke;
      readonly fill?: DrawnPaint;
    }
  | {
      readonly kind: 'circle';
      readonly centre: DrawnPoint;
      readonly radius: number;
      readonly stroke?: DrawnStroke;
      readonly fill?: DrawnPaint;
    }
  | {
      readonly kind: 'text';
      readonly at: DrawnPoint;
      readonly text: string;
      readonly size: number;
      readonly anchor?: 'start' | 'middle' | 'end';
      readonly baseline?: 'alphabetic' | 'middle';
      readonly weight?: 'regular' | 'bold';
      readonly paint?: DrawnPaint;
    }
);
