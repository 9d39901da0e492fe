import type { Drawing, Paint, PathStep, Shape, Stroke } from './drawing.ts';
import { visibleText } from './visible-text.ts';

/** How a writer wants a drawing spelt: its colours and the names of its two faces. */
export interface SvgLook {
  readonly paint: (paint: Paint) => string;
  readonly sans: string;
  readonly mono: string;
  /** Rewrites a text before it is set, for a writer whose faces lack characters. */
  readonly text?: (text: string, face: 'sans' | 'mono') => string;
}

/** Height of the capitals of the sans and mono faces by their type size (DejaVu: 1493 / 2048 units). */
const CAPITAL_HEIGHT = 0.729;

/** Text made safe for XML content and attributes in double quotes. */
export function escapeXml(text: string): string {
  return text
    .replace(/&/g, '&amp;')
    .replace(/</g, '&lt;')
    .replace(/>/g, '&gt;')
    .replace(/"/g, '&quot;')
    .replace(/'/g, '&#39;');
}

function size(value: number): string {
  return String(Math.round(value * 1000) / 1000);
}

function strokeOf(stroke: Stroke | undefined, look: SvgLook): string {
  if (stroke === undefined) return 'stroke="none"';
  const dash = stroke.dash === undefined ? '' : ` stroke-dasharray="${stroke.dash.map(size).join(' ')}"`;
  return `stroke="${escapeXml(look.paint(stroke.paint))}" stroke-width="${size(stroke.width)}"${dash}`;
}

function fillOf(fill: Paint | undefined, look: SvgLook): string {
  return `fill="${fill === undefined ? 'none' : escapeXml(look.paint(fill))}"`;
}

function stepText(step: PathStep): string {
  return step.map((part) => (typeof part === 'number' ? size(part) : part)).join(' ');
}

function shapeSvg(shape: Shape, look: SvgLook): string {
  switch (shape.kind) {
    case 'line':
      return `<line x1="${size(shape.from.x)}" y1="${size(shape.from.y)}" x2="${size(shape.to.x)}" y2="${size(shape.to.y)}" ${strokeOf(shape.stroke, look)}/>`;
    case 'polyline': {
      const points = shape.points.map((point) => `${size(point.x)},${size(point.y)}`).join(' ');
      const tag = shape.closed === true ? 'polygon' : 'polyline';
      return `<${tag} points="${points}" ${fillOf(shape.fill, look)} ${strokeOf(shape.stroke, look)}/>`;
    }
    case 'rect': {
      const radius = shape.radius === undefined ? '' : ` rx="${size(shape.radius)}" ry="${size(shape.radius)}"`;
      return `<rect x="${size(shape.x)}" y="${size(shape.y)}" width="${size(shape.width)}" height="${size(shape.height)}"${radius} ${fillOf(shape.fill, look)} ${strokeOf(shape.stroke, look)}/>`;
    }
    case 'circle':
      return `<circle cx="${size(shape.centre.x)}" cy="${size(shape.centre.y)}" r="${size(shape.radius)}" ${fillOf(shape.fill, look)} ${strokeOf(shape.stroke, look)}/>`;
    case 'path':
      return `<path d="${shape.steps.map(stepText).join(' ')}" ${fillOf(shape.fill, look)} ${strokeOf(shape.stroke, look)}/>`;
    case 'text': {
      const face = shape.face ?? 'sans';
      const shown = visibleText(shape.text).replace(/\s+/g, ' ');
      const text = look.text === undefined ? shown : look.text(shown, face);
      const drop = shape.baseline === 'middle' ? (shape.size * CAPITAL_HEIGHT) / 2 : 0;
      const turn =
        shape.turnDegrees === undefined
          ? ''
          : ` transform="rotate(${size(shape.turnDegrees)} ${size(shape.at.x)} ${size(shape.at.y)})"`;
      const weight = shape.weight === 'bold' ? ' font-weight="bold"' : '';
      return `<text x="${size(shape.at.x)}" y="${size(shape.at.y + drop)}" font-family="${escapeXml(look[face])}" font-size="${size(shape.size)}"${weight} text-anchor="${shape.anchor ?? 'start'}" fill="${escapeXml(look.paint(shape.paint ?? 'ink'))}"${turn}>${escapeXml(text)}</text>`;
    }
    case 'group':
      return `<g transform="translate(${size(shape.shift.x)} ${size(shape.shift.y)})">${shape.shapes.map((inner) => shapeSvg(inner, look)).join('')}</g>`;
  }
}

/**
 * The drawing as an SVG element (W3C SVG 1.1 subset: no script, no link, no image, no style sheet).
 * Width and height carry no unit, the view box equals the drawing; the description is its title.
 */
export function drawingSvg(drawing: Drawing, look: SvgLook): string {
  const width = size(drawing.width);
  const height = size(drawing.height);
  return (
    `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}" viewBox="0 0 ${width} ${height}" role="img">` +
    `<title>${escapeXml(visibleText(drawing.description))}</title>` +
    drawing.shapes.map((shape) => shapeSvg(shape, look)).join('') +
    '</svg>'
  );
}
