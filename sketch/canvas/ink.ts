/** What a line or a patch on the sheet is for. Hues live in sketch/view/roles.css under the same names. */
export type Role =
  | 'paper'
  | 'ink'
  | 'soft'
  | 'faint'
  | 'picked'
  | 'picked-wash'
  | 'warning'
  | 'metal'
  | 'body'
  | 'jaw'
  | `depth-${0 | 1 | 2 | 3 | 4 | 5 | 6 | 7}`;

/** Steps of the one hue that says how deep, lightest (untouched) to darkest (right through). */
export const DEPTH_STEPS = 8;

/** Line weights in pixels, in the two-to-one ratio of ISO 128. */
export const WEIGHT = { heavy: 2.4, thin: 1.2, hair: 0.8, release: 4 } as const;
export type Weight = keyof typeof WEIGHT;

/** Dash patterns in pixels after ISO 128: hidden short dashes, centre chain; rapids are ours. */
export const DASH = {
  solid: [],
  hidden: [10, 3],
  centre: [20, 3, 2, 3],
  rapid: [3, 4],
  phantom: [20, 3, 2, 3, 2, 3],
} as const;
export type Dash = keyof typeof DASH;

export interface Stroke {
  readonly role: Role;
  readonly weight: Weight;
  readonly dash?: Dash;
}

export const OUTLINE: Stroke = { role: 'ink', weight: 'heavy' };
export const THIN: Stroke = { role: 'ink', weight: 'thin' };
export const HIDDEN: Stroke = { role: 'ink', weight: 'thin', dash: 'hidden' };
export const CENTRE: Stroke = { role: 'soft', weight: 'thin', dash: 'centre' };
export const CONSTRUCTION: Stroke = { role: 'soft', weight: 'hair', dash: 'phantom' };
export const DIMENSION: Stroke = { role: 'soft', weight: 'hair' };
export const PICKED: Stroke = { role: 'picked', weight: 'heavy' };

export const LETTERING =
  '"Bahnschrift", "DIN Alternate", "Liberation Sans Narrow", "Arial Narrow", "Noto Sans", sans-serif';
/** Lettering on the sheet, pixels. */
export const LETTER_HEIGHT = 16;

let dish: CanvasRenderingContext2D | null = null;
const mixed = new Map<string, string>();

/** Any colour of the style sheet as six figures: where the system wishes for its own, roles are names and mixtures. */
const sixFigures = (colour: string): string => {
  const known = mixed.get(colour);
  if (known !== undefined) return known;
  dish ??= document.createElement('canvas').getContext('2d', { willReadFrequently: true });
  if (!dish) return colour;
  dish.fillStyle = colour;
  dish.fillRect(0, 0, 1, 1);
  const [r = 0, g = 0, b = 0] = dish.getImageData(0, 0, 1, 1).data;
  const hex = `#${[r, g, b].map((v) => v.toString(16).padStart(2, '0')).join('')}`;
  // The system's colours may change under the same name.
  if (colour.includes('#')) mixed.set(colour, hex);
  return hex;
};

/** Reads the present hue of a role from the page's style sheet, as `#` and six figures. */
export const hueOf = (role: Role): string => {
  const value = getComputedStyle(document.documentElement).getPropertyValue(`--${role}`).trim();
  return /^#[0-9a-f]{6}$/i.test(value) ? value : sixFigures(value);
};
