/** A point or vector in the plane, mm. */
export interface Point {
  readonly x: number;
  readonly y: number;
}

/** A point in space, mm. */
export interface Point3 extends Point {
  readonly z: number;
}

/** An upright rectangle, mm. */
export interface Box {
  readonly min: Point;
  readonly max: Point;
}

export const add = (a: Point, b: Point): Point => ({ x: a.x + b.x, y: a.y + b.y });
export const subtract = (a: Point, b: Point): Point => ({ x: a.x - b.x, y: a.y - b.y });
export const scale = (a: Point, k: number): Point => ({ x: a.x * k, y: a.y * k });
export const dot = (a: Point, b: Point): number => a.x * b.x + a.y * b.y;
/** Positive when b lies anticlockwise of a. */
export const cross = (a: Point, b: Point): number => a.x * b.y - a.y * b.x;
export const distance = (a: Point, b: Point): number => Math.hypot(a.x - b.x, a.y - b.y);
export const length = (a: Point): number => Math.hypot(a.x, a.y);
/** A quarter turn to the left. */
export const leftOf = (a: Point): Point => ({ x: -a.y, y: a.x });
/** Direction of unit length; a null vector stays null. */
export const unit = (a: Point): Point => {
  const l = length(a);
  return l === 0 ? a : { x: a.x / l, y: a.y / l };
};
/** The point at `angle` (radians) on the circle round `centre`. */
export const polar = (centre: Point, radius: number, angle: number): Point => ({
  x: centre.x + radius * Math.cos(angle),
  y: centre.y + radius * Math.sin(angle),
});
export const angleOf = (a: Point): number => Math.atan2(a.y, a.x);
export const midpoint = (a: Point, b: Point): Point => ({ x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 });
