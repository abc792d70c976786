import type { Fit, LeftOut, UnitQuestion } from '../exchange/drawing.ts';
import type { Material, Unit } from '../part/part.ts';
import type { PartDocument } from '../part/schema.ts';
import type { Segment } from '../shape/segment.ts';

/** What the page asks of the worker that reads drawings. */
export interface DrawingAsk {
  readonly ticket: number;
  readonly file: File;
  readonly form: 'dxf' | 'svg';
  /** Length of one unit of the file, mm; what the file says when null. */
  readonly mmPerUnit: number | null;
  /** mm. */
  readonly tolerance: number;
}

/** A drawing that was read, and what was recognised in it. */
export interface ReadDrawing {
  readonly kind: 'read';
  readonly unit: Unit;
  readonly mmPerUnit: number;
  /** Size, mm. */
  readonly width: number;
  readonly height: number;
  readonly fit: Fit;
  /** The part, but for its name, thickness and material; null when the outline is not plain enough. */
  readonly document: PartDocument | null;
  readonly became: readonly LeftOut[];
  readonly leftOut: readonly LeftOut[];
  /** Area between the drawn and the recognised outline, mm². */
  readonly areaOff: number | null;
  readonly messages: readonly string[];
  /** The recognised part in plan as SVG. */
  readonly picture: string | null;
  /** The drawing's own lines and arcs about its middle, to be drawn over; none when there are too many to be shown. */
  readonly lines: readonly Segment[];
}

export type DrawingAnswer =
  | ReadDrawing
  | { readonly kind: 'question'; readonly question: UnitQuestion; readonly messages: readonly string[] }
  | { readonly kind: 'refused'; readonly messages: readonly string[] };

export interface DrawingReply {
  readonly ticket: number;
  readonly answer: DrawingAnswer;
}

/** What a drawing in plan does not say; the thickness in the part's unit. */
export interface Unsaid {
  readonly name: string;
  readonly thickness: number;
  readonly material: Material;
}

/** The recognised part with what the drawing does not say. */
export const completed = (document: PartDocument, unsaid: Unsaid): PartDocument => {
  const name = unsaid.name.replace(/\s+/g, ' ').trim().slice(0, 120);
  return {
    ...document,
    name: name === '' ? document.name : name,
    bar: { ...document.bar, thickness: unsaid.thickness, material: unsaid.material },
  };
};
