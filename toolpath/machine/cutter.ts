/** A tool that goes in the spindle, or a hand tap. Lengths in mm. */
export interface Cutter {
  /** The name the owner knows it by; unique in the machine profile. */
  readonly name: string;
  readonly number: number;
  readonly kind: 'endmill' | 'drill' | 'reamer' | 'spot' | 'tap';
  readonly diameter: number;
  readonly flutes: number;
  /** How deep it can cut beside itself. */
  readonly fluteLength: number;
  readonly material: 'high-speed steel' | 'carbide';
  /** Point angle in radians for drills (118° common) and spots (90° common); π is flat. */
  readonly pointAngle: number;
  /** Whether an endmill may plunge straight down (centre cutting); steepest ramp in radians. */
  readonly plunge: { readonly straight: boolean; readonly ramp: number };
  /** Thread designation for a tap. */
  readonly designation?: string;
}

/** Height of a pointed tool's cone, mm: how far full diameter stays above the tip. */
export const pointHeight = (c: Pick<Cutter, 'diameter' | 'pointAngle'>): number =>
  c.pointAngle >= Math.PI - 1e-9 ? 0 : c.diameter / 2 / Math.tan(c.pointAngle / 2);
